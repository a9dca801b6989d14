package state

import (
	"math"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/setup"
)

// Flame is the flame under the slider: that of the card's tip, or an example while there is no card. The fuel flow stays, the
// ratio moves.
type Flame struct {
	Question setup.FlameQuestion
	Answer   *setup.FlameAnswer // nil when the question has none; Error says why
	Error    string
	// Low and High are the ends of the slider, Stops the named flames on it.
	Low, High float64
	Stops     FlameStops
	// Longest is the longest inner cone on the slider in m, for a drawing that keeps its scale; 0 when no cone is known.
	Longest float64
	// Tip is the tip of the card; empty for the example tip. CardRatio is the ratio the card was made for, 0 without one.
	Tip       string
	CardRatio float64
	Work      setup.Work // of the card, for what the flame is used for; "" without a card

	fuel string              // chosen by hand; "" follows the rig
	base setup.FlameQuestion // before the slider was moved
}

// FlameStops are the ratios of the three named flames of a fuel.
type FlameStops struct{ Carburizing, Neutral, Oxidizing float64 }

// Messages of the flame view.
type (
	// FlameMoved puts the slider at a ratio.
	FlameMoved struct{ Ratio float64 }
	// FlameFuelChosen shows another fuel; the card's own shows the card's tip again.
	FlameFuelChosen struct{ Fuel string }
)

func (FlameMoved) msg()      {}
func (FlameFuelChosen) msg() {}

func reduceFlame(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case FlameMoved:
		a.Flame = a.Flame.At(m.Ratio)
		return a, nil, true
	case FlameFuelChosen:
		if gas.Gas(m.Fuel).IsFuel() {
			a.Flame.fuel = m.Fuel
			a = a.flamed()
		}
		return a, nil, true
	}
	return a, nil, false
}

// flameStep is the step of the slider; the ratio of a torch is not set finer.
const flameStep = 0.01

// At moves the slider to a ratio, kept between its ends and on its steps, and works the flame out. A number that is none changes
// nothing.
func (f Flame) At(ratio float64) Flame {
	if math.IsNaN(ratio) {
		return f
	}
	step := min(max(onStep(ratio), f.Low), f.High)
	if f.CardRatio > 0 && step == onStep(f.CardRatio) {
		step = f.CardRatio // the card's own flame, not one beside it: its numbers are the card's
	}
	f.Question.Ratio = step
	answer, err := setup.FlameAt(f.Question)
	if err != nil {
		f.Answer, f.Error = nil, err.Error()
		return f
	}
	f.Answer, f.Error = &answer, ""
	return f
}

// onStep rounds a ratio to the slider's steps.
func onStep(ratio float64) float64 { return math.Round(ratio/flameStep) / (1 / flameStep) }

// The slider reaches from well below to well above the neutral range, as shares of its ends; so do the named flames. For
// acetylene the carburizing one is then 0.9, the middle of what OD0017 prints, and the oxidizing one 1.45, within its 1.15 to 1.7.
const (
	sliderLow        = 0.65
	sliderHigh       = 1.85
	carburizingShare = 0.9 / 1.04
	oxidizingShare   = 1.45 / 1.14
)

// flamed rebuilds the flame from card, rig and chosen fuel. A new card takes the slider to its ratio; otherwise the slider stays.
func (a App) flamed() App {
	f := &a.Flame
	card, fuel := a.Setup.Card, a.flameFuel()
	before, moved := f.base, f.Question.Ratio
	if f.Tip, f.CardRatio, f.Work = "", 0, ""; card != nil && card.FuelName == string(fuel) {
		f.Tip, f.CardRatio, f.Work = card.Tip, card.Ratio, card.Work
		f.Question = a.Setup.flame
	} else {
		f.Question = setup.ExampleFlame(fuel)
	}
	r := flame.NeutralRatio(fuel)
	f.Low, f.High = onStep(sliderLow*r.Neutral.Low), onStep(sliderHigh*r.Neutral.High)
	f.Low, f.High = min(f.Low, onStep(f.Question.Ratio)), max(f.High, onStep(f.Question.Ratio))
	f.Stops = FlameStops{onStep(carburizingShare * r.Neutral.Low), onStep(r.Neutral.Value), onStep(oxidizingShare * r.Neutral.High)}
	f.Longest = f.longestCone()
	if f.base = f.Question; f.base == before {
		*f = f.At(moved)
	} else {
		*f = f.At(f.base.Ratio)
	}
	return a
}

// longestCone looks at the ends of the slider and at every tenth between: a cone changes slowly with the ratio.
func (f Flame) longestCone() float64 {
	longest := 0.0
	const looks = 10
	q := f.Question
	for i := range looks + 1 {
		q.Ratio = f.Low + (f.High-f.Low)*float64(i)/looks
		longest = max(longest, q.ConeLength())
	}
	return longest
}

// flameFuel is the fuel chosen by hand, else the card's, else acetylene.
func (a App) flameFuel() gas.Gas {
	switch {
	case a.Flame.fuel != "":
		return gas.Gas(a.Flame.fuel)
	case a.Setup.Card != nil:
		return gas.Gas(a.Setup.Card.FuelName)
	}
	return gas.Acetylene
}
