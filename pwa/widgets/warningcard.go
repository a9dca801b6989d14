package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/present"
)

// WarningCard shows one caution, check or note: shape, word, text, source.
func WarningCard(w present.Warning) app.UI {
	return app.Div().Class("warning", "level-"+w.Level).Role("note").DataSet("warning", w.Code).Body(
		MarkShape(Mark(w.Level)),
		app.P().Class("warning-body").Body(
			app.Strong().Class("word").Text(w.Word+"."),
			app.Text(" "),
			app.Span().Class("warning-text").Text(w.Text),
			app.If(w.Source != "", func() app.UI {
				return app.Span().Class("warning-source").Text(" Source: " + w.Source + ".")
			}),
		),
	)
}

// WarningList shows warnings one below the other; none for an empty list.
func WarningList(list []present.Warning) app.UI {
	return app.If(len(list) > 0, func() app.UI {
		return app.Div().Class("warnings").Body(
			app.Range(list).Slice(func(i int) app.UI { return WarningCard(list[i]) }))
	})
}

// WarningDrawer keeps the lesser warnings behind a line that names how many there are.
func WarningDrawer(act, title string, list []present.Warning) app.UI {
	return app.If(len(list) > 0, func() app.UI {
		return app.Details().Class("drawer").Body(
			app.Summary().Class("drawer-head").DataSet("act", act).Body(
				MarkShape(MarkCheck), app.Span().Text("Before you light: "+title)),
			WarningList(list))
	})
}
