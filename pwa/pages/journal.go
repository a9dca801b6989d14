package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Journal is the place of the sheets: the list, or the sheet that is open, for reading or for writing.
type Journal struct {
	app.Compo

	App state.App
}

var _ app.Mounter = (*Journal)(nil)

// OnMount has the list read.
func (j *Journal) OnMount(ctx app.Context) { action.Post(ctx, state.JournalOpened{}) }

// options are the owner's choices that change how a sheet is shown.
func (j *Journal) options() present.Options {
	return present.Options{Units: j.App.Prefs.Units, Region: j.App.Prefs.Region, Currency: j.App.Prefs.Currency}
}

// Render shows what is open, else the list, and over it the photo that is looked at.
func (j *Journal) Render() app.UI {
	look := j.App.Journal.Look
	return app.Div().Body(
		j.open(),
		app.If(look != nil, func() app.UI { return &photoLook{Look: *look, Options: j.options()} }))
}

func (j *Journal) open() app.UI {
	switch o := j.App.Journal; {
	case o.Editor != nil:
		return &sheetEditor{Form: o.Editor, Now: j.App.Clock, Options: j.options()}
	case o.Opening.ID != "":
		return widgets.Page("One moment", app.P().Role("status").DataSet("val", "sheet-opening").Text(words.Text("Reading the sheet …")))
	case o.Shown != nil:
		return &sheetReader{View: o.Shown, Options: j.options(), Report: o.Report}
	}
	return j.view()
}
