package flame_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// Law: at the velocities found the margin of HoldOn is what they stand for, so that the advised flow is the first one to which
// the estimate adds nothing; fuel and oxygen fill the hole at that velocity.
func TestLowestFlowAdvised_is_the_first_flow_without_a_warning(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	for range 300 {
		in := tip
		in.Diameter = units.Length(3e-4 + 3e-3*r.Float64())
		in.Ratio = 0.9 + r.Float64()
		l, err := flame.LowestFlowAdvised(in, 0)
		if err != nil {
			t.Fatal(err)
		}
		for velocity, margin := range map[float64]float64{l.Velocity.Low: 1 / math.Sqrt(10), l.Velocity.Value: 1, l.Velocity.High: math.Sqrt(10)} {
			in.ExitVelocity = units.Speed(velocity)
			h, err := flame.HoldOn(in)
			if err != nil {
				t.Fatal(err)
			}
			// The friction factor jumps at Re 2000 to 4000; there a whole span of margins belongs to one velocity.
			calctest.Near(t, h.Margin.Value, margin, 1e-9, "definition")
		}
		calctest.Near(t, float64(l.Advised), l.Estimate.High, 1e-15, "without a maker's flow")
		moles := float64(l.Advised) * float64(gas.Acetylene.StandardDensity()) / gas.Acetylene.MolarMass() * (1 + in.Ratio)
		area := math.Pi / 4 * float64(in.Diameter) * float64(in.Diameter)
		calctest.Near(t, moles*gas.R*float64(in.Temperature)/float64(in.Ambient)/area, l.Velocity.High, 1e-9, "ideal gas")
		if !l.FromMemory || !contains(l.Source, "from memory") || l.FromMaker {
			t.Errorf("not marked: %+v", l)
		}
	}
}

// The advice is never below the maker's smallest flow, whatever the estimate says, and never below the estimate either.
func TestLowestFlowAdvised_never_goes_below_the_maker(t *testing.T) {
	alone, err := flame.LowestFlowAdvised(tip, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, factor := range []float64{0.01, 0.5, 0.999, 1, 1.001, 3, 50} {
		maker := units.StandardFlow(factor) * alone.Advised
		l, err := flame.LowestFlowAdvised(tip, maker)
		if err != nil {
			t.Fatal(err)
		}
		if l.Advised < maker || l.Advised < alone.Advised || l.FromMaker != (factor >= 1) {
			t.Errorf("factor %v: %+v", factor, l)
		}
	}
}

func TestLowestFlowAdvised_refuses_bad_input(t *testing.T) {
	for _, minimum := range []float64{-1, math.NaN(), math.Inf(1)} {
		_, err := flame.LowestFlowAdvised(tip, units.StandardFlow(minimum))
		wantRange(t, err, "makers_minimum_std_m3_s")
	}
	in := tip
	in.Diameter = 0
	_, err := flame.LowestFlowAdvised(in, 0)
	wantRange(t, err, "diameter_m")
	in = tip
	in.Fuel = gas.Propadiene
	if _, err := flame.LowestFlowAdvised(in, 0); !errors.Is(err, flame.ErrNoBurningVelocity) {
		t.Errorf("got %v", err)
	}
}

// The message says what to do, and there is none that permits.
func TestHoldOnAdvice_says_what_to_do(t *testing.T) {
	want := map[flame.HoldOnAdvice]string{
		flame.MayPopBack:    "Turn the fuel up or fit a smaller tip: at this flow the flame can pop back.",
		flame.ExpectPopBack: "Turn the fuel up or fit a smaller tip: at this flow expect the flame to pop back.",
		flame.NothingToAdd:  "",
	}
	for advice, sentence := range want {
		if got := advice.Sentence(); got != sentence {
			t.Errorf("%q: %q", advice, got)
		}
	}
}
