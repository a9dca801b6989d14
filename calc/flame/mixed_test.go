package flame_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
)

// A mixture of one fuel is that fuel: range and class agree with NeutralRatio and Classify at every ratio.
func TestMixedNeutral_of_one_fuel_is_its_own(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, g := range gas.Fuels() {
		r, err := flame.MixedNeutral(gas.Pure(g))
		if err != nil {
			t.Fatal(err)
		}
		n := flame.NeutralRatio(g)
		if r.Ratio != n.Neutral || r.Source != n.Source || r.FromMemory != n.FromMemory {
			t.Errorf("%s: %+v, alone %+v", g, r, n)
		}
		for range 200 {
			ratio := 7 * random.Float64()
			if got, want := r.Class(ratio), flame.Classify(g, ratio); got != want {
				t.Errorf("%s at %v: %s, alone %s", g, ratio, got, want)
			}
		}
	}
}

// The range of a mixture lies on the straight line between those of its parts, and memory in one part marks the whole.
func TestMixedNeutral_is_weighted_by_mole(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 100 {
		x := 0.01 + 0.98*random.Float64()
		r, err := flame.MixedNeutral(gas.Mixture{gas.Acetylene: x, gas.Hydrogen: 1 - x})
		if err != nil {
			t.Fatal(err)
		}
		// OD0017 prints 1.04 to 1.14 for acetylene; hydrogen's 0.475 to 0.5 is from memory.
		calctest.Near(t, r.Ratio.Low, 1.04*x+0.475*(1-x), 1e-9, "weighted by mole")
		calctest.Near(t, r.Ratio.High, 1.14*x+0.5*(1-x), 1e-9, "weighted by mole")
		if !r.FromMemory {
			t.Error("hydrogen's range is from memory, the mixture's is not marked")
		}
	}
}

func TestMixedNeutral_refuses_what_is_no_fuel(t *testing.T) {
	for _, c := range []struct {
		fuel gas.Mixture
		want error
	}{{gas.Mixture{"oxygen": 1}, gas.ErrUnknown}, {gas.Mixture{"steam": 1}, gas.ErrUnknown}, {gas.Mixture{}, gas.ErrMixture}, {gas.Mixture{"methane": 0.5}, gas.ErrMixture}} {
		if _, err := flame.MixedNeutral(c.fuel); !errors.Is(err, c.want) {
			t.Errorf("%v: %v, want %v", c.fuel, err, c.want)
		}
	}
	r, err := flame.MixedNeutral(gas.Pure(gas.Acetylene))
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []float64{-1, math.NaN()} {
		if c := r.Class(bad); c != "" {
			t.Errorf("ratio %v is called %s", bad, c)
		}
	}
}
