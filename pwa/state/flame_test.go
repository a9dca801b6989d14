package state

import (
	"math"
	"testing"

	"torchside/calc/flame"
)

// Before there is a card the slider shows an example: the usual flame of acetylene, neutral, with its named stops in their classes.
func TestFlame_without_a_card_is_a_neutral_example(t *testing.T) {
	w := newWorld(t)
	f := w.app.Flame
	if f.Answer == nil || f.Answer.Class != flame.Neutral || f.Tip != "" || f.Question.Fuel != "acetylene" {
		t.Fatalf("%+v", f)
	}
	for _, c := range []struct {
		ratio float64
		want  flame.Class
	}{{f.Stops.Carburizing, flame.Carburizing}, {f.Stops.Neutral, flame.Neutral}, {f.Stops.Oxidizing, flame.Oxidizing}} {
		w.post(FlameMoved{Ratio: c.ratio})
		if got := w.app.Flame; got.Answer.Class != c.want || got.Question.Ratio != c.ratio {
			t.Errorf("the stop at %v shows %s at %v", c.ratio, got.Answer.Class, got.Question.Ratio)
		}
	}
}

// The slider ends where it ends, stands on its steps, and a number that is none moves nothing.
func TestFlame_stays_on_the_slider(t *testing.T) {
	w := newWorld(t)
	f := w.app.Flame
	for _, c := range []struct{ to, want float64 }{{0, f.Low}, {-3, f.Low}, {1e9, f.High}, {math.Inf(1), f.High}, {1.2345, 1.23}} {
		w.post(FlameMoved{Ratio: c.to})
		if got := w.app.Flame.Question.Ratio; got != c.want {
			t.Errorf("moved to %v: stands at %v, want %v", c.to, got, c.want)
		}
	}
	before := w.app.Flame.Question.Ratio
	w.post(FlameMoved{Ratio: math.NaN()})
	if got := w.app.Flame; got.Question.Ratio != before || got.Answer == nil {
		t.Errorf("not a number moved the slider to %v", got.Question.Ratio)
	}
}

// Each fuel has its own slider, and its stops are the classes they are named for.
func TestFlame_has_stops_for_every_fuel(t *testing.T) {
	w := newWorld(t)
	for _, fuel := range []string{"acetylene", "propane", "propylene", "methylacetylene", "propadiene", "methane", "hydrogen"} {
		w.post(FlameFuelChosen{Fuel: fuel})
		f := w.app.Flame
		if f.Answer == nil || string(f.Question.Fuel) != fuel {
			t.Fatalf("%s: %+v", fuel, f)
		}
		for ratio, want := range map[float64]flame.Class{f.Stops.Carburizing: flame.Carburizing, f.Stops.Neutral: flame.Neutral, f.Stops.Oxidizing: flame.Oxidizing} {
			if at := f.At(ratio); at.Answer.Class != want || ratio <= f.Low || ratio >= f.High {
				t.Errorf("%s: the stop at %v is %s, want %s", fuel, ratio, at.Answer.Class, want)
			}
		}
	}
	w.post(FlameFuelChosen{Fuel: "petrol"})
	if w.app.Flame.Question.Fuel != "hydrogen" {
		t.Error("an unknown fuel was taken")
	}
}

// With a card the flame is that of its tip and ratio; a new card takes the slider along, other messages leave it.
func TestFlame_follows_the_card(t *testing.T) {
	w := newWorld(t)
	w.post(SampleAdded{})
	w.post(SetupTyped{Field: "thickness", Text: "1/8 in"})
	card := w.app.Setup.Card
	f := w.app.Flame
	if card == nil || f.Tip != card.Tip || math.Abs(f.Question.Ratio-card.Ratio) > 0.005 || f.Question.FuelFlowStd != card.Fuel.FlowStdM3S {
		t.Fatalf("card %+v, flame %+v", card, f)
	}
	if f.Question.MakersMinimumStd != 220*litresPerHour {
		t.Errorf("the maker's smallest flow is %v, the chart row begins at 220 L/h", f.Question.MakersMinimumStd)
	}
	w.post(FlameMoved{Ratio: 1.4})
	w.post(RegionChosen{Region: RegionUS})
	if got := w.app.Flame.Question.Ratio; got != 1.4 {
		t.Errorf("choosing hose colours moved the slider to %v", got)
	}
	w.post(SetupTyped{Field: "ratio", Text: "0.9"})
	if got := w.app.Flame.Question.Ratio; got != 0.9 {
		t.Errorf("the card is for 0.9, the slider stands at %v", got)
	}
	w.post(SetupTyped{Field: "ratio", Text: "0.9x"})
	if got := w.app.Flame; got.Tip != card.Tip || got.Question.Ratio != 0.9 {
		t.Errorf("a mistake in a field changed the flame of the last good card: %+v", got)
	}
	w.post(FlameFuelChosen{Fuel: "propane"})
	if w.app.Flame.Tip != "" {
		t.Error("propane is shown on the card's acetylene tip")
	}
}

// A bigger tip with its bigger flow has the longer cone, at every ratio.
func TestFlame_is_longer_on_a_bigger_tip(t *testing.T) {
	w := newWorld(t)
	w.post(SampleAdded{})
	w.post(SetupTyped{Field: "thickness", Text: "1.5 mm"})
	small := w.app.Flame
	w.post(SetupTyped{Field: "thickness", Text: "5 mm"})
	large := w.app.Flame
	if small.Tip == large.Tip {
		t.Fatalf("both thicknesses take %s", small.Tip)
	}
	for _, ratio := range []float64{0.9, 1.1, 1.5} {
		if s, l := small.At(ratio).Answer.Tip.Cone.Value, large.At(ratio).Answer.Tip.Cone.Value; l <= s {
			t.Errorf("ratio %v: %v m on %s, %v m on %s", ratio, s, small.Tip, l, large.Tip)
		}
	}
}

// Where the slider stands at the card's flame it is the card's flame: no number differs by the last digit of a ratio.
func TestFlame_at_the_cards_step_is_the_cards_flame(t *testing.T) {
	f := Flame{}
	f.Low, f.High, f.CardRatio = 0.8, 1.6, 1.0842
	for ratio, want := range map[float64]float64{1.08: 1.0842, 1.0842: 1.0842, 1.1: 1.1, 1.06: 1.06} {
		if got := f.At(ratio).Question.Ratio; got != want {
			t.Errorf("at %v: %v, want %v", ratio, got, want)
		}
	}
}
