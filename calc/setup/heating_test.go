package setup

import (
	"math"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/heat"
	"torchside/calc/units"
)

// sixteen asks for a card to heat a 16 mm bar.
func sixteen() Input {
	in := eighth()
	in.Work, in.Joint, in.ThicknessM = Heat, "", 0.016
	in.Rig.FuelCylinder.Count = 20
	in.Rig.Tips = append(in.Rig.Tips, Tip{Label: "heating", OrificeDiameterM: p(0.0037)})
	return in
}

func sixteenAsked() HeatingQuestion {
	return HeatingQuestion{Piece: heat.Piece{Shape: heat.Round, Diameter: 0.016, Length: 1}, ZoneM: 0.06, TargetK: 1223.15, AtM: p(0.15)}
}

// heated answers or ends the test.
func heated(t *testing.T, in Input, q HeatingQuestion) Card {
	t.Helper()
	c, err := must(t, in).WithHeating(in, q)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The heating of a card is calc/heat with the power and the net heat of the card; gas is flow × time; the card it came from stays.
func TestWithHeating_isTheHeatOfTheCard(t *testing.T) {
	in := sixteen()
	before := must(t, in)
	warnings, provenance := len(before.Warnings), len(before.Provenance)
	c, err := before.WithHeating(in, sixteenAsked())
	if err != nil {
		t.Fatal(err)
	}
	h := c.Heating
	low, high := c.NetHeatW.Low/c.PowerW, math.Min(1, c.NetHeatW.High/c.PowerW)
	want, err := heat.Compute(heat.Input{Metal: heat.MildSteel, Piece: sixteenAsked().Piece, Zone: 0.06, Target: 1223.15, Start: 293.15,
		Power: units.Power(c.PowerW), Efficiency: math.Sqrt(low * high), EfficiencyLow: low, EfficiencyHigh: high})
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, h.TimeS.Value, want.Time.Value, 1e-12, "the same question")
	calctest.Near(t, h.TimeS.High, want.Time.High, 1e-12, "the same question")
	calctest.Near(t, h.Fuel.Value, c.Fuel.FlowStdM3S*h.TimeS.Value, 1e-12, "flow × time")
	calctest.Near(t, h.Oxygen.Low, c.Oxygen.FlowStdM3S*h.TimeS.Low, 1e-12, "flow × time")
	if !(low < high && h.TimeS.Low < h.TimeS.Value && h.Point.Peak > h.Point.Temperature && h.Bent == nil) {
		t.Errorf("%+v", h)
	}
	for _, key := range []string{KeyHeatingTime, KeyHeatingTarget, KeyHeatingPoint, KeyHeatingOxygen, KeyHeatingFuel} {
		if pr, ok := c.Provenance[key]; !ok || pr.Source == "" {
			t.Errorf("%s has no provenance", key)
		}
	}
	if before.Heating != nil || len(before.Warnings) != warnings || len(before.Provenance) != provenance {
		t.Error("the card it came from has changed")
	}
	if others := c.Provenance[KeyHeatingTarget].Others; len(h.Glow) != 4 || len(others) != 4 || !strings.Contains(others[0].Source, "up to 981 °C") {
		t.Errorf("glow %+v, told as %+v", h.Glow, others)
	}
}

// A bend fills in what was left empty: the zone and the heat; and it has its cautions.
func TestWithHeating_bend(t *testing.T) {
	in := sixteen()
	in.Work = Bend
	q := HeatingQuestion{Piece: sixteenAsked().Piece, Bend: &heat.Bend{InsideRadius: 0.032, Thickness: 0.016, Angle: 90, Legs: [2]float64{0.3, 0}}}
	c := heated(t, in, q)
	calctest.Near(t, c.Heating.Bent.Developed.Value, 0.3628319, 1e-5, "legs and π/2 × 40 mm")
	calctest.Near(t, c.Heating.ZoneM, c.Heating.Bent.Zone, 1e-12, "the zone of the bend")
	calctest.Near(t, c.Heating.TargetK-273.15, 960, 1e-9, "a quarter up the range of 870 to 1230 °C")
	if w, ok := warning(c, "bending_care"); !ok || !strings.Contains(w.Text, "blue heat") {
		t.Errorf("%+v", c.Warnings)
	}
	q.TargetK = 773.15
	if _, ok := warning(heated(t, in, q), "bending_heat"); !ok {
		t.Error("a bend at 500 °C is not warned of")
	}
}

