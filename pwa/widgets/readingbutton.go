package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// readingButton puts one reading of a text that has several into its field.
type readingButton struct {
	app.Compo

	Act, Text string
	OnTake    func(ctx app.Context, text string)
}

// CompoID ties the button to its reading: choices come and go with what is typed.
func (b *readingButton) CompoID() string { return b.Act + "-" + b.Text }

// Render shows the reading.
func (b *readingButton) Render() app.UI {
	return app.Button().Type("button").Class("small").DataSet("act", b.Act).Aria("label", words.S("I mean %s", b.Text)).OnClick(b.onClick).Text(words.Text(b.Text))
}

func (b *readingButton) onClick(ctx app.Context, _ app.Event) {
	if b.OnTake != nil {
		b.OnTake(ctx, b.Text)
	}
}
