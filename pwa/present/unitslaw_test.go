package present

import (
	"errors"
	"regexp"
	"testing"

	"torchside/calc/braze"
	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/setup"
	"torchside/calc/units"
)

// A number followed by a unit of the other system.
var (
	metricUnit = regexp.MustCompile(`\d[\d.,  ]*(?:mm|cm|m|m³|bar|mbar|kPa|MPa|L|mL|L/h|L/min|m/s|m/min|kg|g|°C|K|kW|W)(?:[^\p{L}\d³/]|$)`)
	usUnit     = regexp.MustCompile(`\d[\d.,/  ]*(?:in|in³|ft|ft³|psi|ft³/h|ft/s|in/min|lb|oz|°F|Btu/h)(?:[^\p{L}\d³/]|$)`)
)

// spoken checks the texts one owner reads.
type spoken struct {
	t       *testing.T
	foreign *regexp.Regexp
	seen    int
}

func (s *spoken) check(where string, texts ...string) {
	s.t.Helper()
	for _, text := range texts {
		s.seen++
		if hit := s.foreign.FindString(text); hit != "" {
			s.t.Errorf("%s: %q is of the other system, in %q", where, hit, text)
		}
	}
}

func (s *spoken) warnings(where string, list []Warning) {
	s.t.Helper()
	for _, w := range list {
		s.check(where+", "+w.Code, w.Text, w.Short)
	}
}

// inBothSystems runs a check as either owner.
func inBothSystems(t *testing.T, f func(t *testing.T, s *spoken, o Options)) {
	t.Helper()
	for name, o := range map[string]Options{"US": us, "metric": metric} {
		t.Run(name, func(t *testing.T) {
			s := &spoken{t: t, foreign: metricUnit}
			if !o.Units.IsUS() {
				s.foreign = usUnit
			}
			f(t, s, o)
			if s.seen < 20 {
				t.Errorf("only %d texts: nothing is tested", s.seen)
			}
		})
	}
}

// lawRig is an invented rig.
func lawRig() *setup.Rig {
	return &setup.Rig{
		OxygenCylinder:  &setup.OxygenCylinder{WaterVolumeM3: 0.020, GaugePressurePa: 138e5},
		FuelCylinder:    &setup.FuelCylinder{Fuel: gas.Acetylene, GrossMassKg: ptr(40.2), TareMassKg: ptr(36), FullMassKg: ptr(4.6)},
		OxygenRegulator: &setup.Regulator{MaxGaugePa: 690e3}, FuelRegulator: &setup.Regulator{MaxGaugePa: 207e3},
		OxygenHose: &setup.Hose{InsideDiameterM: 0.0063, LengthM: 5, CheckValves: 1, Arrestors: 1},
		FuelHose:   &setup.Hose{InsideDiameterM: 0.0063, LengthM: 5, Arrestors: 1, Grade: setup.GradeT},
		Torch:      &setup.Torch{Mixing: setup.EqualPressure},
		Tips: []setup.Tip{{Label: "a", OrificeDiameterM: ptr(0.0008)}, {Label: "b", OrificeDiameterM: ptr(0.0011)}, {Label: "c", OrificeDiameterM: ptr(0.0014)}, {Label: "d", OrificeDiameterM: ptr(0.003)},
			{Label: "cutting", OrificeDiameterM: ptr(0.001), Works: []setup.Work{setup.Cut}, PreheatDiameterM: ptr(0.0006), PreheatCount: 6}},
	}
}

func lawQuestion() setup.Input {
	return setup.Input{Work: setup.Weld, Metal: setup.MildSteel, ThicknessM: 0.003175, Joint: setup.Butt, Rig: lawRig(), TemperatureK: 293.15, AmbientAbsPa: 101325}
}

