package flame_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/flow"
	"torchside/calc/gas"
	"torchside/calc/units"
)

func contains(text, part string) bool { return strings.Contains(text, part) }

// wantRange fails unless err is a *gas.RangeError on the field with a reason.
func wantRange(t *testing.T, err error, field string) {
	t.Helper()
	var limit *gas.RangeError
	if !errors.As(err, &limit) {
		t.Fatalf("got %v, want a *gas.RangeError", err)
	}
	if limit.Field != field || limit.Why == "" {
		t.Errorf("got field %q in %q, want %q with a reason", limit.Field, err, field)
	}
}

var tip = flame.HoldOnInput{Fuel: gas.Acetylene, Ratio: 1.1, Diameter: 1e-3, ExitVelocity: 100, Temperature: 293.15, Ambient: units.StandardAtmosphere}

// Limiting case: in laminar flow f u²/(8ν) is 8u/D, the wall gradient of a parabolic profile (Hagen–Poiseuille).
func TestHoldOn_wall_gradient_is_that_of_a_parabola_when_laminar(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 500 {
		in := tip
		in.Diameter = units.Length(2e-4 + 1e-3*r.Float64())
		in.ExitVelocity = units.Speed(10 * r.Float64()) // Re below 1000 here
		got, err := flame.HoldOn(in)
		if err != nil {
			t.Fatal(err)
		}
		calctest.Near(t, got.WallGradient, 8*float64(in.ExitVelocity)/float64(in.Diameter), 1e-12, "exact law")
	}
}

// Law: the margin is the smaller of the two ratios, grows with velocity in every regime, and its band is one order of magnitude.
func TestHoldOn_margin_grows_with_velocity(t *testing.T) {
	for fuel, ratio := range map[gas.Gas]float64{gas.Acetylene: 1.1, gas.Propane: 4.3, gas.Propylene: 2.6, gas.Methane: 1.5, gas.Hydrogen: 0.5, gas.Methylacetylene: 2.5} {
		in := tip
		in.Fuel, in.Ratio = fuel, ratio
		last := -1.0
		for u := 0.5; u < 400; u *= 1.02 {
			in.ExitVelocity = units.Speed(u)
			got, err := flame.HoldOn(in)
			if err != nil {
				t.Fatal(err)
			}
			if got.Margin.Value <= last {
				t.Fatalf("%s: margin falls to %v at %v m/s", fuel, got.Margin.Value, u)
			}
			calctest.Near(t, got.Margin.Value, math.Min(got.VelocityRatio, got.GradientRatio), 1e-15, "definition")
			calctest.Near(t, got.Margin.High/got.Margin.Low, 10, 1e-12, "one order of magnitude")
			last = got.Margin.Value
		}
	}
}

// The estimate may only make advice stricter: it warns before and at pop-back, otherwise it adds nothing, and it always says
// that it is from memory and an order of magnitude.
func TestHoldOn_only_warns(t *testing.T) {
	cases := []struct {
		velocity units.Speed
		want     flame.HoldOnAdvice
	}{{0, flame.ExpectPopBack}, {4, flame.ExpectPopBack}, {15, flame.MayPopBack}, {100, flame.NothingToAdd}}
	for _, c := range cases {
		in := tip
		in.ExitVelocity = c.velocity
		got, err := flame.HoldOn(in)
		if err != nil {
			t.Fatal(err)
		}
		if got.Advice != c.want || !got.FromMemory || !contains(got.Source, "from memory") || !contains(got.Source, "pop-back estimate") {
			t.Errorf("at %v m/s: advice %q, want %q; %q", c.velocity, got.Advice, c.want, got.Source)
		}
	}
}

// A leaner or richer ratio than modelled takes the nearest model instead of failing: rigs run propylene at 2.6.
func TestHoldOn_takes_the_nearest_model(t *testing.T) {
	in := tip
	in.Fuel, in.Ratio = gas.Propylene, 2.6
	got, err := flame.HoldOn(in)
	if err != nil {
		t.Fatal(err)
	}
	edge, err := flame.BurningVelocity(gas.Propylene, 3.7)
	if err != nil || got.BurningVelocity != edge {
		t.Errorf("got %+v, want %+v, %v", got.BurningVelocity, edge, err)
	}
}

func TestHoldOn_refuses_bad_input(t *testing.T) {
	cases := []struct {
		field  string
		change func(*flame.HoldOnInput)
	}{
		{"diameter_m", func(in *flame.HoldOnInput) { in.Diameter = 0 }},
		{"exit_velocity_m_s", func(in *flame.HoldOnInput) { in.ExitVelocity = -1 }},
		{"exit_velocity_m_s", func(in *flame.HoldOnInput) { in.ExitVelocity = units.Speed(math.NaN()) }},
		{"oxidizer_fuel_ratio", func(in *flame.HoldOnInput) { in.Ratio = -0.1 }},
		{"temperature_k", func(in *flame.HoldOnInput) { in.Temperature = 0 }},
		{"ambient_abs_pa", func(in *flame.HoldOnInput) { in.Ambient = 0 }},
	}
	for _, c := range cases {
		in := tip
		c.change(&in)
		_, err := flame.HoldOn(in)
		wantRange(t, err, c.field)
	}
	in := tip
	in.Fuel = gas.Propadiene
	if _, err := flame.HoldOn(in); !errors.Is(err, flame.ErrNoBurningVelocity) {
		t.Errorf("propadiene: got %v", err)
	}
}

// The mean velocity of an orifice feeds the estimate: a small tip at 5 psi on both gauges, common practice, runs with a margin
// well above 1 (no source; the estimate itself is an order of magnitude).
func TestHoldOn_of_an_orifice(t *testing.T) {
	o := flow.Orifice{Mixture: gas.Mixture{gas.Oxygen: 1.1 / 2.1, gas.Acetylene: 1 / 2.1}, Diameter: 0.7e-3, DischargeCoefficient: 0.85,
		Upstream: units.StandardAtmosphere + 2e4, Downstream: units.StandardAtmosphere, Temperature: 293.15}
	r, err := o.Flow()
	if err != nil {
		t.Fatal(err)
	}
	in := tip
	in.Diameter, in.ExitVelocity = o.Diameter, r.MeanVelocity
	got, err := flame.HoldOn(in)
	if err != nil {
		t.Fatal(err)
	}
	if got.Advice != flame.NothingToAdd {
		t.Errorf("%v m/s: %+v", r.MeanVelocity, got)
	}
}
