package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// versions shows what to choose from, of a sheet changed in two places: a quiet line, because nothing is lost while nobody chooses.
func (r *sheetReader) versions() app.UI {
	v := r.View
	return app.If(len(v.Versions) > 0, func() app.UI {
		return app.Details().Class("fold", "level-check").Body(
			foldHead("sheet-fold-versions", "◆ Changed in two places", "both are kept: choose"),
			app.Div().Class("fold-body", "form").Body(
				app.If(v.Other != nil, func() app.UI { return r.byField() }),
				app.Range(v.Versions).Slice(func(i int) app.UI { return version(v.Versions[i], v.Other == nil) })))
	})
}

// byField offers both readings of every field in which the two differ; what is the same needs no choice.
func (r *sheetReader) byField() app.UI {
	v := r.View
	return app.Div().Class("form").Body(
		app.P().Text(words.Text("Choose field by field. Photos of both are kept.")),
		app.Range(v.Differences).Slice(func(i int) app.UI {
			d := v.Differences[i]
			a, b := present.DifferenceTexts(d, r.Options)
			return &fieldPick{Field: d.Field, Name: d.Name, A: a, B: b, Other: v.Picked[d.Field]}
		}),
		&widgets.BigButton{Act: "sheet-merge", Label: "Keep what is chosen", Kind: widgets.Main, OnPress: post(state.SheetMerged{})},
		app.H2().Class("part-title").Text(words.Text("Or keep one of them whole")))
}

// fieldPick asks which of two readings of a field is right.
type fieldPick struct {
	app.Compo

	Field, Name, A, B string
	Other             bool
}

// CompoID ties the choice to its field.
func (p *fieldPick) CompoID() string { return "pick-" + p.Field }

// Render shows both readings; the first is the newer.
func (p *fieldPick) Render() app.UI {
	chosen := "a"
	if p.Other {
		chosen = "b"
	}
	return &widgets.ChoiceGroup{ID: "pick-" + p.Field, Act: "pick-" + p.Field, Label: p.Name, Selected: chosen, OnChoose: p.onChoose,
		Choices: []widgets.Choice{{Value: "a", Label: p.A, Note: "newer"}, {Value: "b", Label: p.B, Note: "older"}}}
}

func (p *fieldPick) onChoose(ctx app.Context, value string) {
	action.Post(ctx, state.SheetFieldPicked{Field: p.Field, Other: value == "b"})
}

// version is one of the versions to be kept whole. Its lines are shown where there is no choice by field.
func version(v state.Version, lines bool) app.UI {
	return app.Div().Class("version").Body(
		app.P().Class("quiet").Text(words.S("Written %s", present.Written(v.At))),
		app.If(lines, func() app.UI {
			return app.Div().Body(app.Range(v.Lines).Slice(func(j int) app.UI { return app.P().Dir("auto").Text(words.Text(v.Lines[j])) }))
		}),
		&widgets.BigButton{Act: "sheet-version-" + v.Op, Label: "Keep this one", OnPress: post(state.SheetVersionChosen{Op: v.Op})})
}
