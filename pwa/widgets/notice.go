package widgets

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// Notice is a standing line that stays until its cause is gone: a word, a shape, a sentence and at most one way out.
type Notice struct {
	app.Compo

	Code     string // identity, and data-act of the way out: "notice-" + Code
	Mark     Mark
	Word     string // "Not saved", "Caution"
	Text     string
	Action   string // label of the way out; empty means none
	OnAction func(app.Context)

	guard pressGuard
}

// CompoID keeps the handler of one notice from passing to another.
func (n *Notice) CompoID() string { return "notice-" + n.Code }

// Render shows shape, word, sentence and way out.
func (n *Notice) Render() app.UI {
	return app.Div().Class("notice", "level-"+string(n.Mark)).Role("status").DataSet("notice", n.Code).Body(
		app.P().Class("notice-text").Body(
			MarkShape(n.Mark), app.Strong().Class("word").Text(words.Text(n.Word)), app.Text(" "), app.Span().Text(words.Text(n.Text))),
		app.If(n.Action != "", func() app.UI {
			return app.Button().Type("button").Class("small").DataSet("act", "notice-"+n.Code).
				OnClick(n.onClick).Text(words.Text(n.Action))
		}),
	)
}

func (n *Notice) onClick(ctx app.Context, _ app.Event) {
	if n.OnAction != nil && n.guard.allow(time.Now()) {
		n.OnAction(ctx)
	}
}
