package pages

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// sheetReader shows one sheet, in a form that fits on one printed page.
type sheetReader struct {
	app.Compo

	View    *state.SheetView
	Options present.Options
	Report  string // why it was not handed on

}

// CompoID makes another sheet a new one.
func (r *sheetReader) CompoID() string { return "read-" + r.View.ID }

// Render shows the sheet, and what can be done with it.
func (r *sheetReader) Render() app.UI {
	s := present.NewJournalSheet(r.View.Sheet, r.View.Drill, r.Options)
	return widgets.Page("What was done here?",
		&widgets.BigButton{Act: "sheet-close", Label: "All sheets", OnPress: post(state.SheetClosed{})},
		app.If(r.Report != "", func() app.UI { return stopLine(r.Report, "journal-report") }),
		r.versions(),
		app.Article().Class("sheet-read").Body(
			app.H2().Class("sheet-head").Dir("auto").DataSet("val", "sheet-title").Text(s.Title),
			r.tags(),
			app.If(s.Next != "", func() app.UI { return longText(present.Fact{Name: "What to try next", Value: s.Next, Val: "next"}) }),
			widgets.FactList(s.Facts),
			r.scores(),
			r.tests(s),
			app.Range(s.Texts).Slice(func(i int) app.UI { return longText(s.Texts[i]) }),
			shownPhotos(r.View, r.Options)),
		r.card(s),
		r.ways(),
	)
}

// tags say what kind of sheet it is.
func (r *sheetReader) tags() app.UI {
	v := r.View
	return app.Div().Class("stack").Body(
		app.If(v.Sheet.Sample, func() app.UI { return tag("SAMPLE: invented") }),
		app.If(!v.Sheet.Finished, func() app.UI { return tag("Draft: not finished yet") }),
		app.Range(v.Flags).Slice(func(i int) app.UI { return flagLine(present.FlagText(v.Flags[i])) }))
}

func tag(text string) app.UI {
	return app.P().Class("rig-tag", "level-check").Body(widgets.MarkShape(widgets.MarkCheck), app.Span().Text(words.Text(text)))
}

// longText is what the owner wrote, as it was written.
func longText(t present.Fact) app.UI {
	return app.Div().Class("sheet-text").Body(
		app.H3().Class("sheet-part").Text(words.Text(t.Name)),
		app.P().Class("written").Dir("auto").DataSet("val", t.Val).Text(t.Value))
}

// scores lists what was given or passed over; how many of the set that is stands in the words of the whole.
func (r *sheetReader) scores() app.UI {
	v := r.View
	told := slices.DeleteFunc(slices.Clone(v.Scores), func(s state.ScoreField) bool { return !s.Given && !s.Skipped })
	return app.If(v.Overall.Scored > 0, func() app.UI {
		return app.Section().Class("read-scores").Body(
			app.P().Class("big-fact").Body(app.Span().Text(words.Text("Overall ")), app.Strong().DataSet("val", "overall").Text(words.Text(v.Overall.Words()))),
			app.Dl().Class("facts").Body(app.Range(told).Slice(func(i int) app.UI { return widgets.ScoreLine(scoreOf(told[i])) })))
	})
}

func (r *sheetReader) tests(s present.JournalSheet) app.UI {
	return app.If(len(s.Tests) > 0, func() app.UI {
		return app.Div().Class("sheet-text").Body(app.H3().Class("sheet-part").Text(words.Text("Bend and break tests")),
			app.Range(s.Tests).Slice(func(i int) app.UI {
				return app.P().Dir("auto").DataSet("val", "sheet-tested").Text(words.Text(s.Tests[i]))
			}))
	})
}

// card is the settings card as it was when the sheet was begun.
func (r *sheetReader) card(s present.JournalSheet) app.UI {
	return app.If(s.Card != nil, func() app.UI {
		return app.Details().Class("fold", "fold-card").Body(
			foldHead("sheet-fold-card", "The settings card as it was", s.CardNote),
			app.Div().Class("fold-body").Body(&widgets.SettingsCard{Card: *s.Card}))
	})
}

// ways are what can be done with a sheet. Deleting can be undone.
func (r *sheetReader) ways() app.UI {
	return widgets.Actions(
		&widgets.BigButton{Act: "sheet-edit", Label: "Correct it", Note: "the version before is kept", Kind: widgets.Main, OnPress: post(state.SheetEdited{ID: r.View.ID})},
		&widgets.BigButton{Act: "sheet-copy", Label: "Do it again", Note: "a new sheet with the same settings", OnPress: post(state.SheetCopied{ID: r.View.ID})},
		app.Div().Class("pairs").Body(
			&widgets.BigButton{Act: "sheet-share", Label: "Share", Note: "as text", OnPress: post(state.SheetShared{})},
			&widgets.BigButton{Act: "sheet-print", Label: "Print", Note: "one page", OnPress: onPrint}),
		&widgets.BigButton{Act: "sheet-delete", Label: "Delete it", Note: "can be undone", Kind: widgets.Danger, OnPress: post(state.SheetDeleted{ID: r.View.ID})})
}

func onPrint(app.Context) { app.Window().Call("torchsidePrint") }
