package widgets

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// ButtonKind is the weight of a button.
type ButtonKind string

// The kinds: at most one Main action on a screen; Plain for the rest; Danger for what takes something away.
const (
	Main   ButtonKind = "main"
	Plain  ButtonKind = "plain"
	Danger ButtonKind = "danger"
)

// BigButton is a full-width action for a gloved knuckle. A second tap within 400 ms is ignored.
type BigButton struct {
	app.Compo

	Act      string // data-act; also the button's identity
	Label    string
	Note     string     // small second line; may be empty
	Kind     ButtonKind // empty means Plain
	Disabled bool
	Arms     bool   // a tap wakes sound and screen for a timer
	Expanded string // "true" or "false" for a button that opens something below it; empty for others
	OnPress  func(app.Context)

	guard pressGuard
}

// CompoID keeps the guard of one button from passing to another.
func (b *BigButton) CompoID() string { return "button-" + b.Act }

// Render shows the label and the note.
func (b *BigButton) Render() app.UI {
	kind := b.Kind
	if kind == "" {
		kind = Plain
	}
	btn := app.Button().Type("button").Class("big", "big-"+string(kind)).DataSet("act", b.Act).Disabled(b.Disabled)
	if b.Expanded != "" {
		btn = btn.Aria("expanded", b.Expanded)
	}
	if b.Arms {
		btn = btn.DataSet("arms", "timer")
	}
	return btn.OnClick(b.onClick).Body(
		app.Span().Class("big-label").Text(words.Text(b.Label)),
		app.If(b.Note != "", func() app.UI { return app.Span().Class("big-note").Text(words.Text(b.Note)) }),
	)
}

func (b *BigButton) onClick(ctx app.Context, _ app.Event) {
	if b.Disabled || b.OnPress == nil || !b.guard.allow(time.Now()) {
		return
	}
	b.OnPress(ctx)
}
