package setup

import (
	"strings"
	"testing"

	"torchside/calc/gas"
)

// concernsPressure reports whether a warning stands before a pressure of the line, so that it is read before the torch is lit.
func concernsPressure(w Warning, line string) bool { return w.Concerns == line+".regulator_gauge_pa" }

// An oxygen cylinder at its reserve or below stops everything, as fuel runs back into a line without pressure; one above it does not.
func TestCompute_oxygenAtItsReserveIsAStop(t *testing.T) {
	for _, k := range []struct {
		gauge, reserve float64
		want           string
	}{{0, 5e5, "is empty"}, {5e5, 5e5, "is down to its reserve"}, {4e5, 5e5, "is down to its reserve"}} {
		in := eighth()
		in.Rig.OxygenCylinder.GaugePressurePa, in.Rig.OxygenCylinder.ReserveGaugePa = k.gauge, p(k.reserve)
		r := refused(t, in)
		if r.Code != codeSpent || r.Field != "rig.oxygen_cylinder" || !strings.Contains(r.Read, k.want) || !strings.Contains(r.Why, "reverse flow") || !strings.Contains(r.Allowed, "5 bar (72.5 psi)") {
			t.Errorf("%v Pa of %v: %+v", k.gauge, k.reserve, r)
		}
	}
	in := eighth()
	in.Rig.OxygenCylinder.GaugePressurePa, in.Rig.OxygenCylinder.ReserveGaugePa = 6e5, p(5e5)
	must(t, in)
}

// An acetylene cylinder with nothing to draw: where the flow is refused the way out is another cylinder, not another tip; where a
// small flame would still pass, a caution says so.
func TestCompute_acetyleneAtItsReserveIsToBeChanged(t *testing.T) {
	for gross, want := range map[float64]string{36: "is empty", 36.46: "is down to its reserve", 36.3: "is down to its reserve"} {
		in := eighth()
		in.Rig.FuelCylinder.GrossMassKg = p(gross)
		r := refused(t, in)
		all := r.Error()
		if r.Code != codeSpent || !strings.Contains(r.Read, want) || len(r.WaysOut) != 1 || strings.Contains(all, "smaller tip") || !strings.Contains(r.WaysOut[0], "change the cylinder") {
			t.Errorf("%v kg: %+v", gross, r)
		}
	}
	in := atFlow(eighth(), 30)
	in.Rig.FuelCylinder.GrossMassKg = p(36.46)
	c := must(t, in)
	if w, ok := warning(c, "fuel_at_reserve"); !ok || w.Level != Caution || !concernsPressure(w, "fuel") || !strings.Contains(w.Text, "0.46 kg") || *c.Fuel.EnduranceS > 60 {
		t.Errorf("%+v, lasts %v", w, *c.Fuel.EnduranceS)
	}
	in = atFlow(eighth(), 200)
	in.Rig.FuelCylinder = &FuelCylinder{Fuel: gas.Acetylene, FullMassKg: p(4.6), GaugePressurePa: p(1e5)}
	if r := refused(t, in); r.Code != codeSpent || !strings.Contains(r.WaysOut[0], "weigh the cylinder") || strings.Contains(r.Read, "is empty") {
		t.Errorf("by gauge alone: %+v", r)
	}
	if _, ok := warning(must(t, eighth()), "fuel_at_reserve"); ok {
		t.Error("a nearly full cylinder is called spent")
	}
}

// A weighed propane cylinder without liquid is empty: there is nothing to light. One with a little in it is only near its end.
func TestCompute_emptyPropaneIsAStop(t *testing.T) {
	in := eighth()
	in.Work, in.Rig.Tips = Heat, []Tip{{Label: "rose", OrificeDiameterM: p(0.0012), OrificeCount: 4, Fuels: []gas.Gas{gas.Propane}}}
	in.Rig.FuelCylinder = &FuelCylinder{Fuel: gas.Propane, GrossMassKg: p(9), TareMassKg: p(9), FullMassKg: p(11)}
	if r := refused(t, in); r.Code != codeSpent || r.Field != "rig.fuel_cylinder" || !strings.Contains(r.Error(), "the propane cylinder is empty") || !strings.Contains(r.WaysOut[0], "change the cylinder") {
		t.Errorf("%+v", r)
	}
	in.Rig.FuelCylinder.GrossMassKg = p(9.3)
	if w, ok := warning(must(t, in), "fuel_at_reserve"); !ok || !strings.Contains(w.Text, "down to its reserve") {
		t.Errorf("%+v", w)
	}
}

// The way out of a draw that is too fast never asks for more cylinders than a manifold holds.
func TestCompute_neverAsksForAManifoldNobodyHas(t *testing.T) {
	in := atFlow(eighth(), 300)
	in.Rig.FuelCylinder = &FuelCylinder{Fuel: gas.Acetylene, GrossMassKg: p(10.1), TareMassKg: p(10), FullMassKg: p(0.3)}
	if r := refused(t, in); r.Code != "withdrawal" || strings.Contains(strings.Join(r.WaysOut, " "), "manifold") {
		t.Errorf("%+v", r)
	}
}

// The older, more permissive rule is the owner's choice, and the card says so with what the stricter one allows.
func TestCompute_olderWithdrawalRuleIsACaution(t *testing.T) {
	in := atFlow(eighth(), 200)
	in.Rig.WithdrawalRule = "seventh"
	c := must(t, in)
	w, ok := warning(c, "withdrawal_older_rule")
	if !ok || w.Level != Caution || w.Concerns != "fuel.flow_std_m3_s" {
		t.Fatalf("%+v", w)
	}
	// 4.2 kg × 899 L/kg = 3776 L: a tenth is 378 L/h, a fifteenth 252 L/h.
	for _, part := range []string{"1/7", "1/10", "1/15", "378 L/h", "252 L/h", "ft³/h", "older CGA G-1"} {
		if !strings.Contains(w.Text, part) {
			t.Errorf("%q lacks %q", w.Text, part)
		}
	}
	if !strings.Contains(w.Source, "CGA G-1 (2009 and later)") {
		t.Errorf("source %q", w.Source)
	}
	if c.Fuel.WithoutPauseS != nil {
		t.Error("the older rule knows no pauses")
	}
	for _, strict := range []string{"", "tenth_fifteenth"} {
		in.Rig.WithdrawalRule = strict
		if _, ok := warning(must(t, in), "withdrawal_older_rule"); ok {
			t.Errorf("rule %q is called more permissive", strict)
		}
	}
}

// A cylinder that only its gauge tells of may hold more than the guess: it is weighed before it is changed.
func TestCompute_acetyleneByALowGaugeIsWeighedFirst(t *testing.T) {
	in := atFlow(eighth(), 20)
	in.Rig.FuelCylinder = &FuelCylinder{Fuel: gas.Acetylene, FullMassKg: p(4.6), GaugePressurePa: p(6e5)}
	in.Rig.FuelCylinder.ReserveFraction = p(0.3)
	w, ok := warning(must(t, in), "fuel_at_reserve")
	if !ok || !strings.HasPrefix(w.Text, "Weigh the acetylene cylinder") || !strings.Contains(w.Text, "0.3 of full") {
		t.Errorf("%+v", w)
	}
}
