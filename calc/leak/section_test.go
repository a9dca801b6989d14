package leak_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

// gasesFor lists the gases a section holds.
func gasesFor(s leak.Section) []gas.Gas {
	var list []gas.Gas
	for _, g := range gas.All() {
		if s.Fits(g) {
			list = append(list, g)
		}
	}
	return list
}

// prepare asks where the answer must exist.
func prepare(t *testing.T, s leak.Section, g gas.Gas) leak.Preparation {
	t.Helper()
	p, err := leak.Prepare(s, g, 0)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Every section has its preparation and its joints, each with a source, cautions before anything else, and no fuel above 15 psi.
func TestEverySectionIsPreparedWithCautionsFirst(t *testing.T) {
	for _, s := range leak.Sections() {
		if s.Name() == "" || len(gasesFor(s)) == 0 {
			t.Errorf("section %s has no name or no gas", s)
		}
		for _, g := range gasesFor(s) {
			p := prepare(t, s, g)
			if len(p.Cautions) < 4 || p.Cautions[0].Code != "no_flame" || !p.Cautions[0].Stop {
				t.Errorf("%s, %s: cautions %+v", s, g, p.Cautions)
			}
			for _, n := range p.Cautions {
				if n.Text == "" || n.Source == "" || n.Trust == "" {
					t.Errorf("%s, %s: caution %+v", s, g, n)
				}
			}
			for _, step := range p.Steps {
				if step.Text == "" || step.Source == "" || step.Trust == "" {
					t.Errorf("%s, %s: step %+v", s, g, step)
				}
			}
			if g.IsFuel() && (p.GaugeMaximum > leak.AcetyleneMaximum || p.Gauge > p.GaugeMaximum) {
				t.Errorf("%s, %s: %v of at most %v", s, g, p.Gauge, p.GaugeMaximum)
			}
			if joints, err := leak.Joints(s, g); err != nil || len(joints) == 0 {
				t.Errorf("%s, %s: joints %v, %v", s, g, joints, err)
			}
		}
	}
}

// The cautions that the job asks for are there for every section: no flame, fresh air, no oil, the right soap.
func TestCautionsNameWhatCountsMost(t *testing.T) {
	for _, s := range leak.Sections() {
		for _, g := range gasesFor(s) {
			for _, want := range []string{"no_flame", "ventilate", "no_oil", "soap"} {
				if there, _ := code(prepare(t, s, g).Cautions, want); !there {
					t.Errorf("%s, %s: no caution %s", s, g, want)
				}
			}
			if there, _ := code(prepare(t, s, g).Cautions, "fuel_15_psi"); there != g.IsFuel() {
				t.Errorf("%s, %s: the 15 psi caution is %v", s, g, there)
			}
		}
	}
}

// A fuel supply is tested only with the cylinder shut, because it refills, and by the gauge alone where there are no gas data.
func TestAFuelSupplyIsTestedOnlyWithTheCylinderShut(t *testing.T) {
	for _, g := range gas.Fuels() {
		p := prepare(t, leak.FuelSupply, g)
		there := false
		for _, n := range p.Cautions {
			there = there || n.Code == "refills" && strings.Contains(n.Text, "Only with the cylinder valve closed") && strings.Contains(n.Text, "small volume")
		}
		if !there {
			t.Errorf("%s: cautions %+v", g, p.Cautions)
		}
		if want := g.Storage() != gas.StoredCompressed; p.GaugeOnly != want {
			t.Errorf("%s: gauge only is %v", g, p.GaugeOnly)
		}
	}
	if there, _ := code(prepare(t, leak.OxygenSupply, gas.Oxygen).Cautions, "refills"); there || prepare(t, leak.OxygenSupply, gas.Oxygen).GaugeOnly {
		t.Error("oxygen does not refill")
	}
}

// Up high the absolute limit of acetylene does not bind before 15 psi; in a pressurised place it does.
func TestTheAbsoluteLimitOfAcetyleneBindsUnderPressure(t *testing.T) {
	p, err := leak.Prepare(leak.FuelDelivery, gas.Acetylene, 115e3)
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, float64(p.GaugeMaximum), 30*units.PSI-115e3, 1e-12, "29 CFR 1910.253(a)(2): 30 psi absolute")
}