// lawChanges are questions that bring out the cautions, the notes and the refusals there are.
var lawChanges = map[string]func(in *setup.Input){
	"as it is":        func(*setup.Input) {},
	"braze copper":    func(in *setup.Input) { in.Work, in.Metal = setup.Braze, setup.Copper },
	"steel to copper": func(in *setup.Input) { in.Work, in.OtherMetal, in.Joint = setup.Braze, setup.Copper, setup.Butt },
	"solder": func(in *setup.Input) {
		in.Work, in.Process, in.Metal = setup.Braze, braze.Solder, setup.GalvanisedSteel
	},
	"braze weld":      func(in *setup.Input) { in.Work, in.Process, in.Metal = setup.Braze, braze.BrazeWeld, setup.CastIron },
	"braze aluminium": func(in *setup.Input) { in.Work, in.Metal = setup.Braze, setup.Aluminium },
	"brass rod on aluminium": func(in *setup.Input) {
		in.Work, in.Metal, in.Filler = setup.Braze, setup.Aluminium, "RBCuZn-A"
	},
	"braze over zinc": func(in *setup.Input) { in.Work, in.Metal = setup.Braze, setup.GalvanisedSteel },
	"heat":            func(in *setup.Input) { in.Work, in.Joint, in.ThicknessM = setup.Heat, "", 0.02 },
	"bend galvanised": func(in *setup.Input) { in.Work, in.Joint, in.Metal = setup.Bend, "", setup.GalvanisedSteel },
	"cut":             func(in *setup.Input) { in.Work, in.Joint, in.ThicknessM = setup.Cut, "", 0.01 },
	"cut painted": func(in *setup.Input) {
		in.Work, in.Joint, in.ThicknessM, in.Metal, in.Cut = setup.Cut, "", 0.004, setup.GalvanisedSteel, &setup.CutQuestion{OxygenPurity: 0.98, Start: "pierce", Painted: true}
	},
	"cut stainless":  func(in *setup.Input) { in.Work, in.Metal = setup.Cut, setup.StainlessSteel },
	"cut cast iron":  func(in *setup.Input) { in.Work, in.Metal = setup.Cut, setup.CastIron },
	"cut too thick":  func(in *setup.Input) { in.Work, in.ThicknessM = setup.Cut, 2 },
	"cut too narrow": func(in *setup.Input) { in.Work, in.ThicknessM, in.TipLabel = setup.Cut, 0.2, "cutting" },
	"cut impure": func(in *setup.Input) {
		in.Work, in.ThicknessM, in.Cut = setup.Cut, 0.01, &setup.CutQuestion{OxygenPurity: 0.9}
	},
	"rich":      func(in *setup.Input) { in.Ratio = 0.7 },
	"oxidizing": func(in *setup.Input) { in.Ratio = 1.6 },
	"injector":  func(in *setup.Input) { in.Rig.Torch.Mixing = setup.Injector },
	"injector jet": func(in *setup.Input) {
		in.Rig.Torch.Mixing, in.Rig.Torch.InjectorDiameterM = setup.Injector, ptr(0.0008)
	},
	"propane": func(in *setup.Input) {
		in.Work, in.Joint, in.Rig.FuelCylinder.Fuel, in.Rig.Tips[1].Fuels = setup.Heat, "", gas.Propane, []gas.Gas{gas.Propane}
	},
	"cold": func(in *setup.Input) { in.TemperatureK = 255 },
	"hot":  func(in *setup.Input) { in.TemperatureK = 322 },
	"nearly empty": func(in *setup.Input) {
		in.Rig.FuelCylinder.GrossMassKg, in.Rig.OxygenCylinder.GaugePressurePa = ptr(36.1), 1e5
	},
	"by the gauge": func(in *setup.Input) {
		in.Rig.FuelCylinder.GrossMassKg, in.Rig.FuelCylinder.GaugePressurePa = nil, ptr(10e5)
	},
	"scale and gauge": func(in *setup.Input) { in.Rig.FuelCylinder.GaugePressurePa = ptr(3e5) },
	"overfull":        func(in *setup.Input) { in.Rig.FuelCylinder.GrossMassKg = ptr(44) },
	"many cylinders": func(in *setup.Input) {
		in.Rig.FuelCylinder.Count = 5
		in.Work, in.Joint, in.ThicknessM = setup.Heat, "", 0.02
	},
	"chart": func(in *setup.Input) {
		in.Rig.Tips[1].Chart = []setup.ChartRow{{FuelFlowStd: &setup.Range{Low: 1e-5, High: 2e-5}, OxygenFlowStd: &setup.Range{Low: 5e-5, High: 6e-5}, FuelGaugePa: &setup.Range{Low: 7e4, High: 9e4}}}
	},
	"chart too high": func(in *setup.Input) {
		in.Rig.Tips[1].Chart = []setup.ChartRow{{FuelGaugePa: &setup.Range{Low: 7e4, High: 2e5}}}
	},
	"chart reversed": func(in *setup.Input) {
		in.Rig.Tips[1].Chart = []setup.ChartRow{{FuelFlowStd: &setup.Range{Low: 3e-5, High: 2e-5}}}
	},
	"chart flow": func(in *setup.Input) {
		in.Rig.Tips[1].Chart = []setup.ChartRow{{OxygenFlowStd: &setup.Range{Low: 3e-5, High: 2}}}
	},
	"only the largest":  func(in *setup.Input) { in.TipLabel = "d" },
	"only the smallest": func(in *setup.Input) { in.TipLabel, in.ThicknessM = "a", 0.006 },
	"narrow hose":       func(in *setup.Input) { in.Rig.FuelHose = &setup.Hose{InsideDiameterM: 0.0021, LengthM: 60} },
	"tip above the hose": func(in *setup.Input) {
		in.Rig.OxygenHose.InsideDiameterM, in.Rig.Tips[0].OrificeDiameterM = 0.005, ptr(0.0055)
	},
	"too thick":        func(in *setup.Input) { in.ThicknessM = 0.02 },
	"too cold":         func(in *setup.Input) { in.TemperatureK = 200 },
	"too high":         func(in *setup.Input) { in.AmbientAbsPa = 4e4 },
	"long hose":        func(in *setup.Input) { in.Rig.FuelHose.LengthM = 1e4 },
	"wide bore":        func(in *setup.Input) { in.Rig.FuelHose.InsideDiameterM = 1 },
	"gross below tare": func(in *setup.Input) { in.Rig.FuelCylinder.GrossMassKg = ptr(30) },
	"heavy":            func(in *setup.Input) { in.Rig.FuelCylinder.FullMassKg = ptr(1e4) },
	"large cylinder":   func(in *setup.Input) { in.Rig.OxygenCylinder.WaterVolumeM3 = 3 },
	"500 bar":          func(in *setup.Input) { in.Rig.OxygenCylinder.GaugePressurePa = 5e7 },
	"small gauge":      func(in *setup.Input) { in.Rig.OxygenRegulator.MaxGaugePa = 2e3 },
}

