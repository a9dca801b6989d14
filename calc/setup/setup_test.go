package setup

import (
	"errors"
	"strings"
	"testing"

	"torchside/calc/cut"
	"torchside/calc/gas"
	"torchside/calc/units"
)

func p(v float64) *float64 { return &v }

// shopRig is an invented rig: a 20 L oxygen cylinder, acetylene by weight, an equal-pressure torch and three tips.
func shopRig() *Rig {
	return &Rig{
		OxygenCylinder:  &OxygenCylinder{WaterVolumeM3: 0.020, GaugePressurePa: 138e5},
		FuelCylinder:    &FuelCylinder{Fuel: "acetylene", GrossMassKg: p(40.2), TareMassKg: p(36), FullMassKg: p(4.6)},
		OxygenRegulator: &Regulator{MaxGaugePa: 690e3},
		FuelRegulator:   &Regulator{MaxGaugePa: 207e3},
		OxygenHose:      &Hose{InsideDiameterM: 0.0063, LengthM: 5, CheckValves: 1, Arrestors: 1},
		FuelHose:        &Hose{InsideDiameterM: 0.0063, LengthM: 5, CheckValves: 1, Arrestors: 1, Grade: GradeT},
		Torch:           &Torch{Mixing: EqualPressure},
		Tips: []Tip{
			{Label: "small", OrificeDiameterM: p(0.0008)},
			{Label: "middle", OrificeDiameterM: p(0.0011)},
			{Label: "large", OrificeDiameterM: p(0.0014)},
		},
	}
}

// eighth is the usual question: weld mild steel of 1/8 in, butt joint.
func eighth() Input {
	return Input{Work: Weld, Metal: MildSteel, ThicknessM: 0.125 * 0.0254, Joint: Butt, Rig: shopRig(), TemperatureK: 293.15, AmbientAbsPa: 101325}
}