func TestUnknownAndWrongSectionsAreRefused(t *testing.T) {
	_, err := leak.ParseSection("cellar")
	var unknown *leak.UnknownSectionError
	if !errors.As(err, &unknown) || !strings.Contains(err.Error(), `"cellar"`) || !strings.Contains(err.Error(), "oxygen_delivery") {
		t.Error(err)
	}
	var wrong *leak.WrongSectionError
	for _, c := range []struct {
		s leak.Section
		g gas.Gas
	}{{leak.OxygenDelivery, gas.Propane}, {leak.FuelSupply, gas.Oxygen}, {leak.WholeRig, gas.Argon}} {
		if _, err := leak.Prepare(c.s, c.g, 0); !errors.As(err, &wrong) || !strings.Contains(err.Error(), "choose") {
			t.Errorf("%s, %s: %v", c.s, c.g, err)
		}
		if _, err := leak.Joints(c.s, c.g); !errors.As(err, &wrong) {
			t.Errorf("%s, %s: %v", c.s, c.g, err)
		}
	}
	if _, err := leak.Prepare(leak.WholeRig, "steam", 0); !errors.Is(err, gas.ErrUnknown) {
		t.Error(err)
	}
	if _, err := leak.Prepare(leak.WholeRig, gas.Oxygen, 1); err == nil {
		t.Error("a barometer of 1 Pa is no error")
	}
	if _, err := (leak.Line{}).Parts("cellar"); !errors.As(err, &unknown) {
		t.Error(err)
	}
	if leak.Section("cellar").Fits(gas.Oxygen) {
		t.Error("the cellar holds no oxygen")
	}
}

