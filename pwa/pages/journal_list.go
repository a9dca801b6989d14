package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// list shows the sheets, the newest first.
func (j *Journal) list() app.UI {
	o := j.App.Journal
	return widgets.Page("Did it work?",
		&widgets.BigButton{Act: "sheet-new", Label: "Begin a sheet", Kind: widgets.Main, OnPress: post(state.SheetBegun{})},
		app.If(o.Report != "", func() app.UI { return app.P().DataSet("val", "journal-report").Text(o.Report) }),
		app.Range(o.Unfinished).Slice(func(i int) app.UI { return unfinishedSheet(o.Unfinished[i]) }),
		app.Range(o.Rows).Slice(func(i int) app.UI { return &sheetRow{Row: o.Rows[i]} }),
	)
}

// unfinishedSheet is a sheet that was begun and not saved.
func unfinishedSheet(d state.SheetDraft) app.UI {
	return &widgets.BigButton{Act: "sheet-resume-" + d.Key, Label: "Go on: " + d.Title, Note: "typed and not saved", OnPress: post(state.SheetResumed{Key: d.Key})}
}

// sheetRow is one sheet of the list.
type sheetRow struct {
	app.Compo

	Row state.SheetRow
}

// CompoID ties the row to its sheet.
func (r *sheetRow) CompoID() string { return "sheet-row-" + r.Row.ID }

// Render shows what the sheet is about.
func (r *sheetRow) Render() app.UI {
	b := r.Row.Brief
	title := b.Title
	if title == "" {
		title = b.Work + " " + b.Metal + " " + b.Joint
	}
	return &widgets.BigButton{Act: "sheet-open-" + r.Row.ID, Label: title, Note: b.At, OnPress: post(state.SheetOpened{ID: r.Row.ID})}
}
