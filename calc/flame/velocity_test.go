package flame_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
)

var velocityFuels = map[string]gas.Gas{
	"C2H2": gas.Acetylene, "C3H4-propyne": gas.Methylacetylene, "C3H6": gas.Propylene, "C3H8": gas.Propane, "CH4": gas.Methane, "H2": gas.Hydrogen,
}

// Every flame of burning_velocity_computed.csv with oxygen at 25 °C and 1 atm lies between Low and High, and the mean of the
// models at a ratio is Value.
func TestBurningVelocity_against_computed_flames(t *testing.T) {
	type key struct {
		fuel  gas.Gas
		ratio float64
	}
	sums, counts := map[key]float64{}, map[key]float64{}
	for _, r := range calctest.Where(t, calctest.Reference(t, "burning_velocity_computed.csv"), "oxidizer", "O2") {
		if r.Number("unburnt_temperature_K") != 298.15 || r.Number("pressure_Pa") != 101325 {
			continue
		}
		k := key{velocityFuels[r.Text("fuel")], r.Number("o2_per_fuel_mol_per_mol")}
		v := r.Number("laminar_burning_velocity_m_per_s")
		b, err := flame.BurningVelocity(k.fuel, k.ratio)
		if err != nil {
			t.Fatalf("%s: %v", r, err)
		}
		if v < b.Low-5e-5 || v > b.High+5e-5 { // four decimals in the table
			t.Errorf("%s: %v is outside %+v", r, v, b)
		}
		sums[k] += v
		counts[k]++
	}
	w := calctest.NewWorst("mean burning velocity", 2e-5, "the table has five digits")
	for k, sum := range sums {
		b, err := flame.BurningVelocity(k.fuel, k.ratio)
		if err != nil {
			t.Fatal(err)
		}
		w.Add(t, b.Value, sum/counts[k], fmt.Sprintf("%s at %v", k.fuel, k.ratio))
	}
	if w.Count() != 18 {
		t.Errorf("compared %d ratios, want 18", w.Count())
	}
	w.Report(t)
}

// The remembered maxima are those of burning_velocity.csv, all trust C: they only widen the band and decide nothing, so the test
// checks that they are copied right and marked.
func TestBurningVelocity_marks_remembered_maxima(t *testing.T) {
	ratios := map[gas.Gas]float64{gas.Acetylene: 1.1, gas.Hydrogen: 0.5, gas.Methane: 2, gas.Propane: 4.3, gas.Propylene: 4}
	compared := 0
	for _, r := range calctest.Where(t, calctest.Reference(t, "burning_velocity.csv"), "oxidiser", "oxygen") {
		fuel := gas.Gas(r.Text("fuel"))
		if r.Text("quantity") != "maximum burning velocity" {
			continue
		}
		compared++
		b, err := flame.BurningVelocity(fuel, ratios[fuel])
		if err != nil {
			t.Fatal(err)
		}
		calctest.Near(t, b.High, r.Number("value")/100, 1e-12, "copied number")
		if r.Text("trust") == "C" && !contains(b.Reason, "from memory") {
			t.Errorf("%s: not marked: %q", fuel, b.Reason)
		}
	}
	if compared != len(ratios) {
		t.Errorf("compared %d fuels, want %d", compared, len(ratios))
	}
}

// Law: the band is in order and without jumps over the whole range of every fuel.
func TestBurningVelocity_is_ordered_and_continuous(t *testing.T) {
	ranges := map[gas.Gas][2]float64{gas.Acetylene: {0.9, 4}, gas.Methylacetylene: {2.5, 4}, gas.Propylene: {3.7, 4.5},
		gas.Propane: {4.3, 5}, gas.Methane: {1.8, 2}, gas.Hydrogen: {0.42, 0.5}}
	for fuel, ends := range ranges {
		last := math.NaN()
		for i := range 1001 {
			b, err := flame.BurningVelocity(fuel, ends[0]+(ends[1]-ends[0])*float64(i)/1000)
			if err != nil {
				t.Fatal(err)
			}
			if !(b.Low < b.Value && b.Value < b.High) || math.Abs(b.Value-last) > 0.02 {
				t.Fatalf("%s, step %d: %+v after %v", fuel, i, b, last)
			}
			last = b.Value
		}
	}
}

func TestBurningVelocity_says_when_nothing_is_known(t *testing.T) {
	for _, g := range []gas.Gas{gas.Propadiene, gas.Oxygen, "butane"} {
		if _, err := flame.BurningVelocity(g, 2.5); !errors.Is(err, flame.ErrNoBurningVelocity) {
			t.Errorf("%q: got %v", g, err)
		}
	}
	for _, ratio := range []float64{0, 0.5, 5, math.NaN()} {
		_, err := flame.BurningVelocity(gas.Acetylene, ratio)
		wantRange(t, err, "oxidizer_fuel_ratio")
	}
}

// Within the models the nearest burning velocity is the one at the ratio; outside it is that of the nearest end.
func TestNearestBurningVelocity_takes_the_nearest_modelled_ratio(t *testing.T) {
	for asked, taken := range map[float64]float64{0.5: 0.9, 0.9: 0.9, 1.2: 1.2, 4: 4, 9: 4} {
		got, err := flame.NearestBurningVelocity(gas.Acetylene, asked)
		want, err2 := flame.BurningVelocity(gas.Acetylene, taken)
		if err := errors.Join(err, err2); err != nil || got != want {
			t.Errorf("at %v: %+v, want that of %v: %+v (%v)", asked, got, taken, want, err)
		}
	}
	if _, err := flame.NearestBurningVelocity(gas.Propadiene, 2.5); !errors.Is(err, flame.ErrNoBurningVelocity) {
		t.Errorf("propadiene: %v", err)
	}
}
