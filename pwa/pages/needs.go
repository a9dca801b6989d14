package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/site"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// needList names each thing that is still missing, why it is needed, and the way to it. place begins its data-act.
func needList(place string, needs []state.Need) app.UI {
	return app.Ol().Class("steps").Body(app.Range(needs).Slice(func(i int) app.UI {
		n := needs[i]
		return app.Li().Body(
			app.P().Body(app.Strong().Text(words.Text(n.Head()+" ")), app.Span().Text(words.Text(n.Why))),
			&widgets.BigButton{Act: place + "-need-" + n.Act, Label: n.Label, OnPress: followNeed(n)})
	}))
}

// followNeed sends the message, and goes to Rig where a form opens.
func followNeed(n state.Need) func(app.Context) {
	return func(ctx app.Context) {
		action.Post(ctx, n.Msg)
		if !n.Stays {
			ctx.Navigate(site.At("/rig"))
		}
	}
}
