package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// upkeepTask is one task of one part: note that it was done, set the interval, see what was done before.
type upkeepTask struct {
	app.Compo

	Form    *state.UpkeepForm
	Options present.Options
}

// CompoID makes another task a new one, so that no typed text passes over.
func (t *upkeepTask) CompoID() string { return "upkeep-task-" + t.Form.Item.Key }

// Render shows when it is due, then the forms, and over them the photo that is looked at.
func (t *upkeepTask) Render() app.UI {
	look := t.Form.Look
	return app.Div().Body(t.page(), app.If(look != nil, func() app.UI { return &photoLook{Look: *look, Options: t.Options} }))
}

func (t *upkeepTask) page() app.UI {
	i := t.Form.Item
	return widgets.Page("Is it done?",
		&widgets.BigButton{Act: "upkeep-close", Label: "All that is due", Note: "text is kept", OnPress: post(state.UpkeepClosed{})},
		widgets.Card(i.Name,
			app.P().Class("word").Text(words.Text(i.Task.Title)),
			app.P().DataSet("val", "upkeep-when").Text(words.Text(upkeepWhen(i))),
			app.P().Class("step-source").Text(words.S("Source of the interval: %s.", i.Task.Source))),
		app.If(t.Form.Stamp != nil, t.stamp),
		t.done(),
		app.If(i.Task.Months > 0, t.every),
		t.history())
}

// stamp reads the test mark of a cylinder.
func (t *upkeepTask) stamp() app.UI {
	f := t.Form
	return widgets.Card("Read the stamp",
		field(*f.Stamp, "upkeep", onUpkeep, onUpkeep),
		app.Ul().Class("steps").DataSet("val", "upkeep-stamp-says").Aria("live", "polite").Body(app.Range(f.Says).Slice(func(i int) app.UI { return app.Li().Text(words.Text(f.Says[i])) })),
		&widgets.BigButton{Act: "upkeep-take", Label: "Count from this test", Disabled: len(f.Says) == 0, OnPress: post(state.UpkeepStamped{})})
}

// done notes that it was done.
func (t *upkeepTask) done() app.UI {
	f := t.Form
	body := fields(f.Done, "upkeep", onUpkeep, onUpkeep)
	body = append(body,
		&widgets.PhotoStrip{Photos: present.NewPhotos(f.Photos, t.Options), Busy: f.Taking > 0, Refused: f.Refused, Plain: true, OnAdd: onUpkeepPhoto, OnRemove: onUpkeepPhotoOff, OnOpen: t.onOpen},
		app.Div().Aria("live", "assertive").Body(app.If(f.Problem != "", func() app.UI { return stopLine(f.Problem, "upkeep-problem") })),
		&widgets.BigButton{Act: "upkeep-done", Label: "It is done", Kind: widgets.Main, OnPress: post(state.UpkeepSaved{})})
	return widgets.Card("Note it", body...)
}

// every is the owner's own interval.
func (t *upkeepTask) every() app.UI {
	return widgets.Card("How often?",
		field(t.Form.Every, "upkeep", onUpkeep, onUpkeep),
		&widgets.BigButton{Act: "upkeep-every-save", Label: "Keep this interval", Disabled: t.Form.Every.Error != "", OnPress: post(state.UpkeepEvery{})})
}

// history is what was done before, the newest first.
func (t *upkeepTask) history() app.UI {
	list := t.Form.Item.History
	return app.If(len(list) > 0, func() app.UI {
		return widgets.Card("Done before", app.Div().Class("stack").DataSet("val", "upkeep-history").Body(
			app.Range(list).Slice(func(i int) app.UI { return &upkeepEntry{Task: t.Form.Item.Key, Done: list[i], Options: t.Options} })))
	})
}

// upkeepEntry is one time it was done.
type upkeepEntry struct {
	app.Compo

	Task    string // key of the task it is of
	Done    state.UpkeepDone
	Options present.Options
}

// CompoID ties the entry to its record.
func (e *upkeepEntry) CompoID() string { return "upkeep-entry-" + e.Done.ID }

// Render shows day, note and photos.
func (e *upkeepEntry) Render() app.UI {
	d := e.Done
	return app.Div().Class("joint").Body(
		app.P().Body(app.Strong().Text(words.Text(d.Day)), app.Text(" "), app.Span().Dir("auto").Text(d.Note)),
		app.If(len(d.Photos) > 0, func() app.UI {
			return &widgets.PhotoStrip{Photos: present.NewPhotos(d.Photos, e.Options), OnOpen: e.onOpen}
		}),
		&widgets.SmallButton{Act: "upkeep-remove-" + d.ID, Label: "Delete", OnPress: post(state.UpkeepRemoved{ID: d.ID})})
}

func onUpkeep(ctx app.Context, key, text string) {
	action.Post(ctx, state.UpkeepTyped{Key: key, Text: text})
}

func onUpkeepPhoto(ctx app.Context, source int, role string) {
	action.Post(ctx, state.UpkeepPhotos{Source: source, Role: role})
}

func onUpkeepPhotoOff(ctx app.Context, index int) {
	action.Post(ctx, state.UpkeepPhotoOff{Index: index})
}

func (t *upkeepTask) onOpen(ctx app.Context, index int) {
	action.Post(ctx, state.UpkeepLooked{Task: t.Form.Item.Key, Index: index})
}

func (e *upkeepEntry) onOpen(ctx app.Context, index int) {
	action.Post(ctx, state.UpkeepLooked{Task: e.Task, Of: e.Done.ID, Index: index})
}
