package widgets

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// SmallButton is a lesser action beside a text. A second tap within 400 ms is ignored.
type SmallButton struct {
	app.Compo

	ID      string // element id, so that the focus can be put here; may be empty
	Act     string // data-act; also the button's identity
	Label   string
	OnPress func(app.Context)

	guard pressGuard
}

// CompoID keeps the guard of one button from passing to another.
func (b *SmallButton) CompoID() string { return "small-" + b.Act }

// Render shows the label.
func (b *SmallButton) Render() app.UI {
	return app.Button().Type("button").Class("small").ID(b.ID).DataSet("act", b.Act).OnClick(b.onClick).Text(words.Text(b.Label))
}

func (b *SmallButton) onClick(ctx app.Context, _ app.Event) {
	if b.OnPress != nil && b.guard.allow(time.Now()) {
		b.OnPress(ctx)
	}
}
