package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/present"
)

// WarningList shows warnings before a number: the cautions in one box with their full text, each check and note on a line of
// its own. A tap on a box shows the sources, a tap on a line the rest of it.
func WarningList(list []present.Warning) app.UI {
	return app.If(len(list) > 0, func() app.UI {
		cautions, others := split(list)
		return app.Div().Class("warnings").Body(
			cautionBox(cautions),
			app.Range(others).Slice(func(i int) app.UI { return warningLine(others[i]) }))
	})
}

func split(list []present.Warning) (cautions, others []present.Warning) {
	for _, w := range list {
		if w.Level == string(MarkCaution) {
			cautions = append(cautions, w)
		} else {
			others = append(others, w)
		}
	}
	return cautions, others
}

// cautionBox keeps the texts in sight; only the sources are behind a tap.
func cautionBox(list []present.Warning) app.UI {
	return app.If(len(list) > 0, func() app.UI {
		return app.Details().Class("warning", "level-caution").Role("note").Body(
			app.Summary().Class("warning-head").Body(
				MarkShape(MarkCaution),
				app.Div().Class("warning-body").Body(
					app.Range(list).Slice(func(i int) app.UI {
						return app.P().DataSet("warning", list[i].Code).Body(
							app.If(i == 0, func() app.UI { return app.Strong().Class("word").Text(list[i].Word + ". ") }),
							app.Span().Class("warning-text").Text(list[i].Text))
					})),
				app.Span().Class("more").Aria("hidden", "true"),
			),
			app.Ul().Class("sources").Body(app.Range(list).Slice(func(i int) app.UI { return source(list[i]) })),
		)
	})
}

// warningLine is a check or a note, cut to one line until it is opened.
func warningLine(w present.Warning) app.UI {
	return app.Details().Class("warning", "warning-line", "level-"+w.Level).Role("note").Body(
		app.Summary().Class("warning-head").DataSet("warning", w.Code).Body(
			MarkShape(Mark(w.Level)),
			app.P().Class("warning-body").Body(
				app.Strong().Class("word").Text(w.Word+". "), app.Span().Class("warning-text").Text(w.Text)),
			app.Span().Class("more").Aria("hidden", "true"),
		),
		app.Ul().Class("sources").Body(source(w)),
	)
}

func source(w present.Warning) app.UI { return app.Li().Text("Source: " + w.Source + ".") }

// WarningCard shows one warning with its source in sight.
func WarningCard(w present.Warning) app.UI {
	return app.Div().Class("warning", "warning-card", "level-"+w.Level).Role("note").DataSet("warning", w.Code).Body(
		MarkShape(Mark(w.Level)),
		app.P().Class("warning-body").Body(
			app.Strong().Class("word").Text(w.Word+". "),
			app.Span().Class("warning-text").Text(w.Text),
			app.If(w.Source != "", func() app.UI {
				return app.Span().Class("warning-source").Text(" Source: " + w.Source + ".")
			}),
		),
	)
}

// WarningDrawer keeps what concerns the work as a whole behind a line that names how much there is.
func WarningDrawer(act, title string, list []present.Warning) app.UI {
	return app.If(len(list) > 0, func() app.UI {
		return app.Details().Class("drawer", "level-"+list[0].Level).Body(
			app.Summary().Class("drawer-head").DataSet("act", act).Body(
				MarkShape(Mark(list[0].Level)), app.Span().Class("drawer-title").Text(title+" first"), app.Span().Class("more").Aria("hidden", "true")),
			app.Div().Class("drawer-body").Body(app.Range(list).Slice(func(i int) app.UI { return WarningCard(list[i]) })))
	})
}
