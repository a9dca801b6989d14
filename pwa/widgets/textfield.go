package widgets

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// TextField takes words or a date. It keeps the raw text as a NumberField does.
type TextField struct {
	app.Compo

	ID    string // element id and identity of the field
	Act   string // data-act
	Type  string // "text" (also when empty), "date" or "datetime-local"
	Label string
	Hint  string
	Help  string
	Value string
	Read  string
	Err   string
	// OnInput must lead to a message: a key press by itself draws nothing again, the answer of the state does.
	OnInput func(ctx app.Context, text string)

	raw rawText
}

var (
	_ app.Initializer = (*TextField)(nil)
	_ app.Updater     = (*TextField)(nil)
)

// CompoID keeps the typed text of one field from passing to another.
func (f *TextField) CompoID() string { return "text-" + f.ID }

// OnInit takes the text the field starts with.
func (f *TextField) OnInit() { f.raw.mount(f.Value) }

// OnUpdate puts a value that was not typed here into the browser's input.
func (f *TextField) OnUpdate(app.Context) {
	if f.raw.arrived(f.Value) {
		setInput(f.ID, f.Value)
	}
}

// Render shows label, input and error.
func (f *TextField) Render() app.UI {
	box := fieldBox{id: f.ID, label: f.Label, hint: f.Hint, help: f.Help, read: f.Read, err: f.Err}
	kind := f.Type
	if kind == "" {
		kind = "text"
	}
	return box.render(app.Div().Class("field-row").Body(
		app.Input().Type(kind).ID(f.ID).Class("input").DataSet("act", f.Act).Dir("auto").AutoComplete(false).
			Aria("describedby", box.describe()).Aria("invalid", box.invalid()).
			Value(f.raw.attribute(f.Value)).OnInput(f.onInput)))
}

func (f *TextField) onInput(ctx app.Context, _ app.Event) {
	ctx.PreventUpdate() // the browser shows the text already
	text := ctx.JSSrc().Get("value").String()
	f.raw.typed(text)
	if f.OnInput != nil {
		f.OnInput(ctx, text)
	}
}
