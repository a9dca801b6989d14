package widgets

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// NumberField takes a number with or without a unit, as people type it: "1/8", "3,2 mm", "16 ga". It keeps the raw text;
// reading it is the business of the state, which sends back what was read or what is wrong. Down and Up are texts the two
// steppers put in; without both there are no steppers.
type NumberField struct {
	app.Compo

	ID    string // element id and identity of the field
	Act   string // data-act
	Label string
	Hint  string // unit assumed when none is typed, "in"
	Help  string // what is meant, before anything is typed
	Value string // raw text
	Read  string // what was understood, "1/8 in = 3.175 mm"
	Err   string // what was read, what is allowed, why
	Down  string
	Up    string
	// Choices are texts that a refused one may have meant, each one tap away.
	Choices []string
	// Letters asks for the full keyboard, for fields that take fractions, units or gauge sizes.
	Letters bool
	// OnInput must lead to a message: a key press by itself draws nothing again, the answer of the state does.
	OnInput func(ctx app.Context, text string)

	raw rawText
}

var (
	_ app.Initializer = (*NumberField)(nil)
	_ app.Updater     = (*NumberField)(nil)
)

// CompoID keeps the typed text of one field from passing to another.
func (f *NumberField) CompoID() string { return "number-" + f.ID }

// OnInit takes the text the field starts with.
func (f *NumberField) OnInit() { f.raw.mount(f.Value) }

// OnUpdate puts a value that was not typed here, such as a reset, into the browser's input.
func (f *NumberField) OnUpdate(app.Context) {
	if f.raw.arrived(f.Value) {
		setInput(f.ID, f.Value)
	}
}

// Render shows label, steppers, input, reading and error. Steppers come and go with what is typed; each has a place of its own,
// so that the input stays the same element: a new one would lose the focus and the letters in it.
func (f *NumberField) Render() app.UI {
	box := fieldBox{id: f.ID, label: f.Label, hint: f.Hint, help: f.Help, read: f.Read, err: f.Err, choices: f.choices()}
	steps := f.Down != "" || f.Up != ""
	return box.render(app.Div().Class("field-row").Body(
		app.Span().Class("field-step").Body(app.If(steps, func() app.UI { return f.step("down", "−", f.Down) })),
		f.input(box),
		app.Span().Class("field-step").Body(app.If(steps, func() app.UI { return f.step("up", "+", f.Up) })),
	))
}

func (f *NumberField) input(box fieldBox) app.UI {
	mode := "decimal"
	if f.Letters {
		mode = "text"
	}
	return app.Input().Type("text").ID(f.ID).Class("input", "input-number").DataSet("act", f.Act).
		Attr("inputmode", mode).Attr("autocapitalize", "off").Attr("enterkeyhint", "done").
		AutoComplete(false).Spellcheck(false).
		Aria("describedby", box.describe()).Aria("invalid", box.invalid()).
		Value(f.raw.attribute(f.Value)).OnInput(f.onInput)
}

func (f *NumberField) step(dir, sign, to string) app.UI {
	return &stepButton{Act: f.Act + "-" + dir, Sign: sign, Label: words.S("%s: %s", f.Label, stepWord(dir, to)), To: to, OnStep: f.onStep}
}

// choices are buttons that put in what a refused text may have meant.
func (f *NumberField) choices() []app.UI {
	var list []app.UI
	for i, text := range f.Choices {
		list = append(list, &readingButton{Act: f.Act + "-choice-" + strconv.Itoa(i+1), Text: text, OnTake: f.onStep})
	}
	return list
}

func stepWord(dir, to string) string {
	if to == "" {
		return words.S("no further step %s", dir)
	}
	return words.S("step %s to %s", dir, to)
}

func (f *NumberField) onInput(ctx app.Context, _ app.Event) {
	ctx.PreventUpdate() // the browser shows the text already
	f.report(ctx, ctx.JSSrc().Get("value").String())
}

// report sends a typed text up and remembers that it did.
func (f *NumberField) report(ctx app.Context, text string) {
	f.raw.typed(text)
	if f.OnInput != nil {
		f.OnInput(ctx, text)
	}
}

// onStep puts the text of a stepper or a choice into the input, as if it had been typed.
func (f *NumberField) onStep(ctx app.Context, to string) {
	setInput(f.ID, to)
	f.report(ctx, to)
}

// setInput writes the property, not the attribute: a browser ignores the attribute once somebody has typed.
func setInput(id, value string) {
	if in := app.Window().GetElementByID(id); in.Truthy() {
		in.Set("value", value)
	}
}
