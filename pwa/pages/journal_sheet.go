package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// sheetEditor is the form of one sheet.
type sheetEditor struct {
	app.Compo

	Form *state.SheetForm
}

// CompoID makes the form of another sheet a new one, so that no typed text passes over.
func (e *sheetEditor) CompoID() string { return "sheet-" + e.Form.Key }

// Render shows the fields and the ways out.
func (e *sheetEditor) Render() app.UI {
	f := e.Form
	return widgets.Page(f.Title,
		app.Div().Class("form").Body(fields(f.Fields, "sheet", e.onTyped, e.onChosen)...),
		&widgets.BigButton{Act: "sheet-done", Label: "Done", Kind: widgets.Main, Disabled: f.Busy, OnPress: post(state.SheetSaved{Finish: true})},
	)
}

func (e *sheetEditor) onTyped(ctx app.Context, key, text string) {
	action.Post(ctx, state.SheetTyped{Key: key, Text: text})
}

func (e *sheetEditor) onChosen(ctx app.Context, key, value string) {
	action.Post(ctx, state.SheetChosen{Key: key, Value: value})
}

// sheetReader shows one sheet.
type sheetReader struct {
	app.Compo

	View    *state.SheetView
	Options present.Options
}

// CompoID makes another sheet a new one.
func (r *sheetReader) CompoID() string { return "read-" + r.View.ID }

// Render shows the sheet and what can be done with it.
func (r *sheetReader) Render() app.UI {
	return widgets.Page("What was done here?",
		&widgets.BigButton{Act: "sheet-edit", Label: "Change it", OnPress: post(state.SheetEdited{ID: r.View.ID})})
}
