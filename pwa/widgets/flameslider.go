package widgets

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// FlameStop is a named flame on the slider.
type FlameStop struct {
	Act   string // data-act
	Label string
	Ratio float64
	Here  bool // the flame shown is of this name
}

// FlameSlider sets the ratio of oxygen to fuel: named stops, a slider with a big thumb, and two steps beside it. It tells of
// every move; where the thumb stands is written to the browser by SetSlider alone, so that drawing again never moves it.
type FlameSlider struct {
	app.Compo

	ID, Label, Spoken string
	Low, High, Ratio  float64
	Stops             []FlameStop
	OnSlide           func(ctx app.Context, ratio float64) // while dragging
	OnRest            func(ctx app.Context)                // the thumb was let go
	OnPick            func(ctx app.Context, ratio float64) // a stop or a step was pressed
}

// sliderStep is what one step changes the ratio by; slider positions are whole steps.
const sliderStep = 0.01

// Render shows the stops above, then step, slider, step.
func (s *FlameSlider) Render() app.UI {
	return app.Div().Class("flame-slider").Role("group").Aria("label", words.Text(s.Label)).Body(
		app.Div().Class("flame-stops").Body(app.Range(s.Stops).Slice(func(i int) app.UI {
			f := s.Stops[i]
			return &ratioButton{Act: f.Act, Label: f.Label, To: f.Ratio, Pressed: boolText(f.Here), OnPick: s.OnPick}
		})),
		app.Div().Class("flame-slide").Body(
			&ratioButton{Act: "flame-less", Label: "−", Name: "Less oxygen", To: s.Ratio - sliderStep, Step: true, OnPick: s.OnPick},
			app.Input().Type("range").ID(s.ID).Class("slider").DataSet("act", "flame-ratio").Aria("label", words.Text(s.Label)).Aria("valuetext", words.Text(s.Spoken)).
				Min(position(s.Low)).Max(position(s.High)).Attr("step", "1").OnInput(s.onInput).OnChange(s.onChange),
			&ratioButton{Act: "flame-more", Label: "+", Name: "More oxygen", To: s.Ratio + sliderStep, Step: true, OnPick: s.OnPick},
		),
	)
}

// position is a ratio as the slider counts it.
func position(ratio float64) string { return strconv.Itoa(int(ratio/sliderStep + 0.5)) }

// SetSlider puts the thumb at a ratio.
func SetSlider(id string, ratio float64) { setInput(id, position(ratio)) }

func (s *FlameSlider) onInput(ctx app.Context, _ app.Event) {
	if n, err := strconv.Atoi(ctx.JSSrc().Get("value").String()); err == nil && s.OnSlide != nil {
		s.OnSlide(ctx, float64(n)*sliderStep)
	}
}

func (s *FlameSlider) onChange(ctx app.Context, _ app.Event) {
	if s.OnRest != nil {
		s.OnRest(ctx)
	}
}

func boolText(b bool) string {
	if b {
		return "true"
	}
	return "false"
}

// ratioButton puts the slider at one ratio: a named flame, or a step.
type ratioButton struct {
	app.Compo

	Act, Label string
	Name       string // spoken instead of the label; may be empty
	Pressed    string // "true" or "false" for a named flame, "" for a step
	To         float64
	Step       bool
	OnPick     func(ctx app.Context, ratio float64)
}

// CompoID keeps one button's ratio from passing to another.
func (b *ratioButton) CompoID() string { return "ratio-" + b.Act }

// Render shows the label; a mark besides the colour tells the flame that is shown.
func (b *ratioButton) Render() app.UI {
	class := "stop-flame"
	if b.Step {
		class = "step"
	}
	e := app.Button().Type("button").Class(class).DataSet("act", b.Act).OnClick(b.onClick).Text(words.Text(b.Label))
	if b.Pressed != "" {
		e = e.Aria("pressed", b.Pressed)
	}
	if b.Name != "" {
		e = e.Aria("label", words.Text(b.Name))
	}
	return e
}

func (b *ratioButton) onClick(ctx app.Context, _ app.Event) {
	if b.OnPick != nil {
		b.OnPick(ctx, b.To)
	}
}
