package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// rigForm is the form of one part, whatever its kind.
type rigForm struct {
	app.Compo

	Form *state.Form
}

// CompoID makes the form of another part a new one, so that no typed text passes over.
func (f *rigForm) CompoID() string { return "form-" + f.Form.DraftKey() }

// Render shows the fields and the ways out.
func (f *rigForm) Render() app.UI {
	form := f.Form
	return app.Div().ID(formID).OnKeyDown(f.onKey).Body(widgets.Page(form.Title,
		f.out(),
		app.If(form.Sample, func() app.UI {
			return app.P().Class("rig-tag", "level-check").Body(widgets.MarkShape(widgets.MarkCheck), app.Span().Text(words.Text("SAMPLE: invented")))
		}),
		app.If(form.Restored, func() app.UI {
			return app.P().Class("quiet").DataSet("val", "form-restored").Text(words.Text("This is what you had typed and not saved."))
		}),
		f.versions(),
		app.Div().Class("form").Body(fields(form.Fields, "rig", f.onTyped, f.onChosen)...),
		f.problem(),
		f.save(),
		f.more(),
	))
}

// out are the ways out. They stand far from Save, where a glove would hit them instead; both can be taken back.
func (f *rigForm) out() app.UI {
	return app.Div().Class("pairs").Body(
		&widgets.BigButton{Act: "rig-leave", Label: "All parts", Note: "text is kept", Disabled: f.Form.Busy, OnPress: post(state.FormLeft{})},
		&widgets.BigButton{Act: "rig-cancel", Label: "Put away", Note: "not saved", Disabled: f.Form.Busy, OnPress: post(state.FormCancelled{})})
}

func (f *rigForm) onTyped(ctx app.Context, key, text string) {
	action.Post(ctx, state.FormTyped{Key: key, Text: text})
}

func (f *rigForm) onChosen(ctx app.Context, key, value string) {
	action.Post(ctx, state.FormChosen{Key: key, Value: value})
}

func (f *rigForm) problem() app.UI {
	return app.Div().Aria("live", "assertive").Body(app.If(f.Form.Problem != "", func() app.UI {
		return app.Div().Class("notice", "level-stop").DataSet("val", "form-problem").Body(app.P().Class("notice-text").Body(
			widgets.MarkShape(widgets.MarkStop), app.Text(" "), app.Span().Text(words.Text(f.Form.Problem))))
	}))
}

func (f *rigForm) save() app.UI {
	label := "Save"
	if f.Form.Busy {
		label = "Saving …"
	}
	return widgets.Actions(
		&widgets.BigButton{Act: "rig-save", Label: label, Kind: widgets.Main, Disabled: f.Form.Busy, OnPress: post(state.FormSaved{})},
		app.If(f.Form.Kind == state.KindChartRow, func() app.UI {
			return &widgets.BigButton{Act: "rig-save-next", Label: "Save and add the next row", Disabled: f.Form.Busy, OnPress: post(state.FormSaved{Another: true})}
		}),
	)
}

// more is what else can be done with a saved part. Everything here can be taken back.
func (f *rigForm) more() app.UI {
	form := f.Form
	return app.If(form.ID != "", func() app.UI {
		return widgets.Actions(
			app.H2().Class("rig-title").Text(words.Text("Or")),
			app.If(form.CanUse, func() app.UI {
				return &widgets.BigButton{Act: "rig-use", Label: "Use this one", OnPress: post(state.PartUsed{ID: form.ID})}
			}),
			app.If(form.Kind != state.KindChartRow, func() app.UI {
				return &widgets.BigButton{Act: "rig-copy", Label: "Copy it", Note: "a new one that starts with the same", OnPress: post(state.PartCopied{ID: form.ID})}
			}),
			f.retire(),
			&widgets.BigButton{Act: "rig-delete", Label: "Delete it", Note: "can be undone", Kind: widgets.Danger, OnPress: post(state.PartDeleted{ID: form.ID})},
		)
	})
}

func (f *rigForm) retire() app.UI {
	form := f.Form
	if form.Kind == state.KindChartRow {
		return app.Text("")
	}
	if form.Retired {
		return &widgets.BigButton{Act: "rig-unretire", Label: "Take it back into the rig", OnPress: post(state.PartRetired{ID: form.ID, Back: true})}
	}
	return &widgets.BigButton{Act: "rig-retire", Label: "Retire it", Note: "kept, but no longer counted", OnPress: post(state.PartRetired{ID: form.ID})}
}

// versions shows what to choose from, of a part changed in two places: field by field into the form below, or one of them whole.
func (f *rigForm) versions() app.UI {
	form := f.Form
	return app.If(len(form.Versions) > 1, func() app.UI {
		return widgets.Card("Changed in two places: which is right?",
			app.P().Text(words.Text("Choose field by field, then save: what is chosen stands in the form. Or keep one version whole. All of them stay in the history.")),
			app.Range(form.Differ).Slice(func(i int) app.UI {
				return &partPick{Field: form.Differ[i], Picked: form.Picked(form.Differ[i]), At: form.Versions}
			}),
			app.Range(form.Versions).Slice(func(i int) app.UI {
				v := form.Versions[i]
				return app.Div().Class("version").Body(
					app.P().Class("quiet").Text(words.S("Written %s", present.Written(v.At))),
					app.Range(v.Lines).Slice(func(j int) app.UI { return app.P().Dir("auto").Text(words.Text(v.Lines[j])) }),
					&widgets.BigButton{Act: "rig-version-" + v.Op, Label: "Keep this one", OnPress: post(state.VersionChosen{ID: form.ID, Op: v.Op})})
			}))
	})
}

// partPick asks which reading of a field is right.
type partPick struct {
	app.Compo

	Field  state.FieldVersions
	Picked string
	At     []state.Version
}

// CompoID ties the choice to its field.
func (p *partPick) CompoID() string { return "pick-" + p.Field.Key }

// Render shows every reading with the time it was written.
func (p *partPick) Render() app.UI {
	var choices []widgets.Choice
	for i, text := range p.Field.Shown {
		choices = append(choices, widgets.Choice{Value: p.Field.Op[i], Label: text, Note: present.Written(p.At[i].At)})
	}
	return &widgets.ChoiceGroup{ID: "pick-" + p.Field.Key, Act: "pick-" + p.Field.Key, Label: p.Field.Label, Selected: p.Picked, OnChoose: p.onChoose, Choices: choices}
}

func (p *partPick) onChoose(ctx app.Context, op string) {
	for i, one := range p.Field.Op {
		switch {
		case one != op:
		case p.Field.Typed:
			action.Post(ctx, state.FormTyped{Key: p.Field.Key, Text: p.Field.Texts[i]})
		default:
			action.Post(ctx, state.FormChosen{Key: p.Field.Key, Value: p.Field.Texts[i]})
		}
	}
}
