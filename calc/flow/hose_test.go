package flow_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flow"
	"torchside/calc/gas"
	"torchside/calc/units"
)

func hoseOf(r calctest.Row) (h flow.Hose, inlet units.AbsolutePressure, f units.StandardFlow) {
	h = flow.Hose{
		Gas:            gas.Gas(r.Text("gas")),
		InsideDiameter: units.Length(r.Number("hose_id_mm") / 1e3),
		Length:         units.Length(r.Number("length_m")),
		Roughness:      units.Length(r.Number("roughness_mm") / 1e3),
		Temperature:    units.Temperature(r.Number("temperature_C") + 273.15),
	}
	return h, units.AbsolutePressure(r.Number("inlet_gauge_bar")*1e5 + 101325), units.StandardFlow(r.Number("flow_std_L_h_15C_1atm") / 3.6e6)
}

// misjudged is a row of hose_drop.csv marked choked_no_solution although its flow is tiny: 100 L/h of oxygen through 30 m of 8 mm hose
// at 1 bar moves at 0.28 m/s and loses under 1 mbar by Hagen–Poiseuille. It is checked against that law instead.
const misjudged = "HD-0346"

// The whole of hose_drop.csv. Between Re 2000 and 4100 the true drop may be anywhere between laminar and turbulent, 40 % apart;
// there it is only bounded. Elsewhere 2 % is asked; viscosity data differ by up to 1.1 % for acetylene.
func TestHose_Outlet_reference_table(t *testing.T) {
	settled := calctest.NewWorst("hose pressure drop", 0.02, "2 % is asked; viscosities of other sources")
	numeric := calctest.NewWorst("hose pressure drop against numerical integration", 0.02, "the integration differs from the formula by up to 0.9 %")
	transition := calctest.NewWorst("hose pressure drop in transition", 0.45, "laminar and turbulent friction are up to 40 % apart")
	friction := calctest.NewWorst("hose friction factor", 0.02, "the same laws; Reynolds numbers with viscosities of other sources")
	for _, r := range calctest.Reference(t, "hose_drop.csv") {
		h, inlet, f := hoseOf(r)
		got, err := h.Outlet(inlet, f)
		if r.ID() == misjudged {
			wantPoiseuille(t, h, got, err, f)
			continue
		}
		if r.Text("status") == "choked_no_solution" {
			wantChoked(t, err, r.ID(), f)
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", r, err)
			continue
		}
		if below := got.Outlet < atmosphere; below != (r.Text("status") == "outlet_below_1_atm") {
			t.Errorf("%s: outlet %v below ambient is %v", r, got.Outlet, below)
		}
		drop := r.Number("pressure_drop_mbar") * 100
		if re := r.Number("reynolds"); re > 2000 && re < 4100 {
			transition.Add(t, got.Drop(), drop, r.ID())
			continue
		}
		settled.Add(t, got.Drop(), drop, r.ID())
		friction.Add(t, got.FrictionFactor, r.Number("darcy_friction_factor"), r.ID())
		if r.Has("numeric_realgas_outlet_gauge_bar") && drop > 10 { // the column has 8 digits: below 10 Pa they do not tell 0.1 %
			numeric.Add(t, got.Drop(), float64(inlet)-101325-r.Number("numeric_realgas_outlet_gauge_bar")*1e5, r.ID())
		}
	}
	for _, w := range []*calctest.Worst{settled, friction, numeric, transition} {
		w.Report(t)
	}
}

func wantPoiseuille(t *testing.T, h flow.Hose, got flow.HoseResult, err error, f units.StandardFlow) {
	t.Helper()
	if err != nil {
		t.Fatalf("%s: %v", misjudged, err)
	}
	actual := float64(f) * float64(atmosphere) / float64(got.Inlet) * float64(h.Temperature) / 288.15
	want := 128 * h.Gas.Viscosity(h.Temperature) * float64(h.Length) * actual / (math.Pi * math.Pow(float64(h.InsideDiameter), 4))
	calctest.Near(t, got.Drop(), want, 0.005, "Hagen–Poiseuille law with ideal gas, 0.1 % off for oxygen at 2 bar; the drop changes the density by 0.1 %")
}

