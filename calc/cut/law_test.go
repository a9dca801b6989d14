package cut

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flow"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// numbers are what must rise with the thickness; the speed is turned round.
func numbers(r Result) map[string]float64 {
	return map[string]float64{"orifice": float64(r.Orifice), "gauge": float64(r.Gauge), "cutting": r.Cutting.Value, "slowness": 1 / r.Speed.Value,
		"kerf": r.Kerf.Value, "drag": r.Drag.Value, "start": r.Start.Value, "time": r.Time.Value, "oxygen": r.Oxygen.Value, "fuel": r.Fuel.Value,
		"fuel flow": float64(r.PreheatFuel), "iron": r.IronPower, "iron share": r.IronShare.Value}
}

func TestCompute_everyNumberMovesOneWayWithTheThickness(t *testing.T) {
	for _, purity := range []float64{0.95, 0.99, 1} {
		var last map[string]float64
		for i := range 601 {
			mm := 1.5 * math.Pow(200, float64(i)/600)
			now := numbers(must(t, Input{Thickness: units.Length(min(mm, 300) / 1e3), Length: 0.3, Purity: purity}))
			for name, v := range last {
				if now[name] <= v {
					t.Fatalf("%s falls from %v to %v at %v mm, purity %v", name, v, now[name], mm, purity)
				}
			}
			last = now
		}
	}
}

// The same question with a random orifice: jet, flow and amounts agree with each other and with package flow.
func TestCompute_conservesGas(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 1))
	for range 500 {
		in := Input{Thickness: units.Length(0.0015 * math.Pow(200, random.Float64())), Length: units.Length(0.05 + 5*random.Float64()), Purity: 0.95 + 0.05*random.Float64()}
		usual := must(t, in)
		in.Orifice = usual.Orifice * units.Length(0.95+1.5*random.Float64())
		r, err := Compute(in)
		var outside *gas.RangeError
		if errors.As(err, &outside) && outside.Field == "orifice_diameter_m" && in.Orifice < usual.Orifice {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		through, err := flow.Orifice{Mixture: gas.Mixture{gas.Oxygen: in.Purity, gas.Argon: 1 - in.Purity}, Diameter: in.Orifice, DischargeCoefficient: 0.9,
			Upstream: r.Gauge.Absolute(101325), Downstream: 101325, Temperature: 293.15}.Flow()
		if err != nil || !through.Choked {
			t.Fatalf("not choked: %+v %v", through, err)
		}
		calctest.Near(t, r.Cutting.Value, float64(through.Flow), 1e-12, "the same orifice")
		if r.Cutting.Value < usual.Cutting.Value*(1-1e-9) {
			t.Errorf("%v mm passes less than the usual %v mm", in.Orifice*1e3, usual.Orifice*1e3)
		}
		preheat := float64(r.PreheatOxygen) * (r.Time.Value + r.Start.Value)
		calctest.Near(t, r.Oxygen.Value, r.Cutting.Value*r.Time.Value+preheat, 1e-12, "cutting and preheat")
		calctest.Near(t, r.Oxygen.Value-r.Cutting.Value*r.Time.Value, r.Fuel.Value*r.PreheatRatio, 1e-9, "the ratio of the flame")
	}
}

// The jet must hold more oxygen than the burning iron takes: 0.2117 m³ to a kilogram burnt to FeO (stoichiometry, cutting_facts.csv).
func TestCompute_jetFeedsTheIron(t *testing.T) {
	perKilogram := fact(t, "oxygen per kg iron burnt to FeO")
	calctest.Near(t, 0.5/0.055845*0.03199880/1.3546, perKilogram, 2e-3, "half a mol of oxygen to a mol of iron; density at 15 °C to five digits")
	for mm := 1.5; mm <= 300; mm *= 1.2 {
		r := must(t, Input{Thickness: units.Length(mm / 1e3), Length: 1})
		if taken := r.IronPower / heatToFeO * perKilogram; taken > r.Cutting.Value || taken < 0.1*r.Cutting.Value {
			t.Errorf("%v mm: the iron takes %v of %v m³/s", mm, taken, r.Cutting.Value)
		}
	}
}

// The hose makes up just its own loss at the whole flow, which grows with its length.
func TestCompute_hoseLoss(t *testing.T) {
	hose := flow.Hose{InsideDiameter: 0.0063, Length: 10}
	r := must(t, Input{Thickness: 0.05, Length: 1, OxygenHose: &hose})
	hose.Gas, hose.Temperature = gas.Oxygen, 293.15
	back, err := hose.Outlet(r.Regulator.Absolute(101325), units.StandardFlow(r.Cutting.Value)+r.PreheatOxygen)
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, float64(back.Outlet), float64(r.Gauge)+101325, 1e-9, "Outlet undoes Inlet")
	hose.Length = 20
	if long := must(t, Input{Thickness: 0.05, Length: 1, OxygenHose: &hose}); *long.Regulator <= *r.Regulator || *r.Regulator <= r.Gauge {
		t.Errorf("%v with 20 m, %v with 10 m, %v at the torch", *long.Regulator, *r.Regulator, r.Gauge)
	}
}

