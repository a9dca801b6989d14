package setup

import (
	"math"
	"strings"
	"testing"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// A number that rests on anything from memory says so; one that does not, does not.
func TestCompute_marksWhatIsFromMemory(t *testing.T) {
	priced := func(in Input) Input {
		in.Rig.OxygenCylinder.PricePerStdM3, in.Rig.FuelCylinder.PricePerStdM3 = 8, 25
		return in
	}
	plain := chartRig()
	for _, h := range []*Hose{plain.Rig.OxygenHose, plain.Rig.FuelHose} {
		h.CheckValves, h.Arrestors, h.RoughnessM = 0, 0, 2e-6
	}
	plain.Rig.OxygenCylinder.ReserveGaugePa, plain.Rig.FuelCylinder.ReserveFraction = p(3e5), p(0.1)
	for _, c := range []struct {
		name  string
		in    Input
		field string
		want  bool
	}{
		{"physics", eighth(), "fuel.regulator_gauge_pa", true},
		{"handbook flow", eighth(), "fuel.flow_std_m3_s", true},
		{"cost of remembered flows", priced(eighth()), "cost_per_h", true},
		{"chart pressure", chartRig(), "fuel.regulator_gauge_pa", false},
		{"chart pressure less arrestors", chartRig(), "fuel.torch_gauge_pa", true},
		{"chart pressure less a measured hose", plain, "fuel.torch_gauge_pa", false},
		{"cost of charted flows", priced(plain), "cost_per_h", false},
		{"default reserve", eighth(), "oxygen.contents_std_m3", true},
		{"owner's reserve", plain, "oxygen.contents_std_m3", false},
	} {
		if got := must(t, c.in).Provenance[c.field].FromMemory; got != c.want {
			t.Errorf("%s: %s from memory is %v, want %v", c.name, c.field, got, c.want)
		}
	}
}

// A chart pressure that the hose eats up is no setting.
func TestCompute_refusesWhatTheHoseTakes(t *testing.T) {
	in := chartRig()
	in.Rig.Tips[2].Chart = []ChartRow{{FuelGaugePa: &Range{500, 500}, OxygenGaugePa: &Range{5e4, 5e4}}}
	in.Rig.FuelHose = &Hose{InsideDiameterM: 0.0035, LengthM: 20}
	in.TipLabel = "large"
	if r := refused(t, in); r.Code != "hose_takes_all" || len(r.WaysOut) == 0 {
		t.Errorf("%+v", r)
	}
}

// Hoses of grade RM are lined for acetylene only, as those of grade R.
func TestCompute_refusesGradeRM(t *testing.T) {
	in := eighth()
	in.Work, in.Rig.FuelCylinder.Fuel, in.Rig.FuelHose.Grade = Heat, gas.Propane, GradeRM
	if r := refused(t, in); r.Code != "hose_grade" {
		t.Errorf("%+v", r)
	}
}

// A pressure beyond the end of the gauge is refused at its end, not later.
func TestCompute_refusesPressureOverTheScale(t *testing.T) {
	in := chartRig()
	in.TipLabel = "large"
	in.Rig.FuelRegulator.MaxGaugePa = 44e3
	must(t, in)
	in.Rig.FuelRegulator.MaxGaugePa = 43.9e3
	if r := refused(t, in); r.Code != "over_scale" {
		t.Errorf("%+v", r)
	}
}

// The withdrawal limit bites at the limit, not a little above; its source is the one that binds.
func TestCompute_withdrawalLimitIsSharp(t *testing.T) {
	in := eighth()
	need := fuelNeed(in).value
	massFor := func(flow float64) float64 { return flow * 3600 * 10 * float64(gas.Acetylene.StandardDensity()) }
	in.TipLabel = "large"
	flow := must(t, in).Fuel.FlowStdM3S
	if math.Abs(flow/need-1) > 0.2 {
		t.Fatalf("flow %v far from the need %v", flow, need)
	}
	for _, c := range []struct {
		share float64
		ok    bool
	}{{1.001, true}, {0.999, false}} {
		in.Rig.FuelCylinder = &FuelCylinder{Fuel: gas.Acetylene, TareMassKg: p(36), GrossMassKg: p(36 + massFor(flow*c.share)), FullMassKg: p(5)}
		if _, err := Compute(in); (err == nil) != c.ok {
			t.Errorf("a cylinder that may give %v of the flow: %v", c.share, err)
		}
	}
}

// When the flat limit binds, its own source is named, and a larger cylinder is no way out.
func TestOverdrawn_namesTheFlatLimit(t *testing.T) {
	in := eighth()
	in.Rig.FuelCylinder = &FuelCylinder{Fuel: gas.Acetylene, TareMassKg: p(400), GrossMassKg: p(430), FullMassKg: p(30)}
	s, err := acetyleneStock(in)
	if err != nil {
		t.Fatal(err)
	}
	c := candidate{tip: &in.Rig.Tips[2], fuelFlow: exact(Computed, "", 60*units.CubicFoot/3600, "")}
	r := overdrawn(in, &c, s)
	if r == nil || !strings.Contains(r.Source, "OD0017") || strings.Contains(strings.Join(r.WaysOut, " "), "larger") {
		t.Errorf("%+v", r)
	}
}

// Known by gauge alone, the draw is limited by the low end of the guess.
func TestAcetyleneStock_gaugeLimitsByItsLowEnd(t *testing.T) {
	in := eighth()
	in.Rig.FuelCylinder = &FuelCylinder{Fuel: gas.Acetylene, FullMassKg: p(4.6), GaugePressurePa: p(14e5), ReserveFraction: p(0)}
	s, err := acetyleneStock(in)
	if err != nil {
		t.Fatal(err)
	}
	if byLow := s.drawable.prov.Low / 10 / 3600; math.Abs(*s.intermittent/byLow-1) > 1e-6 {
		t.Errorf("limit %v, a tenth of the low end is %v", *s.intermittent, byLow)
	}
}

// The factors of joint and metal (common practice, from memory) reach the flow: a lap takes more than a butt, copper more than steel.
func TestFuelNeed_jointAndMetal(t *testing.T) {
	lap, braze, copper := eighth(), eighth(), eighth()
	lap.Joint, braze.Work, copper.Work, copper.Metal = Lap, Braze, Braze, Copper
	if a, b := fuelNeed(lap).value, fuelNeed(eighth()).value; a <= b {
		t.Errorf("lap %v, butt %v", a, b)
	}
	if a, b := fuelNeed(copper).value, fuelNeed(braze).value; a <= b {
		t.Errorf("copper %v, steel %v", a, b)
	}
}

// At altitude the same mass of gas leaves faster: the velocity grows as the pressure falls.
func TestExitVelocity_growsWithAltitude(t *testing.T) {
	in := eighth()
	in.TipLabel = "large"
	c := candidate{burner: &in.Rig.Tips[2], ratio: usualRatio(in)}
	low := c.exitVelocity(in, 6e-5)
	in.AmbientAbsPa /= 1.3
	if high := c.exitVelocity(in, 6e-5); math.Abs(high/low-1.3) > 1e-9 {
		t.Errorf("%v at sea level, %v at 1/1.3 of its pressure", low, high)
	}
}

// Defaults from memory are the ones that are documented: 50 psi and a tenth of the full charge stay in the cylinders.
func TestStocks_defaultReserves(t *testing.T) {
	with := eighth()
	with.Rig.OxygenCylinder.ReserveGaugePa, with.Rig.FuelCylinder.ReserveFraction = p(50*units.PSI), p(0.1)
	a, b := must(t, eighth()), must(t, with)
	if *a.Oxygen.ContentsStdM3 != *b.Oxygen.ContentsStdM3 || *a.Fuel.ContentsStdM3 != *b.Fuel.ContentsStdM3 {
		t.Errorf("default %v and %v, stated %v and %v", *a.Oxygen.ContentsStdM3, *a.Fuel.ContentsStdM3, *b.Oxygen.ContentsStdM3, *b.Fuel.ContentsStdM3)
	}
}

// The worst case of valves and arrestors widens the band upwards.
func TestHoseLoss_arrestorsWidenTheBand(t *testing.T) {
	in := eighth()
	e, err := hoseLoss(&Hose{InsideDiameterM: 0.0063, LengthM: 5, Arrestors: 2}, gas.Oxygen, in, 3e4, 2e-4)
	if err != nil {
		t.Fatal(err)
	}
	if e.prov.High <= e.value*1.05 {
		t.Errorf("loss %v, worst %v", e.value, e.prov.High)
	}
}

// 30 % is the line at which sources count as disagreeing.
func TestEstimate_disputedAboveThirtyPercent(t *testing.T) {
	for _, c := range []struct {
		other float64
		want  bool
	}{{129, false}, {131, true}, {71, false}, {69, true}} {
		if _, got := exact(Handbook, "", 100, "").over(exact(Computed, "", c.other, "")).disputed(); got != c.want {
			t.Errorf("100 against %v: %v", c.other, got)
		}
	}
}

// A row holds to the rounding of a chart, and no further.
func TestRowHolds_toTheRoundingOfACharts(t *testing.T) {
	in := eighth()
	row := ChartRow{ThicknessM: &Range{0.0010, 0.00317}, FuelGaugePa: &Range{1e4, 1e4}}
	if _, ok := rowHolds(&row, in); !ok {
		t.Error("3.175 mm is what a chart prints as 3.17")
	}
	row.ThicknessM.High = 0.0031
	if _, ok := rowHolds(&row, in); ok {
		t.Error("3.1 mm is not 3.175")
	}
}