// The owner reads one system of units: on the card, in its sheets, in the choice of tips and in every refusal. The words that
// name a source are as the source has them.
func TestCard_and_refusal_speak_one_system_of_units(t *testing.T) {
	inBothSystems(t, func(t *testing.T, s *spoken, o Options) {
		for name, change := range lawChanges {
			in := lawQuestion()
			change(&in)
			c, err := setup.Compute(in)
			var no *setup.Refusal
			if errors.As(err, &no) {
				r := NewRefusal(*no, o)
				s.check(name, append([]string{r.Read, r.Allowed, r.Why}, r.WaysOut...)...)
				continue
			}
			s.card(name, c, o)
		}
	})
}

func (s *spoken) card(name string, c setup.Card, o Options) {
	s.t.Helper()
	v := NewCard(c, o)
	s.warnings(name, v.Standing)
	s.warnings(name, v.General)
	s.warnings(name, v.Tip.Warnings)
	s.warnings(name, v.Flame.Warnings)
	s.check(name, v.Summary, v.Tip.Hole, v.Flame.Printed, v.Flame.Look)
	for _, g := range v.Gases {
		s.warnings(name, g.Warnings)
	}
	for _, n := range v.Numbers() {
		s.check(name+", "+n.Key, n.Text(), n.Band, n.Note)
		s.warnings(name, n.Warnings)
	}
	for key := range c.Provenance {
		sheet := NewSheet(c, key, o)
		s.check(name+", sheet "+key, sheet.Value, sheet.Band, sheet.Formula, sheet.Reason)
		for _, l := range append(append([]Line{}, sheet.Inputs...), sheet.Others...) {
			s.check(name+", sheet "+key, l.Text)
		}
	}
}

// What a leak test asks, advises and answers is in one system of units too.
func TestLeak_speaks_one_system_of_units(t *testing.T) {
	inBothSystems(t, func(t *testing.T, s *spoken, o Options) {
		for _, section := range leak.Sections() {
			for _, g := range []gas.Gas{gas.Oxygen, gas.Acetylene, gas.Propane} {
				if p, err := leak.Prepare(section, g, 0); err == nil {
					prep := NewPreparation(p, o)
					s.warnings("prepare", prep.Cautions)
					for _, step := range prep.Steps {
						s.check("prepare", step.Text, step.Why)
					}
				}
			}
		}
		for _, end := range []float64{3.9e5, 3.999e5, 4e5, 4.2e5, 1.013e5} {
			for _, read := range []bool{true, false} {
				s.leak(o, end, read)
			}
		}
	})
}

// leak checks the answer of a test of oxygen that starts at 4 bar absolute.
func (s *spoken) leak(o Options, end float64, temperature bool) {
	s.t.Helper()
	test := leak.Test{Gas: gas.Oxygen, Volume: 0.0005, VolumeError: 0.0001, PressureError: 5e3, TemperatureError: 1, Ambient: 101325,
		Readings: []leak.Reading{{At: 0, Pressure: 4e5}, {At: 3 * units.Hour, Pressure: units.AbsolutePressure(end)}}}
	if temperature {
		k := units.Temperature(293.15)
		test.Readings[0].Temperature, test.Readings[1].Temperature = &k, &k
	}
	r, err := test.Result()
	if err != nil {
		s.t.Fatal(err)
	}
	v := NewLeakVerdict(LeakInput{Section: leak.OxygenDelivery, Gas: gas.Oxygen, Verdict: r.Verdict, Sized: true, Leak: r.Leak, Smallest: r.SmallestDetectable,
		Allowed: r.Allowed, Default: true, Certain: r.CertainLeak, More: r.MoreTime, Elapsed: 3 * units.Hour, Notes: r.Notes}, o)
	s.check("leak", v.Lead)
	s.warnings("leak", v.Warnings)
	s.warnings("leak", v.Notes)
	for _, f := range v.Facts {
		s.check("leak, "+f.Name, f.Value)
	}
}