func TestBalance_bandsHoldTogether(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 2))
	for range 200 {
		kerf, speed := units.Length(0.0005+0.005*random.Float64()), units.Speed(0.0005+0.015*random.Float64())
		b := Balance(kerf, speed, 293.15)
		for name, x := range map[string]units.Band{"freed": b.Freed, "needed": b.Needed, "ratio": b.Ratio} {
			if !(x.Low < x.Value && x.Value < x.High) {
				t.Errorf("%s: %+v", name, x)
			}
		}
		if faster := Balance(kerf, speed*1.1, 293.15); faster.Ratio.Value <= b.Ratio.Value {
			t.Errorf("a faster cut loses more to the walls: %v, %v", faster.Ratio, b.Ratio)
		}
		if hot := Balance(kerf, speed, 323.15); hot.Ratio.Value <= b.Ratio.Value {
			t.Errorf("a warm plate needs more: %v, %v", hot.Ratio, b.Ratio)
		}
	}
	thin, thick, ok := SustainedRange(293.15)
	if !ok || thin >= thick {
		t.Fatal(thin, thick, ok)
	}
	for _, c := range []struct {
		thickness units.Length
		above     bool
	}{{thin, true}, {thick, true}, {thin * 0.9, false}, {thick * 1.1, false}} {
		r := must(t, Input{Thickness: c.thickness, Length: 1})
		if (r.Balance.Ratio.Value > 1) != c.above {
			t.Errorf("%v m: %v", c.thickness, r.Balance.Ratio)
		}
	}
}

// A very fast kerf keeps its heat: it sustains; a very slow one loses all to the walls.
func TestBalance_verdicts(t *testing.T) {
	for _, c := range []struct {
		kerf  units.Length
		speed units.Speed
		want  Verdict
	}{{0.02, 0.5, Sustains}, {0.0005, 0.0005, Fails}, {0.0015, 0.006, Undecided}} {
		if b := Balance(c.kerf, c.speed, 293.15); b.Verdict != c.want {
			t.Errorf("%v m at %v m/s: %s, want %s (%+v)", c.kerf, c.speed, b.Verdict, c.want, b.Ratio)
		}
	}
}

func TestCompute_refusesInTradeWords(t *testing.T) {
	good := Input{Thickness: 0.01, Length: 1}
	for name, c := range map[string]struct {
		change func(*Input)
		want   string
	}{
		"stainless":         {func(in *Input) { in.Metal = StainlessSteel }, "chromium oxide melts near 2300 °C"},
		"cast iron":         {func(in *Input) { in.Metal = CastIron }, "below its oxide at 1377 °C"},
		"aluminium":         {func(in *Input) { in.Metal = Aluminium }, "melts at 660 °C"},
		"copper":            {func(in *Input) { in.Metal = Copper }, "copper melts at 1085 °C"},
		"brass":             {func(in *Input) { in.Metal = Brass }, "copper melts at 1085 °C"},
		"no metal":          {func(in *Input) { in.Metal = "wood" }, "no such metal"},
		"2 m thick":         {func(in *Input) { in.Thickness = 2 }, "thickness_m is 2000 mm"},
		"0.5 mm":            {func(in *Input) { in.Thickness = 0.0005 }, "thickness_m is 0.5 mm"},
		"thickness nan":     {func(in *Input) { in.Thickness = units.Length(math.NaN()) }, "thickness_m"},
		"purity 90 %":       {func(in *Input) { in.Purity = 0.9 }, "no cut is possible"},
		"no length":         {func(in *Input) { in.Length = 0 }, "length_m is 0 mm"},
		"narrow orifice":    {func(in *Input) { in.Orifice = 0.0004 }, "orifice_diameter_m is 0.4 mm"},
		"wide orifice":      {func(in *Input) { in.Orifice = 0.01 }, "wastes oxygen"},
		"oxygen as fuel":    {func(in *Input) { in.Fuel = gas.Oxygen }, "fuel is"},
		"start in the air":  {func(in *Input) { in.Start = "air" }, "edge or pierce"},
		"a hose too narrow": {func(in *Input) { in.OxygenHose = &flow.Hose{InsideDiameter: 0.001, Length: 100} }, "oxygen_hose.inlet_abs_pa is"},
	} {
		t.Run(name, func(t *testing.T) {
			in := good
			c.change(&in)
			if _, err := Compute(in); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error is %v, want it to contain %q", err, c.want)
			}
		})
	}
}

func TestCompute_warnsBeforeTheNumbers(t *testing.T) {
	for code, in := range map[string]Input{
		"zinc_coating": {Metal: GalvanisedSteel}, "coating": {Painted: true}, "sparks": {}, "closed_vessel": {}, "pierce": {Start: Pierce},
		"hardened_edge": {Metal: MediumCarbonSteel}, "impure_oxygen": {Purity: 0.97}, "wide_orifice": {Orifice: 0.002},
		"settings_from_memory": {Thickness: 0.003},
	} {
		if in.Length = 1; in.Thickness == 0 {
			in.Thickness = 0.008
		}
		r, seen, stopsOver := must(t, in), false, false
		for _, n := range r.Notes {
			seen = seen || n.Code == code
			if n.Stop && stopsOver {
				t.Errorf("%s: %s comes late", code, n.Code)
			}
			stopsOver = !n.Stop
			if n.Source == "" || n.Text == "" {
				t.Errorf("%+v", n)
			}
		}
		if !seen {
			t.Errorf("%s is not told: %+v", code, r.Notes)
		}
	}
}
