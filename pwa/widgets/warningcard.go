package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// WarningList shows warnings before a number: cautions and checks in one box each with their full text, and plain notes, which may
// fold when there are several. A tap on a box shows the sources.
func WarningList(list []present.Warning) app.UI { return &warningList{List: list} }

// warningList is a component so that it is drawn anew only when its texts change.
type warningList struct {
	app.Compo

	List []present.Warning
}

// Render shows the boxes, or keeps their place.
func (w *warningList) Render() app.UI {
	list := w.List
	return slot(len(list) > 0, func() app.UI {
		return app.Div().Class("warnings").Body(
			textBox(MarkCaution, ofLevel(list, MarkCaution)), textBox(MarkCheck, ofLevel(list, MarkCheck)), notes(ofLevel(list, MarkNote)))
	})
}

// ofLevel picks the warnings of a level; one that is not known is a caution.
func ofLevel(list []present.Warning, m Mark) []present.Warning {
	var out []present.Warning
	for _, w := range list {
		level := Mark(w.Level)
		if level != MarkCheck && level != MarkNote {
			level = MarkCaution
		}
		if level == m {
			out = append(out, w)
		}
	}
	return out
}

// textBox keeps the texts in sight; only the sources are behind a tap.
func textBox(m Mark, list []present.Warning) app.UI {
	return slot(len(list) > 0, func() app.UI {
		return app.Details().Class("warning", "level-"+string(m)).Body(
			app.Summary().Class("warning-head").Body(
				MarkShape(m),
				app.Div().Class("warning-body").Body(
					app.Range(list).Slice(func(i int) app.UI {
						return app.P().DataSet("warning", list[i].Code).Body(
							app.If(i == 0, func() app.UI { return app.Strong().Class("word").Text(words.S("%s. ", list[i].Word)) }),
							app.Span().Class("warning-text").Text(words.Text(list[i].Text)),
							app.If(i == len(list)-1, more))
					})),
			),
			app.Ul().Class("sources").Body(app.Range(list).Slice(func(i int) app.UI { return source(list[i]) })),
		)
	})
}

// notes are what is good to know. One alone stands in full, several are counted.
func notes(list []present.Warning) app.UI {
	if len(list) == 1 {
		return textBox(MarkNote, list)
	}
	return slot(len(list) > 0, func() app.UI {
		return app.Details().Class("warning", "level-note").Body(
			app.Summary().Class("warning-head").Body(MarkShape(MarkNote), app.P().Class("warning-body", "word").Text(words.Text(present.CountWarnings(list))), more()),
			app.Div().Class("drawer-body").Body(app.Range(list).Slice(func(i int) app.UI { return WarningCard(list[i]) })),
		)
	})
}

// more is the sign that a tap opens something; the browser tells screen readers itself.
func more() app.UI { return app.Span().Class("more").Aria("hidden", "true") }

func source(w present.Warning) app.UI { return app.Li().Text(words.S("Source: %s.", w.Source)) }

// WarningCard shows one warning with its source in sight.
func WarningCard(w present.Warning) app.UI {
	return app.Div().Class("warning", "warning-card", "level-"+w.Level).Role("note").DataSet("warning", w.Code).Body(
		MarkShape(Mark(w.Level)),
		app.P().Class("warning-body").Body(
			app.Strong().Class("word").Text(words.S("%s. ", w.Word)),
			app.Span().Class("warning-text").Text(words.Text(w.Text)),
			app.If(w.Source != "", func() app.UI {
				return app.Span().Class("warning-source").Text(words.S(" Source: %s.", w.Source))
			}),
		),
	)
}

// StandingBox names the cautions that hold for every card in a few words each, before everything else. A tap shows them in
// full, with their sources.
func StandingBox(list []present.Warning) app.UI { return &standingBox{List: list} }

// standingBox is a component so that it is drawn anew only when its texts change.
type standingBox struct {
	app.Compo

	List []present.Warning
}

// Render shows the box, or keeps its place.
func (b *standingBox) Render() app.UI {
	list := b.List
	return slot(len(list) > 0, func() app.UI {
		return app.Details().Class("warning", "level-caution").Body(
			app.Summary().Class("warning-head").DataSet("act", "setup-cautions").Body(
				MarkShape(MarkCaution),
				app.P().Class("warning-body").Body(app.Strong().Class("word").Text(words.S("%s: ", list[0].Word)), app.Span().Class("warning-text").Text(words.Text(shorts(list))), more())),
			app.Div().Class("drawer-body").Body(app.Range(list).Slice(func(i int) app.UI { return WarningCard(list[i]) })),
		)
	})
}

func shorts(list []present.Warning) string {
	said := make([]string, 0, len(list))
	for _, w := range list {
		said = append(said, w.Short)
	}
	return words.Join(said, "; ") + "."
}
