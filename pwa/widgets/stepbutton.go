package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// stepButton is one of the two steppers beside a field. It has no tap guard: quick taps are how one steps far.
type stepButton struct {
	app.Compo

	Act, Sign, Label string
	To               string // text to put in; empty disables the button
	OnStep           func(ctx app.Context, to string)
}

// Render shows the sign; the label says where the step leads.
func (s *stepButton) Render() app.UI {
	return app.Button().Type("button").Class("step").DataSet("act", s.Act).Aria("label", words.Text(s.Label)).
		Disabled(s.To == "").OnClick(s.onClick).Body(app.Span().Aria("hidden", "true").Text(words.Text(s.Sign)))
}

func (s *stepButton) onClick(ctx app.Context, _ app.Event) {
	if s.To != "" && s.OnStep != nil {
		s.OnStep(ctx, s.To)
	}
}