// must gives the card or ends the test.
func must(t *testing.T, in Input) Card {
	t.Helper()
	c, err := Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// refused gives the refusal or ends the test.
func refused(t *testing.T, in Input) *Refusal {
	t.Helper()
	c, err := Compute(in)
	var r *Refusal
	if !errors.As(err, &r) {
		t.Fatalf("no refusal but %v, tip %q", err, c.Tip)
	}
	return r
}

func warning(c Card, code string) (Warning, bool) {
	for _, w := range c.Warnings {
		if w.Code == code {
			return w, true
		}
	}
	return Warning{}, false
}

// Facts of the trade, common practice, no source: a small welding tip runs near 5 psi on both gauges of an equal-pressure
// torch; an eighth of an inch is no work for the smallest tip; both gases flow about alike in a neutral flame.
func TestCompute_eighthInchIsAsTheTradeKnowsIt(t *testing.T) {
	c := must(t, eighth())
	for name, pa := range map[string]float64{"oxygen": c.Oxygen.RegulatorGaugePa, "fuel": c.Fuel.RegulatorGaugePa} {
		if psi := pa / units.PSI; psi < 3 || psi > 8 {
			t.Errorf("%s regulator at %.1f psi, the trade says near 5", name, psi)
		}
	}
	if c.Tip == "small" {
		t.Error("the smallest tip was chosen for 1/8 in")
	}
	if r := c.Oxygen.FlowStdM3S / c.Fuel.FlowStdM3S; r < 1 || r > 1.2 {
		t.Errorf("oxygen to fuel is %.2f by volume", r)
	}
	if c.FlameClass != "neutral" || c.Shade.Minimum != 5 || c.Filler == nil || c.Filler.Classes[0] != "R45" {
		t.Errorf("class %q, shade %+v, filler %+v", c.FlameClass, c.Shade, c.Filler)
	}
}

// Fact of the trade, common practice, no source: a bigger tip wants more flow; thicker metal wants a bigger flame.
func TestCompute_thickerMetalWantsABiggerFlame(t *testing.T) {
	last := 0.0
	for _, mm := range []float64{0.8, 1.2, 1.6, 2.4, 3.2, 4, 5} {
		in := eighth()
		in.ThicknessM = mm / 1000
		in.Rig.FuelCylinder.Count = 4
		in.Rig.Tips = append(in.Rig.Tips, Tip{Label: "tiny", OrificeDiameterM: p(0.0005)}, Tip{Label: "huge", OrificeDiameterM: p(0.0019)})
		c := must(t, in)
		if c.Fuel.FlowStdM3S <= last {
			t.Errorf("%v mm: fuel flow %v is not above that of thinner metal, %v", mm, c.Fuel.FlowStdM3S, last)
		}
		last = c.Fuel.FlowStdM3S
	}
}

// Every number of the card must say where it is from, with a band that holds it.
func TestCompute_everyNumberCarriesItsProvenance(t *testing.T) {
	in := eighth()
	in.Rig.OxygenCylinder.PricePerStdM3, in.Rig.FuelCylinder.PricePerStdM3 = 8, 25
	c := must(t, in)
	for field, v := range map[string]float64{
		"oxygen.regulator_gauge_pa": c.Oxygen.RegulatorGaugePa, "oxygen.torch_gauge_pa": c.Oxygen.TorchGaugePa, "oxygen.flow_std_m3_s": c.Oxygen.FlowStdM3S,
		"oxygen.contents_std_m3": *c.Oxygen.ContentsStdM3, "oxygen.endurance_s": *c.Oxygen.EnduranceS,
		"fuel.regulator_gauge_pa": c.Fuel.RegulatorGaugePa, "fuel.torch_gauge_pa": c.Fuel.TorchGaugePa, "fuel.flow_std_m3_s": c.Fuel.FlowStdM3S,
		"fuel.contents_std_m3": *c.Fuel.ContentsStdM3, "fuel.endurance_s": *c.Fuel.EnduranceS,
		"ratio": c.Ratio, "power_w": c.PowerW, "exit_velocity_m_s": *c.ExitVelocityMS, "cone_length_m": *c.ConeLengthM, "hold_on_margin": *c.HoldOnMargin,
		"endurance_s": *c.EnduranceS, "cost_per_h": *c.CostPerH,
	} {
		pr, ok := c.Provenance[field]
		if !ok || pr.Source == "" || pr.Kind == "" {
			t.Errorf("%s has no provenance", field)
		}
		if !(pr.Low <= v && v <= pr.High) {
			t.Errorf("%s = %v lies outside its band %v to %v", field, v, pr.Low, pr.High)
		}
	}
	for _, field := range []string{"tip", "shade", "filler", "flux", "speed_m_s"} {
		if c.Provenance[field].Source == "" {
			t.Errorf("%s has no source", field)
		}
	}
}

// Every warning names its source, and the number it concerns is on the card, so that it can stand before it.
func TestCompute_warningsHaveSourceAndPlace(t *testing.T) {
	for _, w := range []Work{Weld, Braze, Heat, Bend, Cut} {
		for _, m := range Metals() {
			in := eighth()
			if w == Cut {
				in = cutter()
				in.Cut = &CutQuestion{Start: cut.Pierce, Painted: true, OxygenPurity: 0.98}
			}
			in.Work, in.Metal = w, m
			in.Rig.FuelCylinder.Count = 6
			in.Rig.Tips = append(in.Rig.Tips, Tip{Label: "huge", OrificeDiameterM: p(0.002)})
			c, err := Compute(in)
			if err != nil {
				continue // the refusals have their own tests
			}
			for _, n := range c.Warnings {
				if _, ok := c.Provenance[n.Concerns]; n.Source == "" || n.Text == "" || n.Concerns != "" && !ok {
					t.Errorf("%s %s: warning %+v", w, m, n)
				}
			}
		}
	}
}

// The dangers of a metal, a filler or a flux are told where the work is chosen.
func TestCompute_warnsOfWhatTheWorkBrings(t *testing.T) {
	for _, c := range []struct {
		work  Work
		metal Metal
		want  []string
	}{
		{Weld, MildSteel, []string{"ventilation", "fire_watch", "closed_vessel", "chlorinated_solvent", "oil_on_oxygen", "acetylene_pressure", "cylinder_upright"}},
		{Braze, MildSteel, []string{"zinc_in_rod", "cadmium", "fluoride_flux"}},
		{Heat, GalvanisedSteel, []string{"zinc_coating"}},
		{Braze, StainlessSteel, []string{"cadmium", "fluoride_flux", "zinc_in_rod"}},
		{Braze, Copper, []string{"copper_acetylene"}},
		{Braze, Aluminium, []string{"aluminium_no_glow", "fluoride_flux"}},
	} {
		in := eighth()
		in.Work, in.Metal, in.Rig.FuelCylinder.Count = c.work, c.metal, 6
		in.Rig.Tips = append(in.Rig.Tips, Tip{Label: "huge", OrificeDiameterM: p(0.002)})
		card := must(t, in)
		for _, code := range c.want {
			if _, ok := warning(card, code); !ok {
				t.Errorf("%s %s: no warning %s", c.work, c.metal, code)
			}
		}
	}
}

// The minutes are those of the gas that runs out first, and a reserve shortens them.
func TestCompute_enduranceIsThatOfTheFirstToRunOut(t *testing.T) {
	in := eighth()
	c := must(t, in)
	if *c.EnduranceS != min(*c.Oxygen.EnduranceS, *c.Fuel.EnduranceS) {
		t.Errorf("endurance %v of %v and %v", *c.EnduranceS, *c.Oxygen.EnduranceS, *c.Fuel.EnduranceS)
	}
	in.Rig.OxygenCylinder.ReserveGaugePa = p(110e5)
	if d := must(t, in); *d.EnduranceS >= *c.EnduranceS || d.LimitedBy != "oxygen" {
		t.Errorf("with a larger reserve %v, before %v", *d.EnduranceS, *c.EnduranceS)
	}
	in.Rig.OxygenCylinder.GaugePressurePa = 50e5
	if no := refused(t, in); no.Code != codeSpent {
		t.Errorf("below its reserve the cylinder gives %+v", no)
	}
}

// What is missing is said, and no number is made up for it.
func TestCompute_missingPartsAreSaid(t *testing.T) {
	in := eighth()
	in.Rig.OxygenCylinder, in.Rig.OxygenHose, in.Rig.FuelHose, in.Rig.OxygenRegulator, in.Rig.FuelRegulator = nil, nil, nil, nil, nil
	in.Rig.FuelCylinder = &FuelCylinder{Fuel: gas.Acetylene}
	c := must(t, in)
	if c.EnduranceS != nil || c.Oxygen.ContentsStdM3 != nil || c.CostPerH != nil {
		t.Errorf("endurance %v, contents %v, cost %v", c.EnduranceS, c.Oxygen.ContentsStdM3, c.CostPerH)
	}
	for _, code := range []string{"oxygen_contents_unknown", "fuel_contents_unknown", "oxygen_hose_unknown", "fuel_hose_unknown", "oxygen_regulator_unknown", "fuel_regulator_unknown"} {
		if _, ok := warning(c, code); !ok {
			t.Errorf("no warning %s", code)
		}
	}
}

// An injector torch draws fuel at under 1 psi (NAVEDTRA 14018) and drives it with oxygen of 10 psi and more.
func TestCompute_injectorTorch(t *testing.T) {
	in := eighth()
	in.Rig.Torch = &Torch{Mixing: Injector}
	c := must(t, in)
	if c.Fuel.TorchGaugePa >= 1*units.PSI || c.Oxygen.TorchGaugePa < 10*units.PSI {
		t.Errorf("fuel %.2f psi, oxygen %.1f psi", c.Fuel.TorchGaugePa/units.PSI, c.Oxygen.TorchGaugePa/units.PSI)
	}
	if _, ok := warning(c, "injector_unknown"); !ok {
		t.Error("nothing said of the unknown jet")
	}
	in.Rig.Torch.InjectorDiameterM = p(0.0006)
	if d := must(t, in); d.Provenance["oxygen.torch_gauge_pa"].Kind != Computed {
		t.Errorf("with a known jet: %+v", d.Provenance["oxygen.torch_gauge_pa"])
	}
}

// A cylinder known by its gauge alone gives a rough band, says so, and limits the draw by the low end.
func TestCompute_acetyleneByGaugeIsTheSafeEnd(t *testing.T) {
	in := eighth()
	in.ThicknessM, in.Rig.FuelCylinder = 0.0012, &FuelCylinder{Fuel: gas.Acetylene, FullMassKg: p(4.6), GaugePressurePa: p(14e5)}
	c := must(t, in)
	if _, ok := warning(c, "contents_by_pressure"); !ok {
		t.Error("the guess is not called one")
	}
	pr := c.Provenance["fuel.contents_std_m3"]
	if pr.High < 1.3*pr.Low {
		t.Errorf("band %v to %v is too narrow for a gauge reading", pr.Low, pr.High)
	}
}

func TestHelp_namesEveryWord(t *testing.T) {
	for _, list := range []string{commas(Works()), commas(Metals()), commas(Joints()), commas(Grades()), commas(gas.Fuels()), string(EqualPressure), string(Injector), string(AtRegulator), string(AtTorch)} {
		for _, w := range strings.Split(list, ", ") {
			if !strings.Contains(Help, w) {
				t.Errorf("help does not name %q", w)
			}
		}
	}
}
