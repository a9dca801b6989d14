package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// manyOptions is the number of answers from which the phone's own list takes less room than buttons.
const manyOptions = 7

// onField is told the key of the field and what was typed or chosen.
type onField func(ctx app.Context, key, text string)

// fields shows a form's fields; a pair stands side by side.
func fields(list []state.FormField, place string, typed, chosen onField) []app.UI {
	var out []app.UI
	for i := 0; i < len(list); i++ {
		if list[i].Pair && i+1 < len(list) {
			out = append(out, app.Div().Role("group").Aria("label", words.Text(list[i].Group)).Body(
				app.P().Class("field-group").Text(words.Text(list[i].Group)),
				app.Div().Class("field-pair").Body(field(list[i], place, typed, chosen), field(list[i+1], place, typed, chosen))))
			i++
			continue
		}
		out = append(out, field(list[i], place, typed, chosen))
	}
	return out
}

// field shows one field by its type. Act and element id are the place and the key.
func field(f state.FormField, place string, typed, chosen onField) app.UI {
	name := place + "-" + f.Key
	onInput := func(ctx app.Context, text string) { typed(ctx, f.Key, text) }
	onChoose := func(ctx app.Context, value string) { chosen(ctx, f.Key, value) }
	switch f.Type {
	case state.TypeChoice:
		if len(f.Options) >= manyOptions {
			return &widgets.SelectField{ID: name, Act: name, Label: f.Label, Hint: f.Hint, Choices: options(f.Options), Selected: f.Text, Err: f.Error, OnChoose: onChoose}
		}
		return &widgets.ChoiceGroup{ID: name, Act: name, Label: f.Label, Choices: options(f.Options), Selected: f.Text, Err: f.Error, OnChoose: onChoose}
	case state.TypeNumber:
		return &widgets.NumberField{ID: name, Act: name, Label: f.Label, Hint: f.Hint, Help: f.Help, Value: f.Text, Read: f.Read, Err: f.Error,
			Down: f.Down, Up: f.Up, Choices: f.Choices, Letters: f.Letters, OnInput: onInput}
	case state.TypeDate:
		return &widgets.TextField{ID: name, Act: name, Type: "date", Label: f.Label, Help: f.Help, Value: f.Text, Err: f.Error, OnInput: onInput}
	case state.TypeMoment:
		return &widgets.TextField{ID: name, Act: name, Type: "datetime-local", Label: f.Label, Help: f.Help, Value: f.Text, Err: f.Error, OnInput: onInput}
	case state.TypeLong:
		return &widgets.TextArea{ID: name, Act: name, Label: f.Label, Help: f.Help, Value: f.Text, Err: f.Error, OnInput: onInput}
	}
	return &widgets.TextField{ID: name, Act: name, Label: f.Label, Help: f.Help, Value: f.Text, Err: f.Error, OnInput: onInput}
}

func options(list []state.Option) []widgets.Choice {
	out := make([]widgets.Choice, 0, len(list))
	for _, o := range list {
		out = append(out, widgets.Choice{Value: o.Value, Label: o.Label, Note: o.Note})
	}
	return out
}