func wantChoked(t *testing.T, err error, where string, asked units.StandardFlow) {
	t.Helper()
	var choked *flow.ChokedError
	if !errors.As(err, &choked) {
		t.Errorf("%s: got %v, want a *ChokedError", where, err)
		return
	}
	if choked.Flow != asked || !(choked.Largest > 0 && choked.Largest < asked) {
		t.Errorf("%s: asked %v, error says %+v", where, asked, choked)
	}
}

// Law: the friction factor never jumps, is monotone in each regime, and f Re² — to which a drop is proportional — always grows.
func TestFrictionFactor_is_continuous_through_the_transition(t *testing.T) {
	const step = 1.0001
	for _, roughness := range []float64{0, 1e-5, 1e-3, 0.01, 0.05} {
		last := flow.FrictionFactor(100, roughness)
		for re := 100 * step; re < 2e5; re *= step {
			f := flow.FrictionFactor(re, roughness)
			if math.Abs(f/last-1) > 1e-3 {
				t.Fatalf("roughness %g: f jumps from %g to %g at Re %g", roughness, last, f, re)
			}
			if f*step*step <= last {
				t.Fatalf("roughness %g: f Re² falls at Re %g", roughness, re)
			}
			inside := re/step >= flow.LaminarReynolds && re <= flow.TurbulentReynolds
			outside := re <= flow.LaminarReynolds || re/step >= flow.TurbulentReynolds
			if inside && f <= last || outside && f >= last {
				t.Fatalf("roughness %g: f goes from %g to %g at Re %g", roughness, last, f, re)
			}
			last = f
		}
	}
}

// Law: above the transition the factor satisfies the Colebrook equation itself.
func TestFrictionFactor_solves_Colebrook(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 5000 {
		re, roughness := math.Pow(10, 3.61+4.4*r.Float64()), 0.05*math.Pow(r.Float64(), 4)
		x := 1 / math.Sqrt(flow.FrictionFactor(re, roughness))
		calctest.Near(t, -2*math.Log10(roughness/3.7+2.51*x/re), x, 1e-12, "an implicit solution, to rounding")
	}
}

// randomHose is any hose within what is known of its gas, with an inlet up to 4 bar absolute.
func randomHose(r *rand.Rand) (flow.Hose, units.AbsolutePressure) {
	gases := []gas.Gas{gas.Oxygen, gas.Acetylene, gas.Propane, gas.Hydrogen, gas.Methane, gas.Nitrogen}
	diameter := 3e-3 + 9e-3*r.Float64()
	return flow.Hose{
		Gas:             gases[r.IntN(len(gases))],
		InsideDiameter:  units.Length(diameter),
		Length:          units.Length(1 + 30*r.Float64()),
		Roughness:       units.Length(diameter * 0.01 * r.Float64()),
		LossCoefficient: 50 * r.Float64(),
		Temperature:     units.Temperature(275 + 45*r.Float64()),
	}, units.AbsolutePressure(1.1e5 + 2.9e5*r.Float64())
}

// largestFlow is the most that a hose passes from an inlet pressure, into whatever outlet: what it says when asked for far more.
func largestFlow(t *testing.T, h flow.Hose, inlet units.AbsolutePressure) units.StandardFlow {
	t.Helper()
	_, err := h.Outlet(inlet, 1)
	var choked *flow.ChokedError
	if !errors.As(err, &choked) {
		t.Fatalf("%+v passes 1 m³/s from %v Pa: %v", h, inlet, err)
	}
	return choked.Largest
}

// Law: Inlet undoes Outlet, down to the smallest drop and up to the edge of choking.
func TestHose_Inlet_undoes_Outlet(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	w := calctest.NewWorst("hose round trip of inlet pressure", 1e-9, "two Newton iterations to rounding; near choking the outlet barely tells the inlet")
	for i := range 5000 {
		h, inlet := randomHose(r)
		largest := largestFlow(t, h, inlet)
		f := largest * units.StandardFlow(0.999*math.Pow(r.Float64(), 2))
		there, err := h.Outlet(inlet, f)
		if err != nil {
			t.Fatalf("%+v: %v", h, err)
		}
		back, err := h.Inlet(there.Outlet, f)
		if err != nil {
			t.Fatalf("%+v: %v", h, err)
		}
		w.Add(t, float64(back.Inlet), float64(inlet), fmt.Sprint(i))
	}
	w.Report(t)
}