// Refusals say what was read, what is allowed and why.
func TestWithHeating_refusesReadably(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Input, *HeatingQuestion)
		field  string
		word   string
	}{
		"above melting":      {func(_ *Input, q *HeatingQuestion) { q.TargetK = 1790 }, "target_k", "starts to melt"},
		"aluminium red hot":  {func(in *Input, q *HeatingQuestion) { in.Metal = Aluminium }, "target_k", "aluminium starts to melt"},
		"zone too long":      {func(_ *Input, q *HeatingQuestion) { q.ZoneM = 1.5 }, "zone_m", "longer than the piece"},
		"below the start":    {func(_ *Input, q *HeatingQuestion) { q.TargetK = 280 }, "target_k", "cannot cool"},
		"cast iron bent":     {func(in *Input, q *HeatingQuestion) { in.Work, in.Metal = Bend, CastIron }, "metal", "breaks"},
		"cast iron, no heat": {func(in *Input, q *HeatingQuestion) { in.Metal = CastIron; q.TargetK = 0 }, "target_k", "no usual heat"},
		"bend of nothing":    {func(in *Input, q *HeatingQuestion) { in.Work = Bend; q.Bend = &heat.Bend{} }, "thickness_m", "range"},
		"weak flame":         {func(in *Input, q *HeatingQuestion) { in.Rig.Tips = in.Rig.Tips[2:3]; q.ZoneM = 0.5 }, "target_k", "larger flame"},
		"far off the end":    {func(_ *Input, q *HeatingQuestion) { q.AtM = p(0.9) }, "at_m", "middle of the zone"},
	} {
		in, q := sixteen(), sixteenAsked()
		c.change(&in, &q)
		_, err := must(t, in).WithHeating(in, q)
		r, ok := err.(*Refusal)
		if !ok || r.Field != c.field || !strings.Contains(r.Why, c.word) || r.Read == "" || r.Allowed == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A hose that cannot bring the usual flow brings a smaller one; a weld through it is refused with what the hose takes.
func TestCompute_heatsThroughALongHoseWithASmallerFlame(t *testing.T) {
	in := sixteen()
	in.Rig.FuelHose.InsideDiameterM, in.Rig.FuelHose.LengthM = 0.004, 60
	c := must(t, in)
	if w, ok := warning(c, "smaller_flame"); !ok || c.Fuel.RegulatorGaugePa > 15*6894.76 {
		t.Errorf("%v Pa, %+v", c.Fuel.RegulatorGaugePa, w)
	}
	in = eighth()
	in.ThicknessM = 0.006
	in.Rig.FuelHose.InsideDiameterM, in.Rig.FuelHose.LengthM = 0.003, 100
	if r := refused(t, in); r.Code == "" || len(r.WaysOut) == 0 {
		t.Errorf("%+v", r)
	}
}

// With small tips only a bar is heated with a smaller flame, and that is said; a weld with them is refused.
func TestCompute_heatsWithASmallerFlame(t *testing.T) {
	in := sixteen()
	in.Rig.Tips = in.Rig.Tips[:len(in.Rig.Tips)-1]
	c := must(t, in)
	if w, ok := warning(c, "smaller_flame"); !ok || w.Level != Check || w.Concerns != "fuel.flow_std_m3_s" {
		t.Errorf("%+v", c.Warnings)
	}
	if _, ok := warning(must(t, sixteen()), "smaller_flame"); ok {
		t.Error("the usual flame is called small")
	}
	in.Work, in.Joint, in.ThicknessM = Braze, Butt, 0.012
	if r := refused(t, in); r.Code != "no_tip_fits" {
		t.Errorf("%+v", r)
	}
}

// Aluminium's warning stands before the whole card.
func TestWithHeating_aluminiumWarnsFirst(t *testing.T) {
	in, q := sixteen(), sixteenAsked()
	in.Metal, in.ThicknessM, q.TargetK = Aluminium, 0.006, 650
	q.Piece.Diameter = 0.006
	w, ok := warning(heated(t, in, q), "no_colour")
	if !ok || w.Level != Caution || w.Concerns != "" {
		t.Errorf("%+v", w)
	}
}
