package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
	"torchside/pwa/site"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// splits lists what was changed in two places, with the way to where it is chosen. Nothing is lost while nobody chooses.
func splits(s state.Splits) app.UI {
	return app.If(s.Count() > 0, func() app.UI {
		links := append(append([]state.Split{}, s.Rig...), s.Journal...)
		rest := s.Sheets - len(s.Journal)
		return widgets.Card("Changed in two places",
			app.P().DataSet("val", "split-count").Text(words.S("%s to choose. Every version is kept until you do, and in the history afterwards.", itoa(s.Count()))),
			app.Range(links).Slice(func(i int) app.UI {
				return app.A().Class("big", "big-plain").DataSet("act", "split-"+links[i].ID).Href(site.At(links[i].Path)).Body(
					app.Span().Class("big-label").Dir("auto").Text(words.Text("◆ " + links[i].Title)))
			}),
			app.If(rest > 0, func() app.UI {
				return app.P().Class("quiet").Text(words.S("And %s older sheets: they follow when these are settled.", itoa(rest)))
			}),
			app.Range(s.Other).Slice(func(i int) app.UI { return splitHere(s.Other[i]) }))
	})
}

// splitHere offers the versions of what has no page to choose on.
func splitHere(s state.Split) app.UI {
	return app.Div().Class("version").Body(
		app.P().Text(words.Text(s.Title)),
		app.Range(s.Versions).Slice(func(i int) app.UI {
			v := s.Versions[i]
			return &widgets.BigButton{Act: "split-keep-" + v.Op, Label: words.S("Keep the one of %s", present.Written(v.At)), Note: v.Lines[0], OnPress: post(state.SplitKept{ID: s.ID, Op: v.Op})}
		}))
}
