package widgets

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/present"
)

// WarningList shows warnings before a number: the cautions in one box with their full text, the checks and notes on one line
// that opens. A tap on the box shows the sources.
func WarningList(list []present.Warning) app.UI {
	return app.If(len(list) > 0, func() app.UI {
		cautions, others := split(list)
		return app.Div().Class("warnings").Body(cautionBox(cautions), warningLine(others))
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
		return app.Details().Class("warning", "level-caution").Body(
			app.Summary().Class("warning-head").Body(
				MarkShape(MarkCaution),
				app.Div().Class("warning-body").Body(
					app.Range(list).Slice(func(i int) app.UI {
						return app.P().DataSet("warning", list[i].Code).Body(
							app.If(i == 0, func() app.UI { return app.Strong().Class("word").Text(list[i].Word + ". ") }),
							app.Span().Class("warning-text").Text(list[i].Text),
							app.If(i == len(list)-1, more))
					})),
			),
			app.Ul().Class("sources").Body(app.Range(list).Slice(func(i int) app.UI { return source(list[i]) })),
		)
	})
}

// warningLine holds checks and notes. One alone shows how it begins, several are counted.
func warningLine(list []present.Warning) app.UI {
	return app.If(len(list) > 0, func() app.UI {
		level := list[0].Level
		return app.Details().Class("warning", "warning-line", "level-"+level).Body(
			app.Summary().Class("warning-head").Body(MarkShape(Mark(level)), lineHead(list), more()),
			app.Div().Class("drawer-body").Body(app.Range(list).Slice(func(i int) app.UI { return WarningCard(list[i]) })),
		)
	})
}

func lineHead(list []present.Warning) app.UI {
	if len(list) > 1 {
		return app.P().Class("warning-body", "word").Text(present.CountWarnings(list))
	}
	return app.P().Class("warning-body").Body(
		app.Strong().Class("word").Text(list[0].Word+". "), app.Span().Class("warning-text").Text(list[0].Text))
}

// more is the sign that a tap opens something; the browser tells screen readers itself.
func more() app.UI { return app.Span().Class("more").Aria("hidden", "true") }

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

// StandingBox names the cautions that hold for every card in a few words each, before everything else. A tap shows them in
// full, with their sources.
func StandingBox(list []present.Warning) app.UI {
	return app.If(len(list) > 0, func() app.UI {
		return app.Details().Class("warning", "level-caution").Body(
			app.Summary().Class("warning-head").DataSet("act", "setup-cautions").Body(
				MarkShape(MarkCaution),
				app.P().Class("warning-body").Body(app.Strong().Class("word").Text(list[0].Word+": "), app.Span().Class("warning-text").Text(shorts(list)), more())),
			app.Div().Class("drawer-body").Body(app.Range(list).Slice(func(i int) app.UI { return WarningCard(list[i]) })),
		)
	})
}

func shorts(list []present.Warning) string {
	words := make([]string, 0, len(list))
	for _, w := range list {
		words = append(words, w.Short)
	}
	return strings.Join(words, "; ") + "."
}
