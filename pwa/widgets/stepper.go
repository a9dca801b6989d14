package widgets

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// Stepper counts up and down without a keyboard: cylinders on a manifold, holes in a tip. Down and Up are the texts to send;
// an empty one means the end is reached.
type Stepper struct {
	app.Compo

	Act   string // data-act prefix and identity
	Label string
	Value string
	Down  string
	Up    string
	OnSet func(ctx app.Context, to string)
}

// CompoID keeps one stepper's handler from passing to another.
func (s *Stepper) CompoID() string { return "stepper-" + s.Act }

// Render shows the value between its two buttons.
func (s *Stepper) Render() app.UI {
	return app.Div().Class("field").Role("group").Aria("label", s.Label).Body(
		app.Span().Class("field-label").Text(s.Label),
		app.Div().Class("field-row").Body(
			&stepButton{Act: s.Act + "-down", Sign: "−", Label: s.Label + ": " + stepWord("down", s.Down), To: s.Down, OnStep: s.onStep},
			app.Span().Class("stepper-value").DataSet("act", s.Act).Aria("live", "polite").Text(s.Value),
			&stepButton{Act: s.Act + "-up", Sign: "+", Label: s.Label + ": " + stepWord("up", s.Up), To: s.Up, OnStep: s.onStep},
		))
}

func (s *Stepper) onStep(ctx app.Context, to string) {
	if s.OnSet != nil {
		s.OnSet(ctx, to)
	}
}
