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

// The fields of a sheet by where they stand. What is usual is in sight, the rest is folded away.
var (
	sheetSettings = []string{"work", "metal", "thickness_m", "joint", "position", "tip", "oxygen_gauge_pa", "fuel_gauge_pa", "flame", "ratio"}
	sheetRod      = []string{"filler", "filler_diameter_m", "flux"}
	sheetTravel   = []string{"travel_length_m", "travel_s"}
	sheetWritten  = []string{"next", "wrong", "note", "title"}
	sheetUsed     = []string{"duration_s", "oxygen_used_std_m3", "fuel_used_std_m3"}
	sheetWhen     = []string{"at", "place"}
)

// sheetEditor is the form of one sheet, in the order of the work: while it is done, looking at it, writing it down.
type sheetEditor struct {
	app.Compo

	Form    *state.SheetForm
	Now     state.Clock
	Options present.Options
}

// CompoID makes the form of another sheet a new one, so that no typed text passes over.
func (e *sheetEditor) CompoID() string { return "sheet-" + e.Form.Key }

// Render shows the ways out, the work, what was found, and the way to save.
func (e *sheetEditor) Render() app.UI {
	f := e.Form
	return widgets.Page(f.Title,
		e.out(),
		app.If(f.Restored, func() app.UI {
			return app.P().Class("quiet").DataSet("val", "sheet-restored").Text(words.Text("This is what you had typed and not saved."))
		}),
		e.flags(),
		e.settings(),
		e.travel(),
		formPhotos(f, e.Options),
		e.scores(),
		e.tests(),
		app.Div().Class("form").Body(e.fields(sheetWritten)...),
		e.fold("rod", "Rod and flux", sheetRod),
		e.fold("used", "Time taken, gas used", sheetUsed),
		e.fold("when", "When and where", sheetWhen),
		e.save(),
	)
}

// out are the ways out. They stand far from Done, where a glove would hit them instead; both can be taken back.
func (e *sheetEditor) out() app.UI {
	return app.Div().Class("pairs").Body(
		&widgets.BigButton{Act: "sheet-leave", Label: "All sheets", Note: "this one is kept", Disabled: e.Form.Busy, OnPress: post(state.SheetLeft{})},
		&widgets.BigButton{Act: "sheet-discard", Label: "Put away", Note: "can be undone", Disabled: e.Form.Busy, OnPress: post(state.SheetDiscarded{})})
}

// flags are oddities that keep nobody from saving.
func (e *sheetEditor) flags() app.UI {
	list := e.Form.Flags
	return app.Div().Class("stack").Body(app.Range(list).Slice(func(i int) app.UI {
		return flagLine(present.FlagText(list[i]))
	}))
}

func flagLine(text string) app.UI {
	return app.P().Class("notice", "level-check").DataSet("val", "sheet-flag").Body(app.Span().Class("notice-text").Body(
		widgets.MarkShape(widgets.MarkCheck), app.Text(" "), app.Strong().Class("word").Text(words.Text("Look. ")), app.Span().Text(words.Text(text))))
}

// settings are one line when they came from the card: nothing of them has to be typed again.
func (e *sheetEditor) settings() app.UI {
	if !e.Form.HasCard {
		return app.Div().Class("form").Body(e.fields(sheetSettings)...)
	}
	return app.Div().Class("stack").Body(
		app.P().Class("summary", "summary-text").DataSet("val", "sheet-settings").Text(words.Text(present.SheetSettings(e.texts()))),
		e.fold("settings", "Correct the settings", sheetSettings))
}

// texts are the fields as they stand, by key.
func (e *sheetEditor) texts() map[string]string {
	texts := map[string]string{}
	for _, f := range e.Form.Fields {
		texts[f.Key] = f.Text
		if f.Hint != "" && f.Read != "" {
			texts[f.Key] = present.Understood(f.Read, f.Hint)
		}
	}
	return texts
}

// fields shows the fields of these keys.
func (e *sheetEditor) fields(keys []string) []app.UI {
	return fields(e.pick(keys), "sheet", e.onTyped, e.onChosen)
}

func (e *sheetEditor) pick(keys []string) []state.FormField {
	var list []state.FormField
	for _, key := range keys {
		for _, f := range e.Form.Fields {
			if f.Key == key {
				list = append(list, f)
			}
		}
	}
	return list
}

// fold hides fields behind their heading. The browser keeps what is open.
func (e *sheetEditor) fold(key, title string, keys []string) app.UI {
	filled := 0
	for _, f := range e.pick(keys) {
		if f.Text != "" {
			filled++
		}
	}
	note := "nothing noted"
	if filled > 0 {
		note = words.S("%s of %s noted", strconv.Itoa(filled), strconv.Itoa(len(keys)))
	}
	return app.Details().Class("fold").Body(
		foldHead("sheet-fold-"+key, title, note),
		app.Div().Class("form", "fold-body").Body(e.fields(keys)...))
}

func foldHead(act, title, note string) app.UI {
	return app.Summary().Class("fold-head").DataSet("act", act).Body(
		app.Span().Class("fold-title").Text(words.Text(title)), app.Span().Class("fold-note").Text(words.Text(note)), app.Span().Class("more").Aria("hidden", "true"))
}

// save stays in sight: a sheet is done whenever the person says so.
func (e *sheetEditor) save() app.UI {
	label := "Done"
	if e.Form.Busy {
		label = "Saving …"
	}
	return app.Div().Class("dock", "stack").Body(
		app.Div().Aria("live", "assertive").Body(app.If(e.Form.Problem != "", func() app.UI { return stopLine(e.Form.Problem, "sheet-problem") })),
		&widgets.BigButton{Act: "sheet-done", Label: label, Kind: widgets.Main, Disabled: e.Form.Busy, OnPress: post(state.SheetSaved{Finish: true})})
}

func (e *sheetEditor) onTyped(ctx app.Context, key, text string) {
	action.Post(ctx, state.SheetTyped{Key: key, Text: text})
}

func (e *sheetEditor) onChosen(ctx app.Context, key, value string) {
	action.Post(ctx, state.SheetChosen{Key: key, Value: value})
}