// Law: the drop grows strictly with the flow, through the transition, up to the largest flow; just beyond it the hose is choked.
func TestHose_Outlet_falls_with_flow_until_choked(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	for range 30 {
		h, inlet := randomHose(r)
		largest := largestFlow(t, h, inlet)
		last := inlet
		for step := 1; step < 2000; step++ {
			f := largest * units.StandardFlow(float64(step)/2000)
			got, err := h.Outlet(inlet, f)
			if err != nil || got.Outlet >= last {
				t.Fatalf("%+v at %v: outlet %v after %v, %v", h, f, got.Outlet, last, err)
			}
			last = got.Outlet
		}
		_, err := h.Outlet(inlet, largest*(1+1e-9))
		wantChoked(t, err, "just above the largest flow", largest*(1+1e-9))
	}
}

// The largest flow itself has an inlet: the density there is that of the inlet, not of the outlet.
func TestHose_Inlet_answers_at_the_choking_limit(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	for range 500 {
		h, inlet := randomHose(r)
		largest := largestFlow(t, h, inlet)
		there, err := h.Outlet(inlet, largest)
		if err != nil {
			t.Fatalf("%+v: %v", h, err)
		}
		back, err := h.Inlet(there.Outlet, largest)
		if err != nil {
			t.Fatalf("%+v: %v", h, err)
		}
		calctest.Near(t, float64(back.Inlet), float64(inlet), 1e-6, "at the limit the outlet is known to 1e-8 only")
	}
}

// Law: at the corners of what is allowed there is an answer in order, a choked hose or a range error, never not a number.
func TestHose_Outlet_holds_at_the_corners_of_its_limits(t *testing.T) {
	for _, d := range []units.Length{flow.MinHoseDiameter, 6e-3, flow.MaxHoseDiameter} {
		for _, l := range []units.Length{flow.MinHoseLength, 10, flow.MaxHoseLength} {
			for _, k := range []float64{0, flow.MaxLossCoefficient} {
				for _, rough := range []units.Length{0, d * flow.MaxRelativeRoughness} {
					h := flow.Hose{Gas: gas.Oxygen, InsideDiameter: d, Length: l, Roughness: rough, LossCoefficient: k, Temperature: 293.15}
					wantOrder(t, h)
				}
			}
		}
	}
}

func wantOrder(t *testing.T, h flow.Hose) {
	t.Helper()
	for _, inlet := range []units.AbsolutePressure{flow.MinPressure, 2e5, flow.MaxHosePressure} {
		for f := 1e-12; f <= 1; f *= 10 {
			got, err := h.Outlet(inlet, units.StandardFlow(f))
			if err != nil {
				wantChoked(t, err, fmt.Sprintf("%+v at %v", h, inlet), units.StandardFlow(f))
				continue
			}
			if !(got.Outlet > 0 && got.Outlet <= inlet && got.Reynolds > 0 && got.FrictionFactor > 0) {
				t.Errorf("%+v at %v with %v: %+v", h, inlet, f, got)
			}
		}
	}
}

// Law: fittings only add loss, and their whole effect at the drop of a slow gas is K ½ρu².
func TestHose_LossCoefficient_adds_velocity_heads(t *testing.T) {
	h := flow.Hose{Gas: gas.Oxygen, InsideDiameter: 6.3e-3, Length: 5, Roughness: 1e-6, Temperature: 293.15}
	const f units.StandardFlow = 2e-4
	plain, err := h.Outlet(3e5, f)
	if err != nil {
		t.Fatal(err)
	}
	h.LossCoefficient = 20
	fitted, err := h.Outlet(3e5, f)
	if err != nil {
		t.Fatal(err)
	}
	density, err := gas.Oxygen.Density(3e5, 293.15)
	if err != nil {
		t.Fatal(err)
	}
	u := float64(f) * float64(gas.Oxygen.StandardDensity()) / float64(density) / (math.Pi / 4 * 6.3e-3 * 6.3e-3)
	calctest.Near(t, fitted.Drop()-plain.Drop(), 20*float64(density)*u*u/2, 0.005, "incompressible limit, the drop is 0.3 % of the pressure")
}

