package flame_test

import (
	"fmt"
	"math"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
)

// fuelNames are the names that fuel_gases.csv and flame_heats_of_combustion.csv use.
var fuelNames = map[string]gas.Gas{
	"acetylene": gas.Acetylene, "propane": gas.Propane, "propylene": gas.Propylene, "methane": gas.Methane, "hydrogen": gas.Hydrogen,
	"methylacetylene (propyne)": gas.Methylacetylene, "propyne (methylacetylene)": gas.Methylacetylene,
	"propadiene (allene)": gas.Propadiene, "allene (propadiene)": gas.Propadiene,
}

// Law: whatever tables say of neutral, it lies between burning to CO and H2 and complete burning.
func TestNeutralRatio_lies_between_the_chemical_ratios(t *testing.T) {
	for _, fuel := range gas.Fuels() {
		r := flame.NeutralRatio(fuel)
		n := r.Neutral
		if !(r.Primary > 0 && n.Low < n.High && n.Low <= n.Value && n.Value <= n.High && n.High <= r.Complete) {
			t.Errorf("%s: %+v", fuel, r)
		}
		if fuel != gas.Hydrogen && n.Low < r.Primary { // hydrogen has no CO and H2 stage
			t.Errorf("%s: neutral from %v, CO and H2 need %v", fuel, n.Low, r.Primary)
		}
		if r.Source == "" || n.Reason == "" {
			t.Errorf("%s: no source or reason", fuel)
		}
	}
}

// Oxygen for complete burning of fuel_gases.csv, stoichiometry rows; exact numbers.
func TestNeutralRatio_complete_of_the_table(t *testing.T) {
	compared := 0
	for _, r := range calctest.Reference(t, "fuel_gases.csv") {
		fuel, ok := fuelNames[r.Text("gas")]
		if !ok || r.Text("property") != "oxygen for complete combustion" || r.Text("trust") == "C" {
			continue
		}
		compared++
		calctest.Near(t, flame.NeutralRatio(fuel).Complete, r.Number("value"), 1e-15, "stoichiometry is exact")
	}
	if compared != 7 {
		t.Errorf("compared %d fuels, want 7", compared)
	}
}

// The three flames of Army Ordnance OD0017 in flames.csv are classed as printed over their whole ranges, and the gap it leaves
// between carburizing and neutral is carburizing.
func TestClassify_acetylene_as_printed(t *testing.T) {
	printed := map[string]flame.Class{"carburizing (reducing)": flame.Carburizing, "neutral": flame.Neutral, "oxidizing": flame.Oxidizing}
	compared := 0
	for _, r := range calctest.Where(t, calctest.Reference(t, "flames.csv"), "source", "Army Ordnance OD0017") {
		want, ok := printed[r.Text("flame")]
		if !ok {
			continue
		}
		low, high := r.Number("torch_oxygen_ratio_low"), r.Number("torch_oxygen_ratio_high")
		for _, ratio := range []float64{low, (low + high) / 2, high} {
			compared++
			if got := flame.Classify(gas.Acetylene, ratio); got != want {
				t.Errorf("%s: ratio %v is %q", r, ratio, got)
			}
		}
	}
	if compared != 9 {
		t.Errorf("compared %d ratios, want 9", compared)
	}
	for _, ratio := range []float64{0.96, 1, 1.03} {
		if got := flame.Classify(gas.Acetylene, ratio); got != flame.Carburizing {
			t.Errorf("gap ratio %v is %q", ratio, got)
		}
	}
}

// Law: with growing oxygen the class goes carburizing, neutral, oxidizing and never back; the usual setting is neutral.
func TestClassify_is_ordered_for_every_fuel(t *testing.T) {
	rank := map[flame.Class]int{flame.Carburizing: 1, flame.Neutral: 2, flame.Oxidizing: 3}
	for _, fuel := range gas.Fuels() {
		last := 1
		for ratio := 0.0; ratio < 8; ratio += 0.001 {
			now := rank[flame.Classify(fuel, ratio)]
			if now < last {
				t.Fatalf("%s: class falls back to %d at %v", fuel, now, ratio)
			}
			last = now
		}
		r := flame.NeutralRatio(fuel)
		if last != 3 || flame.Classify(fuel, r.Neutral.Value) != flame.Neutral || flame.Classify(fuel, 0) != flame.Carburizing {
			t.Errorf("%s: ends as %d, usual is %q", fuel, last, flame.Classify(fuel, r.Neutral.Value))
		}
	}
}

func TestClassify_answers_nothing_for_no_fuel_and_no_ratio(t *testing.T) {
	for _, got := range []flame.Class{flame.Classify(gas.Oxygen, 1), flame.Classify("butane", 1), flame.Classify(gas.Acetylene, math.NaN()), flame.Classify(gas.Acetylene, -1)} {
		if got != "" {
			t.Errorf("got %q, want nothing", got)
		}
	}
	if got := flame.NeutralRatio(gas.Nitrogen); got != (flame.Ratios{}) {
		t.Errorf("got %+v, want the zero Ratios", got)
	}
}

// worked_examples.csv WE-24: of 10 ft³/h acetylene at torch ratio 1.1, the torch gives 11 ft³/h of oxygen and the air 14.
func ExampleNeutralRatio() {
	r := flame.NeutralRatio(gas.Acetylene)
	torch := 10 * r.Neutral.Value
	fmt.Printf("neutral %.2f to %.2f; torch %.0f, air %.0f\n", r.Neutral.Low, r.Neutral.High, torch, 10*r.Complete-torch)
	// Output: neutral 1.04 to 1.14; torch 11, air 14
}
