package pages

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// journalList is the list of sheets with its search and its filter. In the view for comparing a tap picks a sheet.
type journalList struct {
	app.Compo

	Journal state.Journal
	Options present.Options
	Card    string // what the settings card in Setup is for; "" when there is none
}

// picks reports whether a tap picks.
func (l *journalList) picks() bool { return l.Journal.View == state.ViewCompare }

// Render shows what can be done, the search, and the rows.
func (l *journalList) Render() app.UI {
	question := "Did it work?"
	if l.picks() {
		question = "Which two sheets?"
	}
	return widgets.Page(question,
		l.actions(),
		app.If(!l.picks(), func() app.UI {
			list := l.Journal.Unfinished
			return app.Div().Class("actions").Body(app.Range(list).Slice(func(i int) app.UI { return unfinishedSheet(list[i]) }))
		}),
		&journalSearch{Text: l.Journal.Search},
		l.filter(),
		l.found(),
		app.Div().Class("sheet-rows").Body(app.Range(l.Journal.Rows).Slice(func(i int) app.UI { return l.row(l.Journal.Rows[i]) })),
		app.If(l.Journal.More, func() app.UI {
			return &widgets.BigButton{Act: "journal-more", Label: "More sheets", Note: l.left(), Disabled: l.Journal.Loading, OnPress: post(state.MoreSheets{})}
		}),
		app.If(!l.picks(), l.handOut),
	)
}

// unfinishedSheet is a sheet that was begun and not saved.
func unfinishedSheet(d state.SheetDraft) app.UI {
	return &widgets.BigButton{Act: "sheet-resume-" + d.Key, Label: words.S("Go on: %s", d.Title), Note: "typed and not saved", OnPress: post(state.SheetResumed{Key: d.Key})}
}

// actions are the ways to the other views; while picking, what to do and the way back.
func (l *journalList) actions() app.UI {
	if l.picks() {
		return app.Div().Class("actions").Body(
			app.P().Class("word").DataSet("val", "compare-picked").Text(words.S("%s of 2 picked. Tap the two sheets to set side by side.", strconv.Itoa(len(l.Journal.Picked)))),
			&widgets.BigButton{Act: "compare-leave", Label: "Back to the journal", OnPress: post(state.JournalBack{})})
	}
	return app.Div().Class("actions").Body(
		&widgets.BigButton{Act: "sheet-new", Label: "Begin a sheet", Kind: widgets.Main, OnPress: post(state.SheetBegun{})},
		app.If(l.Card != "", func() app.UI {
			return &widgets.BigButton{Act: "journal-log", Label: "Log the settings card", Note: l.Card, OnPress: post(state.SheetCaught{})}
		}),
		app.Div().Class("views").Body(
			&widgets.SmallButton{Act: "view-drills", Label: "Drills", OnPress: post(state.JournalViewed{View: state.ViewDrills})},
			&widgets.SmallButton{Act: "view-trends", Label: "Trends", OnPress: post(state.JournalViewed{View: state.ViewTrends})},
			&widgets.SmallButton{Act: "view-compare", Label: "Compare", OnPress: post(state.JournalViewed{View: state.ViewCompare})}))
}

func (l *journalList) row(r state.SheetRow) app.UI {
	row := &widgets.SheetRow{ID: r.ID, Act: "sheet-open-" + r.ID, Line: present.NewSheetLine(r.Brief, r.Drill, l.Options), Split: r.Conflict,
		Picks: l.picks(), Picked: r.Picked, OnPress: post(state.SheetOpened{ID: r.ID})}
	if p, ok := present.ThumbOf(r.Brief); ok {
		row.Photo = &p
	}
	if row.Picks {
		row.Act, row.OnPress = "pick-"+r.ID, post(state.SheetPicked{ID: r.ID})
	}
	return row
}

// left says how many are not shown yet.
func (l *journalList) left() string {
	n := l.Journal.Total - len(l.Journal.Rows) - l.Journal.Above
	if n <= 0 {
		return ""
	}
	return words.S("%s older ones", strconv.Itoa(n))
}

// found says how many there are, or what to do when there are none.
func (l *journalList) found() app.UI {
	j := l.Journal
	chosen := !j.Filter.IsZero() || j.Search != ""
	return app.Div().Class("found").Aria("live", "polite").Body(
		app.If(j.Failed != "", func() app.UI {
			return app.P().Class("word").DataSet("val", "journal-failed").Body(widgets.MarkShape(widgets.MarkCaution), app.Span().Text(words.Text(j.Failed)))
		}),
		app.If(len(j.Rows) == 0 && !j.Loading && j.Failed == "", func() app.UI { return l.empty(chosen) }),
		app.If(j.Total > 0, func() app.UI {
			return app.P().Class("word").DataSet("val", "journal-total").Text(words.Text(foundWords(j, chosen)))
		}),
		app.If(j.Partial, func() app.UI {
			return app.P().Class("quiet").Text(words.Text("The index is being made anew: some sheets may be missing for a moment."))
		}),
		app.If(j.Above > 0, func() app.UI {
			return &widgets.BigButton{Act: "journal-newest", Label: "Back to the newest", Note: words.S("%s newer ones are not shown", strconv.Itoa(j.Above)), OnPress: post(state.NewestSheets{})}
		}))
}

func foundWords(j state.Journal, chosen bool) string {
	said := "1 sheet"
	if j.Total != 1 {
		said = words.S("%s sheets", strconv.Itoa(j.Total))
	}
	if chosen {
		return words.S("%s found", said)
	}
	return words.S("%s, newest first", said)
}

// empty says what to do: with a filter or a search, to widen it; in a new journal, how to begin.
func (l *journalList) empty(chosen bool) app.UI {
	if chosen {
		return app.Div().Class("actions").DataSet("val", "journal-none").Body(
			app.P().Class("word").Text(words.Text("No sheet fits. Every word of the search and every choice of the filter must hold: take one away.")),
			&widgets.BigButton{Act: "filter-clear-all", Label: "Show all sheets", OnPress: post(state.FilterCleared{})})
	}
	return app.Div().Class("actions").DataSet("val", "journal-empty").Body(
		app.P().Text(words.Text("No sheets yet. Run a bead, then catch its settings from the card in Setup, or begin a new sheet here. Scores and photos can follow later.")),
		app.If(!l.Journal.Sample, func() app.UI {
			return &widgets.BigButton{Act: "journal-sample", Label: "Look at a sample journal", Note: "30 invented sheets, gone again with one tap",
				Disabled: l.Journal.Busy, OnPress: post(state.SampleSheetsAdded{})}
		}))
}

// handOut is the table of what is found, and the sample's way out.
func (l *journalList) handOut() app.UI {
	j := l.Journal
	return app.Div().Class("actions").Body(
		app.If(j.Total > 0, func() app.UI {
			return &widgets.BigButton{Act: "journal-table", Label: "Save as a table", Note: words.S("%s, for a spreadsheet (CSV)", foundWords(j, true)), Disabled: j.Busy, OnPress: post(state.SheetTableAsked{})}
		}),
		app.If(j.Sample, func() app.UI {
			return &widgets.BigButton{Act: "journal-sample-remove", Label: "Remove the sample journal", Kind: widgets.Danger, Disabled: j.Busy, OnPress: post(state.SampleSheetsRemoved{})}
		}),
		app.Div().Aria("live", "polite").Body(app.If(j.Report != "", func() app.UI { return app.P().DataSet("val", "journal-report").Text(words.Text(j.Report)) })))
}

func (l *journalList) onFilter(ctx app.Context, key, value string) {
	action.Post(ctx, state.SheetFiltered{Key: key, Value: value})
}