func TestHose_zero_flow_loses_nothing(t *testing.T) {
	h := flow.Hose{Gas: gas.Acetylene, InsideDiameter: 6.3e-3, Length: 5, Temperature: 293.15}
	want := flow.HoseResult{Outlet: 1.5e5, Inlet: 1.5e5}
	if got, err := h.Outlet(1.5e5, 0); err != nil || got != want {
		t.Errorf("outlet: got %+v, %v", got, err)
	}
	if got, err := h.Inlet(1.5e5, 0); err != nil || got != want {
		t.Errorf("inlet: got %+v, %v", got, err)
	}
}

func TestHose_refuses_bad_input(t *testing.T) {
	good := flow.Hose{Gas: gas.Oxygen, InsideDiameter: 6.3e-3, Length: 5, Roughness: 1e-6, Temperature: 293.15}
	cases := []struct {
		name, field string
		inlet       units.AbsolutePressure
		flow        units.StandardFlow
		change      func(*flow.Hose)
	}{
		{"length zero", "length_m", 2e5, 1e-4, func(h *flow.Hose) { h.Length = 0 }},
		{"length negative", "length_m", 2e5, 1e-4, func(h *flow.Hose) { h.Length = -3 }},
		{"length of a pipeline", "length_m", 2e5, 1e-4, func(h *flow.Hose) { h.Length = 4000 }},
		{"no bore", "inside_diameter_m", 2e5, 1e-4, func(h *flow.Hose) { h.InsideDiameter = 0 }},
		{"negative roughness", "roughness_m", 2e5, 1e-4, func(h *flow.Hose) { h.Roughness = -1e-6 }},
		{"roughness of the bore", "roughness_m", 2e5, 1e-4, func(h *flow.Hose) { h.Roughness = 6e-3 }},
		{"negative loss", "loss_coefficient", 2e5, 1e-4, func(h *flow.Hose) { h.LossCoefficient = -1 }},
		{"below absolute zero", "temperature_k", 2e5, 1e-4, func(h *flow.Hose) { h.Temperature = -27 }},
		{"negative flow", "flow_std_m3_s", 2e5, -1e-4, func(*flow.Hose) {}},
		{"flow not a number", "flow_std_m3_s", 2e5, units.StandardFlow(math.NaN()), func(*flow.Hose) {}},
		{"vacuum inlet", "inlet_abs_pa", 0, 1e-4, func(*flow.Hose) {}},
		{"cylinder pressure", "inlet_abs_pa", 2e7, 1e-4, func(*flow.Hose) {}},
		{"acetylene beyond its data", "inlet_abs_pa", 1e6, 1e-4, func(h *flow.Hose) { h.Gas = gas.Acetylene }},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			h := good
			c.change(&h)
			_, err := h.Outlet(c.inlet, c.flow)
			wantRange(t, err, c.field)
		})
	}
	good.Gas = "phlogiston"
	if _, err := good.Outlet(2e5, 1e-4); !errors.Is(err, gas.ErrUnknown) {
		t.Errorf("unknown gas: got %v", err)
	}
}

// A flow that would leave faster than the isothermal limit is refused for Inlet too, with the most that the outlet lets go.
func TestHose_Inlet_names_the_choked_outlet(t *testing.T) {
	h := flow.Hose{Gas: gas.Oxygen, InsideDiameter: 4.7625e-3, Length: 15, Temperature: 293.15}
	_, err := h.Inlet(2e4, 2e-3)
	wantChoked(t, err, "low outlet", 2e-3)
	var choked *flow.ChokedError
	if errors.As(err, &choked) && choked.End != "outlet" {
		t.Errorf("end is %q", choked.End)
	}
}
