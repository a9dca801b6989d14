package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/widgets"
)

func soon(first string, more ...string) app.UI {
	return widgets.Card("",
		app.P().Class("soon").Body(widgets.MarkShape(widgets.MarkNote), app.Strong().Class("word").Text(words.Text(first))),
		app.Range(more).Slice(func(i int) app.UI { return app.P().Text(words.Text(more[i])) }))
}

// NoSuchPage leads on from an address that is none of ours.
func NoSuchPage(path string) app.UI {
	return widgets.Page("Where do you want to go?",
		widgets.Card("No such page", app.P().DataSet("act", "no-such-page").Text(words.S("There is nothing at %s. The five places below all work.", path))))
}

// Opening is shown until the store is read.
func Opening() app.UI {
	return widgets.Page("One moment", app.P().Role("status").DataSet("val", "opening").Text(words.Text("Opening what is saved on this device …")))
}

// Unsafe is the set-up page of an address at which nothing may be stored.
func Unsafe(why string) app.UI {
	steps := []string{
		"On the machine that runs Torchside itself: open localhost:8080 there.",
		"On a phone: the address must begin with https: and its certificate must be trusted. Start Torchside with --tls-local; it makes its own authority and shows, under /ca, how to trust it on a phone.",
		"With a certificate of your own: start it with --tls-cert and --tls-key.",
		"Choose the address before the first entry: what is stored at one address is not seen at another.",
	}
	return widgets.Page("How do you reach this app safely?",
		widgets.Card("", app.P().Class("soon").DataSet("act", "unsafe").Body(widgets.MarkShape(widgets.MarkStop),
			app.Strong().Class("word").Text(words.S("%s Nothing is stored here.", why))),
			app.P().Text(words.Text("Without trusted HTTPS, or localhost, a browser keeps no app for use without a network, and what you enter would be stranded when the address changes."))),
		widgets.Card("What to do", app.Ol().Class("steps").Body(
			app.Range(steps).Slice(func(i int) app.UI { return app.Li().Text(words.Text(steps[i])) }))))
}