// The trade's rules: which gauge moved tells the side. Delivery alone: Campbell; a rising delivery gauge: Navy; the rest common practice.
func TestWhichGaugeMovedTellsTheSide(t *testing.T) {
	for _, c := range []struct {
		name             string
		backedOut        bool
		supply, delivery leak.Movement
		side             leak.Side
		stop             bool
	}{
		{"nothing moved", true, leak.Held, leak.Held, leak.Nowhere, false},
		{"only the delivery gauge fell", true, leak.Held, leak.Fell, leak.DeliverySide, true},
		{"only the cylinder gauge fell", true, leak.Fell, leak.Held, leak.SupplySide, true},
		{"the delivery gauge rose", true, leak.Held, leak.Rose, leak.Seat, true},
		{"the delivery gauge rose as the other fell", true, leak.Fell, leak.Rose, leak.Seat, true},
		{"creep with the screw in", false, leak.Held, leak.Rose, leak.Seat, true},
		{"the cylinder valve passes", true, leak.Rose, leak.Held, leak.Valve, true},
	} {
		f, ok := leak.Locate(c.backedOut, c.supply, c.delivery)
		if !ok || f.Sides[0] != c.side || f.Stop != c.stop {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
	// With the screw in, the regulator feeds the hose: a falling cylinder gauge alone tells no side.
	if f, _ := leak.Locate(false, leak.Fell, leak.Held); len(f.Sides) != 2 || !strings.Contains(f.Next, "Back the screw out") {
		t.Errorf("%+v", f)
	}
}

// The table is whole: every pair of movements, screw in or out, has text, a next step and a source; anything else is refused.
func TestTheDecisionTableIsWhole(t *testing.T) {
	moves := []leak.Movement{leak.Fell, leak.Held, leak.Rose}
	for _, out := range []bool{true, false} {
		for _, s := range moves {
			for _, d := range moves {
				f, ok := leak.Locate(out, s, d)
				if !ok || f.Code == "" || f.Text == "" || f.Next == "" || f.Source == "" || f.Trust == "" || len(f.Sides) == 0 {
					t.Errorf("%v, %s, %s: %+v", out, s, d, f)
				}
				if still := s == leak.Held && d == leak.Held; f.Stop == still {
					t.Errorf("%v, %s, %s: stop is %v", out, s, d, f.Stop)
				}
			}
		}
	}
	if _, ok := leak.Locate(true, "sideways", leak.Held); ok {
		t.Error("a gauge cannot move sideways")
	}
}

func TestGasCrossingBetweenTheHosesIsSeen(t *testing.T) {
	moves := []leak.Movement{leak.Fell, leak.Held, leak.Rose}
	for _, o := range moves {
		for _, f := range moves {
			found, ok := leak.Crossing(o, f)
			want := o == leak.Fell && f == leak.Rose || o == leak.Rose && f == leak.Fell
			if ok != want || ok && (!found.Stop || found.Next == "") {
				t.Errorf("%s, %s: %+v %v", o, f, found, ok)
			}
		}
	}
}

// A gauge alone moved only when two readings cannot be the same, and not when the temperature moved.
func TestAGaugeAloneMustMoveByMoreThanItsErrors(t *testing.T) {
	for _, c := range []struct {
		end    units.GaugePressure
		stayed bool
		want   leak.Movement
		ok     bool
	}{{15e5, true, leak.Held, true}, {14e5, true, leak.Held, true}, {13.9e5, true, leak.Fell, true}, {16.1e5, true, leak.Rose, true}, {10e5, false, leak.Held, false}} {
		if m, ok := leak.MovedByGauge(15e5, c.end, 0.5e5, c.stayed); m != c.want || ok != c.ok {
			t.Errorf("15 to %v bar: %s, %v", c.end/1e5, m, ok)
		}
	}
}

// The volume behind a gauge: a hose is a cylinder of its bore, what nobody measured is said to be from memory, errors are added.
func TestTheVolumeOfASectionIsThatOfItsParts(t *testing.T) {
	line := leak.Line{Hoses: []leak.Hose{{InsideDiameter: 6.3e-3, Length: 5}}, Arrestors: 1}
	parts, err := line.Parts(leak.OxygenDelivery)
	if err != nil {
		t.Fatal(err)
	}
	volume, off := leak.Sum(parts)
	hose := math.Pi / 4 * 6.3e-3 * 6.3e-3 * 5
	rest := 0.0
	for _, p := range parts {
		if p.Code == "hose_1" {
			calctest.Near(t, float64(p.Volume), hose, 1e-12, "geometry")
			continue
		}
		rest += float64(p.Volume)
		if p.Trust != leak.TrustMemory || !strings.Contains(p.Source, "memory") || p.Error < 0.4*p.Volume {
			t.Errorf("%+v passes for measured", p)
		}
	}
	calctest.Near(t, float64(volume), hose+rest, 1e-12, "a sum")
	if off <= 0 || float64(off) >= 0.5*float64(volume) {
		t.Errorf("error %v of %v", off, volume)
	}
	for _, s := range []leak.Section{leak.OxygenSupply, leak.FuelSupply, leak.WholeRig} {
		supply, err := line.Parts(s)
		if v, e := leak.Sum(supply); err != nil || len(supply) != 1 || v >= volume || e >= v*leak.VolumeErrorShare {
			t.Errorf("%s: %+v %v", s, supply, err)
		}
	}
	// A volume with such an error is one that Test takes.
	test := hoseTest(1.9, 20, 600)
	test.Volume, test.VolumeError = volume, off
	if result(t, test).Leak.High <= result(t, hoseTest(1.9, 20, 600)).Leak.High {
		t.Error("a remembered volume must make the verdict stricter")
	}
}

// With the regulator open both sides lose as one: their bands add.
func TestTogetherAddsBothSides(t *testing.T) {
	got := leak.Together(units.Band{Value: 1, Low: 0.5, High: 2}, units.Band{Value: 3, Low: -1, High: 4})
	if got.Value != 4 || got.Low != -0.5 || got.High != 6 {
		t.Errorf("%+v", got)
	}
}
