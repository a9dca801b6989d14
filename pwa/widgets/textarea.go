package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// TextArea takes words of several lines, in any writing direction. It keeps the raw text as a NumberField does.
type TextArea struct {
	app.Compo

	ID    string // element id and identity of the field
	Act   string // data-act
	Label string
	Help  string
	Value string
	Err   string
	// OnInput must lead to a message: a key press by itself draws nothing again, the answer of the state does.
	OnInput func(ctx app.Context, text string)

	raw rawText
}

var (
	_ app.Initializer = (*TextArea)(nil)
	_ app.Updater     = (*TextArea)(nil)
)

// CompoID keeps the typed text of one field from passing to another.
func (f *TextArea) CompoID() string { return "area-" + f.ID }

// OnInit takes the text the field starts with.
func (f *TextArea) OnInit() { f.raw.mount(f.Value) }

// OnUpdate puts a value that was not typed here into the browser's input.
func (f *TextArea) OnUpdate(app.Context) {
	if f.raw.arrived(f.Value) {
		setInput(f.ID, f.Value)
	}
}

// Render shows label, input and error. The text is the content of the element: it has no attribute for it.
func (f *TextArea) Render() app.UI {
	box := fieldBox{id: f.ID, label: f.Label, help: f.Help, err: f.Err}
	return box.render(app.Textarea().ID(f.ID).Class("input", "area").DataSet("act", f.Act).Dir("auto").Rows(areaRows).
		Aria("describedby", box.describe()).Aria("invalid", box.invalid()).
		OnInput(f.onInput).Text(words.Text(f.raw.attribute(f.Value))))
}

// areaRows is the height in lines before anything is typed; the style sheet lets it grow with the text where the browser can.
const areaRows = 3

func (f *TextArea) onInput(ctx app.Context, _ app.Event) {
	ctx.PreventUpdate() // the browser shows the text already
	text := ctx.JSSrc().Get("value").String()
	f.raw.typed(text)
	if f.OnInput != nil {
		f.OnInput(ctx, text)
	}
}
