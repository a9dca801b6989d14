package setup

import (
	"math"
	"strings"
	"testing"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// Each bad input is refused with what was read, what is allowed, and why; the code says which rule it was.
func TestCompute_refusesBadInput(t *testing.T) {
	for _, c := range []struct {
		name, code, read string
		change           func(*Input)
	}{
		{"thickness zero", "out_of_range", "0 mm", func(in *Input) { in.ThicknessM = 0 }},
		{"thickness negative", "out_of_range", "-3 mm", func(in *Input) { in.ThicknessM = -0.003 }},
		{"thickness of 4 km", "out_of_range", "mm", func(in *Input) { in.ThicknessM = 4000 }},
		{"thickness not a number", "out_of_range", "NaN", func(in *Input) { in.ThicknessM = math.NaN() }},
		{"thickness infinite", "out_of_range", "Inf", func(in *Input) { in.ThicknessM = math.Inf(1) }},
		{"cylinder at 500 bar", "out_of_range", "500 bar", func(in *Input) { in.Rig.OxygenCylinder.GaugePressurePa = 500e5 }},
		{"temperature of -300 °C", "out_of_range", "-300 °C", func(in *Input) { in.TemperatureK = -26.85 }},
		{"hose of no length", "out_of_range", "0 m", func(in *Input) { in.Rig.FuelHose.LengthM = 0 }},
		{"tip larger than the hose", "tip_larger_than_hose", "5.5 mm", func(in *Input) {
			in.Rig.OxygenHose.InsideDiameterM = 0.005
			in.Rig.Tips[0].OrificeDiameterM = p(0.0055)
		}},
		{"chart row turned round", "range_reversed", "4 mm", func(in *Input) {
			in.Rig.Tips[0].Chart = []ChartRow{{ThicknessM: &Range{0.004, 0.002}, FuelGaugePa: &Range{3e4, 4e4}}}
		}},
		{"acetylene set above 15 psi", "acetylene_pressure", "20 psi", func(in *Input) {
			in.Rig.Tips[0].Chart = []ChartRow{{FuelGaugePa: &Range{5 * units.PSI, 20 * units.PSI}}}
		}},
		{"no tip that fits", "no_tip_fits", "small", func(in *Input) {
			in.Rig.Tips = []Tip{{Label: "small", OrificeDiameterM: p(0.0003)}, {Label: "drill", OrificeDiameterM: p(0.004)}}
		}},
		{"empty rig", "rig_incomplete", "no fuel cylinder, no torch, no tip", func(in *Input) { in.Rig = &Rig{} }},
		{"no rig", "rig_incomplete", "no fuel cylinder", func(in *Input) { in.Rig = nil }},
		{"propane chosen to weld steel", "fuel_cannot_weld_steel", "propane", func(in *Input) { in.Rig.FuelCylinder.Fuel = gas.Propane }},
		{"hose of a grade that does not suit the fuel", "hose_grade", "R with propane", func(in *Input) {
			in.Work, in.Rig.FuelCylinder.Fuel, in.Rig.FuelHose.Grade = Heat, gas.Propane, GradeR
		}},
		{"oxygen for a fuel", "not_a_fuel", "oxygen", func(in *Input) { in.Rig.FuelCylinder.Fuel = gas.Oxygen }},
		{"unknown work", "unknown_work", "forge", func(in *Input) { in.Work = "forge" }},
		{"unknown metal", "unknown_metal", "nothing", func(in *Input) { in.Metal = "" }},
		{"weld without a joint", "joint_missing", "none", func(in *Input) { in.Joint = "" }},
		{"weld of aluminium", "metal_not_welded", "aluminium", func(in *Input) { in.Metal = Aluminium }},
		{"weld of galvanised steel", "metal_not_welded", "galvanised", func(in *Input) { in.Metal = GalvanisedSteel }},
		{"cutting with flame tips", "no_tip_fits", "small", func(in *Input) { in.Work = Cut }},
		{"gross below tare", "gross_below_tare", "30 kg", func(in *Input) { in.Rig.FuelCylinder.GrossMassKg = p(30) }},
		{"unknown tip", "unknown_tip", "ghost", func(in *Input) { in.TipLabel = "ghost" }},
		{"ratio of 1e9", "out_of_range", "1e+09", func(in *Input) { in.Ratio = 1e9 }},
		{"unknown withdrawal rule", "impossible", "numbers", func(in *Input) { in.Rig.WithdrawalRule = "half" }},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := eighth()
			c.change(&in)
			r := refused(t, in)
			if r.Code != c.code || !strings.Contains(r.Read, c.read) {
				t.Errorf("code %q, read %q, want %q with %q", r.Code, r.Read, c.code, c.read)
			}
			if r.Field == "" || r.Allowed == "" || r.Why == "" || strings.Contains(r.Error(), "\n") {
				t.Errorf("not a whole refusal: %+v", r)
			}
		})
	}
}

