package state

import (
	"math"
	"strings"
	"testing"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// A cylinder sold as 145 ft³ holds what so many cubic feet of the real gas weigh at 70 °F.
func TestCylinder_of_acetylene_takes_its_full_charge_as_it_is_sold(t *testing.T) {
	w := newWorld(t)
	w.add(KindCylinder, LineFuel, "gas", "acetylene", "full_as", "contents", "gross_mass", "38.6", "tare_mass", "34.2", "full_charge", "145 ft³")
	fuel := w.app.fuelSI()
	if fuel == nil || fuel.FullMassKg == nil {
		t.Fatalf("no full charge: %+v", w.app.Rig.Form)
	}
	// The mass of one standard volume is that volume times the density, whichever state the volume is counted at.
	want := 145 * units.CubicFoot * float64(gas.Acetylene.StandardRatio()) * float64(gas.Acetylene.StandardDensity())
	if math.Abs(*fuel.FullMassKg/want-1) > 1e-6 {
		t.Errorf("%v kg, want %v", *fuel.FullMassKg, want)
	}
}

func TestCylinder_says_what_it_understood_of_a_charge_as_sold(t *testing.T) {
	w := newWorld(t)
	w.post(PartAdded{Kind: KindCylinder, Line: LineFuel})
	w.fill("gas", "acetylene", "full_as", "contents", "full_charge", "145 ft³")
	read := ""
	for _, f := range w.app.Rig.Form.Fields {
		if f.Key == "full_charge" {
			read = f.Read
		}
		if f.Key == "full_mass" {
			t.Error("both ways are asked for at once")
		}
	}
	if !strings.Contains(read, "kg of gas, by the real density of acetylene") {
		t.Errorf("read %q", read)
	}
}

// More gas on the scale than a full cylinder holds is told at the field that was typed, whichever way it was.
func TestCylinder_overfull_by_its_size_as_sold_is_told(t *testing.T) {
	w := newWorld(t)
	w.post(PartAdded{Kind: KindCylinder, Line: LineFuel})
	w.fill("gas", "acetylene", "full_as", "contents", "gross_mass", "44", "tare_mass", "34", "full_charge", "40 ft³")
	for _, f := range w.app.Rig.Form.Fields {
		if f.Key == "full_charge" && !strings.Contains(f.Error, "cannot hold more") {
			t.Errorf("%+v", f)
		}
	}
}

// A form that nobody has touched claims nothing: what was saved was another part.
func TestForm_untouched_does_not_say_saved(t *testing.T) {
	w := byHand(t)
	if w.app.Saved.State != SaveDone {
		t.Fatalf("nothing was saved: %+v", w.app.Saved)
	}
	w.post(PartAdded{Kind: KindTorch})
	if w.app.Saved.State != "" {
		t.Errorf("a new form says %q", w.app.Saved.State)
	}
}
