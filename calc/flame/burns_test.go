package flame_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
)

// mixed is a mixture with a share of fuel in all of it.
func mixed(fuel, oxidizer gas.Gas, share float64) flame.Reactants {
	in := acetyleneOxygen((1 - share) / share)
	in.Fuel, in.Oxidizer = gas.Pure(fuel), oxidizer
	if oxidizer == gas.Air {
		in.Ratio *= 0.209476
	}
	return in
}

func burns(t *testing.T, in flame.Reactants) flame.Flammability {
	t.Helper()
	f, err := flame.Burns(in)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// Every limit in air of flammability.csv that was read (trust A, and B of Bulletin 627) lies within the limits used, and those
// of IEC 60079-20-1 are the limits, to the last digit: a mixture just inside burns, one just outside does not.
func TestBurns_by_the_limits_in_air(t *testing.T) {
	compared := 0
	for _, r := range calctest.Reference(t, "flammability.csv") {
		fuel, ok := fuelNames[r.Text("gas")]
		if !ok || r.Text("trust") == "C" || !strings.HasSuffix(r.Text("quantity"), "flammable limit in air") {
			continue
		}
		compared++
		share := r.Number("value") / 100
		if share > 0.8 {
			share = 0.7 // a little air must be left for a ratio to be taken
		}
		lower := strings.HasPrefix(r.Text("quantity"), "lower")
		outside := share * 1.01
		inside := share * 0.999
		if lower {
			outside, inside = share*0.99, share*1.001
		}
		if f := burns(t, mixed(fuel, gas.Air, inside)); !f.Burns || f.FromMemory || f.Source == "" {
			t.Errorf("%s: %v %% of %s does not burn: %v", r, 100*inside, fuel, f)
		}
		if strings.HasPrefix(r.Text("source"), "IEC") && r.Number("value") < 100 {
			if f := burns(t, mixed(fuel, gas.Air, outside)); f.Burns || !strings.Contains(f.Source, "IEC 60079-20-1") {
				t.Errorf("%s: %v %% of %s burns: %v", r, 100*outside, fuel, f)
			}
		}
	}
	if compared < 25 {
		t.Errorf("compared %d limits", compared)
	}
}

// Limits in oxygen are from memory and marked; the rows themselves decide nothing but that they are copied right.
func TestBurns_marks_limits_in_oxygen(t *testing.T) {
	for _, fuel := range gas.Fuels() {
		f := burns(t, mixed(fuel, gas.Oxygen, 0.3))
		if known := f.High > 0; known != f.FromMemory || !known && !strings.Contains(f.Source, "no limits with oxygen known") || !f.Burns {
			t.Errorf("%s: %+v", fuel, f)
		}
	}
	for _, fuel := range []gas.Gas{gas.Propane, gas.Methane, gas.Propylene} {
		if f := burns(t, mixed(fuel, gas.Oxygen, 0.65)); f.Burns || !strings.Contains(f.Source, "from memory") {
			t.Errorf("%s: %+v", fuel, f)
		}
	}
	if f := burns(t, mixed(gas.Acetylene, gas.Oxygen, 0.95)); !f.Burns {
		t.Errorf("acetylene decomposes alone, but: %+v", f)
	}
}

// Every torch flame of every fuel burns, and with a thousand times the air none does.
func TestBurns_at_the_torch(t *testing.T) {
	for _, fuel := range gas.Fuels() {
		in := acetyleneOxygen(flame.NeutralRatio(fuel).Neutral.Value)
		in.Fuel = gas.Pure(fuel)
		if f := burns(t, in); !f.Burns {
			t.Errorf("%s: %+v", fuel, f)
		}
		if f := burns(t, mixed(fuel, gas.Air, 0.005)); f.Burns {
			t.Errorf("%s: %+v", fuel, f)
		}
	}
}

// Law (Le Chatelier): a mixture of two fuels at its own limit has parts that use up their limits to one whole.
func TestBurns_mixes_limits(t *testing.T) {
	for x := 0.0; x <= 1; x += 0.125 {
		in := mixed(gas.Propane, gas.Air, 0.05)
		in.Fuel = gas.Mixture{gas.Propane: x, gas.Methane: 1 - x}
		f := burns(t, in)
		calctest.Near(t, x*f.Low/0.017+(1-x)*f.Low/0.044, 1, 1e-12, "Le Chatelier's rule")
		calctest.Near(t, x*f.High/0.109+(1-x)*f.High/0.17, 1, 1e-12, "Le Chatelier's rule")
		if mixture := x > 0 && x < 1; strings.Contains(f.Source, "Le Chatelier") != mixture {
			t.Errorf("share %v: %q", x, f.Source)
		}
	}
}

// The equilibrium of a mixture outside the limits is still given.
func TestSolve_gives_the_equilibrium_of_what_does_not_burn(t *testing.T) {
	in := mixed(gas.Propane, gas.Air, 0.01)
	if f := burns(t, in); f.Burns {
		t.Fatalf("%+v", f)
	}
	if e := solved(t, in); !(e.Temperature > 800 && e.Temperature < 1300) {
		t.Errorf("%v K", e.Temperature)
	}
}

func TestBurns_refuses_bad_input(t *testing.T) {
	in := acetyleneOxygen(math.NaN())
	_, err := flame.Burns(in)
	wantRange(t, err, "oxidizer_fuel_ratio")
	in = acetyleneOxygen(1)
	in.Fuel = gas.Pure("butane")
	if _, err := flame.Burns(in); !errors.Is(err, gas.ErrUnknown) {
		t.Errorf("got %v", err)
	}
}

func ExampleFlammability() {
	in := flame.Reactants{Fuel: gas.Pure(gas.Propane), Oxidizer: gas.Air, Ratio: 1, Purity: 1, Temperature: 293.15, Pressure: 101325}
	f, err := flame.Burns(in)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f)
	// Output: 17.3 % fuel does not burn by itself: the limits are 1.7 to 10.9 % (limits in air, IEC 60079-20-1:2010).
}