// A flow over the withdrawal limit is never shown as usable: the limit and the way out are.
func TestCompute_refusesOverdrawnAcetylene(t *testing.T) {
	in := eighth()
	in.Rig.FuelCylinder = &FuelCylinder{Fuel: gas.Acetylene, GrossMassKg: p(11.3), TareMassKg: p(10.2), FullMassKg: p(1.2)}
	r := refused(t, in)
	if r.Code != "withdrawal" || len(r.WaysOut) < 2 || !strings.Contains(strings.Join(r.WaysOut, " "), "cylinders") {
		t.Errorf("%+v", r)
	}
	in.Rig.FuelCylinder.Count = 3
	c := must(t, in)
	if w, ok := warning(c, "withdrawal_continuous"); !ok || !strings.Contains(w.Text, "the cylinders as they are") {
		t.Error("nothing said of pauses between the continuous and the intermittent limit")
	}
}

// A small tip and a long narrow hose together need more acetylene pressure than the law allows.
func TestCompute_refusesAcetyleneAboveTheLimit(t *testing.T) {
	in := eighth()
	in.Rig.FuelHose = &Hose{InsideDiameterM: 0.0021, LengthM: 60}
	in.Rig.OxygenHose = in.Rig.FuelHose
	in.TipLabel = "middle"
	if r := refused(t, in); r.Code != "acetylene_pressure" || r.Source != sourceAcetylenePressure {
		t.Errorf("%+v", r)
	}
}

// Limits that hold at 30 psi absolute bite below sea level pressure of 15 psi only in deep places; at altitude 15 psi gauge rules.
func TestCompute_absoluteLimitOfAcetylene(t *testing.T) {
	in := eighth()
	in.AmbientAbsPa = 108e3
	in.Rig.Tips[1].Chart = []ChartRow{{FuelGaugePa: &Range{15 * units.PSI, 15 * units.PSI}, OxygenGaugePa: &Range{5e4, 5e4}}}
	in.TipLabel = "middle"
	if r := refused(t, in); r.Code != "acetylene_pressure" {
		t.Errorf("%+v", r)
	}
}

// Whatever numbers come in, Compute answers: a card without NaN or a refusal, never a panic.
func FuzzCompute(f *testing.F) {
	f.Add(0.003, 0.001, 0.006, 5.0, 138e5, 40.0, 293.15, 101325.0, 1.1)
	f.Add(math.NaN(), math.Inf(1), -1.0, 0.0, 5e9, 1e-300, 0.0, 0.0, -1.0)
	f.Fuzz(func(t *testing.T, thickness, hole, bore, length, gauge, gross, temperature, ambient, ratio float64) {
		for _, w := range []Work{Weld, Braze, Heat, Cut} {
			in := eighth()
			in.Work, in.ThicknessM, in.TemperatureK, in.AmbientAbsPa, in.Ratio = w, thickness, temperature, ambient, ratio
			in.Rig.Tips[0].OrificeDiameterM, in.Rig.FuelCylinder.GrossMassKg = &hole, &gross
			if w == Cut {
				in.Rig.Tips[0].Works, in.Rig.Tips[0].PreheatDiameterM, in.Rig.Tips[0].PreheatCount, in.Cut = []Work{Cut}, &bore, 4, &CutQuestion{OxygenPurity: ratio}
			}
			in.Rig.FuelHose.InsideDiameterM, in.Rig.FuelHose.LengthM, in.Rig.OxygenCylinder.GaugePressurePa = bore, length, gauge
			c, err := Compute(in)
			if err == nil && !(c.Fuel.RegulatorGaugePa > 0 && c.Fuel.RegulatorGaugePa <= maxAcetyleneGaugePa*1.000001 && c.Oxygen.FlowStdM3S > 0) {
				t.Errorf("card %+v", c)
			}
		}
	})
}
