package setup

import (
	"math"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/cut"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// cutter is the shop's rig with two cutting tips of our own invention, asked to cut 13 mm.
func cutter() Input {
	in := eighth()
	in.Work, in.Joint, in.ThicknessM = Cut, "", 0.013
	in.Rig.FuelCylinder.Count = 2 // the preheat of cutting draws more than one such cylinder may give
	in.Rig.Tips = append(in.Rig.Tips,
		Tip{Label: "cut 12", OrificeDiameterM: p(0.0012), Works: []Work{Cut}, PreheatDiameterM: p(0.0006), PreheatCount: 6},
		Tip{Label: "cut 16", OrificeDiameterM: p(0.0016), Works: []Work{Cut}})
	return in
}

// The printed rows (Carvill p. 210): with the printed hole the card stands at the printed pressure at the torch, and the printed
// speed ends the band of a hand.
func TestCompute_cuttingRowsAsPrinted(t *testing.T) {
	pressure := calctest.NewWorst("cutting-oxygen pressure of the card", 0.016, "printed to 0.1 bar: half a digit of 3.2 bar")
	speed := calctest.NewWorst("end of the hand speed", 1e-9, "taken from the table")
	fuel := calctest.NewWorst("acetylene pressure at the torch", 1e-9, "taken from the table")
	for _, r := range calctest.Where(t, calctest.Reference(t, "cutting.csv"), "trust", "B") {
		if !r.Has("oxygen_bar_g") {
			continue
		}
		in := cutter()
		in.ThicknessM = r.Number("thickness_mm") / 1000
		in.Rig.FuelCylinder.Count = 6
		in.Rig.Tips = []Tip{{Label: "printed", Works: []Work{Cut}, OrificeDiameterM: p(r.Number("cutting_orifice_mm") / 1000)}}
		c := must(t, in)
		pressure.Add(t, c.Oxygen.TorchGaugePa/1e5, r.Number("oxygen_bar_g"), r.Text("thickness_mm"))
		speed.Add(t, c.Cutting.HandSpeedMS.High*60e3, r.Number("speed_low_mm_min"), r.Text("thickness_mm"))
		fuel.Add(t, c.Fuel.TorchGaugePa/1e5, r.Number("acetylene_bar_g"), r.Text("thickness_mm"))
	}
	for _, w := range []*calctest.Worst{pressure, speed, fuel} {
		w.Report(t)
	}
	if speed.Count() != 4 {
		t.Errorf("%d rows, want 4", speed.Count())
	}
}

// Every row of 29 CFR 1910.133(a)(5) for oxygen cutting, at and beside its ends.
func TestShadeFor_oxygenCutting(t *testing.T) {
	n := 0
	for _, row := range calctest.Reference(t, "filter_shades.csv") {
		if !strings.HasPrefix(row.Text("operation"), "oxygen cutting") {
			continue
		}
		n++
		want := Shade{int(row.Number("shade_minimum")), int(row.Number("shade_recommended_low")), int(row.Number("shade_recommended_high"))}
		low := row.Number("thickness_lower_in") * 0.0254 * 1.001
		if got, _ := shadeFor(Input{Work: Cut, ThicknessM: low}); got != want {
			t.Errorf("%s at %v m: %+v, printed %+v", row.Text("operation"), low, got, want)
		}
		if row.Has("thickness_upper_in") {
			if got, _ := shadeFor(Input{Work: Cut, ThicknessM: row.Number("thickness_upper_in") * 0.0254 * 0.999}); got != want {
				t.Errorf("%s at its upper end: %+v, printed %+v", row.Text("operation"), got, want)
			}
		}
	}
	if n != 3 {
		t.Errorf("%d rows", n)
	}
}

// The card takes the cutting tip of the right hole, never a flame tip, and its numbers belong together.
func TestCompute_cutting(t *testing.T) {
	in := cutter()
	c := must(t, in)
	if c.Tip != "cut 12" || c.Cutting == nil || c.Filler != nil || c.Shade.Minimum != 3 || c.SpeedMS != nil {
		t.Fatalf("tip %s, %+v", c.Tip, c.Cutting)
	}
	for _, v := range c.Tips {
		if strings.HasPrefix(v.Label, "cut") == (v.Code == "tip_work") {
			t.Errorf("%+v", v)
		}
	}
	k := c.Cutting
	calctest.Near(t, k.CuttingOxygenStdM3S+k.PreheatOxygenStdM3S, c.Oxygen.FlowStdM3S, 1e-12, "the line carries both")
	calctest.Near(t, k.PreheatOxygenStdM3S, oxygenFlow(gas.Acetylene, c.Fuel.FlowStdM3S, c.Ratio), 1e-12, "by the ratio")
	calctest.Near(t, *c.Oxygen.EnduranceS*c.Oxygen.FlowStdM3S, *c.Oxygen.ContentsStdM3, 1e-12, "contents over flow")
	direct, err := cut.Compute(cut.Input{Thickness: 0.013, Orifice: 0.0012, Length: 1})
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, k.CuttingOxygenStdM3S, direct.Cutting.Value, 1e-12, "the same hole, asked directly")
	calctest.Near(t, k.HeatRatio, direct.Balance.Ratio.Value, 1e-12, "the same heat balance")
	welding := must(t, eighth())
	if c.Oxygen.FlowStdM3S < 5*welding.Oxygen.FlowStdM3S {
		t.Errorf("cutting draws %v, welding %v: it draws many times as much", c.Oxygen.FlowStdM3S, welding.Oxygen.FlowStdM3S)
	}
	if c.FlameClass != "neutral" || c.ExitVelocityMS == nil || c.ConeLengthM == nil {
		t.Errorf("the preheat flame: %s, %v", c.FlameClass, c.ExitVelocityMS)
	}
	if q := c.Flame(in); q.OrificeDiameterM != 0.0006 || q.Holes != 6 {
		t.Errorf("the flame stands on %+v", q)
	}
}

// Every number of cutting says where it is from, and lies in its band.
func TestCompute_cuttingNumbersCarryTheirProvenance(t *testing.T) {
	c := must(t, cutter())
	k := c.Cutting
	for key, v := range map[string]float64{KeyCuttingOxygen: k.CuttingOxygenStdM3S, KeyPreheatOxygen: k.PreheatOxygenStdM3S, KeyCutHand: k.HandSpeedMS.High, KeyCutMachine: k.MachineSpeedMS.Low,
		KeyKerf: k.KerfM, KeyDrag: k.DragM, KeyCutStart: k.StartTimeS, KeyOxygenPerM: k.OxygenPerLength, KeyFuelPerM: k.FuelPerLength, KeyIronShare: k.IronHeatShare, KeyHeatRatio: k.HeatRatio,
		"oxygen.regulator_gauge_pa": c.Oxygen.RegulatorGaugePa, "oxygen.torch_gauge_pa": c.Oxygen.TorchGaugePa, "fuel.regulator_gauge_pa": c.Fuel.RegulatorGaugePa,
		"oxygen.flow_std_m3_s": c.Oxygen.FlowStdM3S, "fuel.flow_std_m3_s": c.Fuel.FlowStdM3S} {
		if pr := c.Provenance[key]; pr.Source == "" || pr.Kind == "" || !(pr.Low <= v && v <= pr.High) {
			t.Errorf("%s = %v: %+v", key, v, pr)
		}
	}
	if c.Provenance["tip"].Source == "" || c.Provenance["shade"].Source == "" {
		t.Error("tip or shade without a source")
	}
}

// The hose loss is that of cutting and preheat together: from the regulator back through the hose stands what the torch wants.
func TestCompute_cuttingHoseDropAtTheWholeFlow(t *testing.T) {
	in := cutter()
	c := must(t, in)
	lost := c.Oxygen.RegulatorGaugePa - c.Oxygen.TorchGaugePa
	m := hoseModel(in.Rig.OxygenHose, gas.Oxygen, in.TemperatureK, false)
	r, err := m.Outlet(units.AbsolutePressure(c.Oxygen.RegulatorGaugePa+in.AmbientAbsPa), units.StandardFlow(c.Oxygen.FlowStdM3S))
	if err != nil || lost <= 0 {
		t.Fatal(lost, err)
	}
	calctest.Near(t, float64(r.Outlet)-in.AmbientAbsPa, c.Oxygen.TorchGaugePa, 1e-6, "one hose, both ways")
	long := cutter()
	long.Rig.OxygenHose.LengthM, long.Rig.OxygenHose.InsideDiameterM = 30, 0.005
	if d := must(t, long); d.Oxygen.RegulatorGaugePa-d.Oxygen.TorchGaugePa < 3*lost {
		t.Error("a long narrow hose loses hardly more")
	}
	long.Rig.OxygenHose.InsideDiameterM = 0.0025
	if no := refused(t, long); no.Why == "" || len(no.Tips) == 0 {
		t.Errorf("%+v", no)
	}
}

// A row of the maker's chart beats the handbook. Its pressure at the regulator leaves less at the torch, and the flow is that of what
// is left: hose and hole agree.
func TestCompute_cuttingByTheMakersRow(t *testing.T) {
	in := cutter()
	in.Rig.Tips[4].Chart = []ChartRow{{Work: Cut, ThicknessM: &Range{0.010, 0.020}, OxygenGaugePa: &Range{4e5, 4e5}, FuelGaugePa: &Range{3e4, 3e4}}}
	c := must(t, in)
	if c.Tip != "cut 16" || c.Oxygen.RegulatorGaugePa != 4e5 || c.Fuel.RegulatorGaugePa != 3e4 || c.Provenance["oxygen.regulator_gauge_pa"].Kind != MakersChart {
		t.Fatalf("%s at %v and %v", c.Tip, c.Oxygen.RegulatorGaugePa, c.Fuel.RegulatorGaugePa)
	}
	hole, err := cut.Compute(cut.Input{Thickness: 0.013, Orifice: 0.0016, Length: 1, Torch: units.GaugePressure(c.Oxygen.TorchGaugePa)})
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, c.Cutting.CuttingOxygenStdM3S/hole.Cutting.Value, 1, 3e-3, "choked flow taken as straight in the absolute pressure while halving")
	in.Rig.Tips[4].Chart[0].OxygenFlowStd = &Range{0.0009, 0.0011}
	if d := must(t, in); math.Abs(d.Cutting.CuttingOxygenStdM3S-0.001) > 1e-12 || d.Oxygen.FlowStdM3S <= 0.001 {
		t.Errorf("flow of the row: %+v", d.Cutting)
	}
}

// A chart row alone, without the hole, gives a card too.
func TestCompute_cuttingTipWithoutAHole(t *testing.T) {
	in := cutter()
	in.Rig.Tips = []Tip{{Label: "by chart", Works: []Work{Cut}, Chart: []ChartRow{{OxygenGaugePa: &Range{3e5, 3e5}}}}}
	if c := must(t, in); c.Oxygen.RegulatorGaugePa != 3e5 || c.TipDetail.OrificeDiameterM != nil || !(c.Oxygen.FlowStdM3S > 0) {
		t.Errorf("%+v", c.Oxygen)
	}
}

// What oxygen does not cut is refused with the reason, and so is bad input.
func TestCompute_refusesWhatIsNotCut(t *testing.T) {
	for name, c := range map[string]struct {
		change    func(*Input)
		code, why string
	}{
		"stainless":        {func(in *Input) { in.Metal = StainlessSteel }, "metal_not_cut", "chromium oxide melts near 2300 °C"},
		"cast iron":        {func(in *Input) { in.Metal = CastIron }, "metal_not_cut", "below its oxide at 1377 °C"},
		"aluminium":        {func(in *Input) { in.Metal = Aluminium }, "metal_not_cut", "its oxide near 2050 °C"},
		"copper":           {func(in *Input) { in.Metal = Copper }, "metal_not_cut", "melts at 1085 °C"},
		"2 m":              {func(in *Input) { in.ThicknessM = 2 }, "out_of_range", "thicker steel"},
		"1 mm":             {func(in *Input) { in.ThicknessM = 0.001 }, "out_of_range", "warps"},
		"90 % oxygen":      {func(in *Input) { in.Cut = &CutQuestion{OxygenPurity: 0.9} }, "out_of_range", "no cut is possible"},
		"start":            {func(in *Input) { in.Cut = &CutQuestion{Start: "middle"} }, "unknown_start", "edge"},
		"preheat hole":     {func(in *Input) { in.Rig.Tips[3].PreheatDiameterM = p(0.02) }, "out_of_range", "holes"},
		"preheat holes":    {func(in *Input) { in.Rig.Tips[3].PreheatCount = -1 }, "out_of_range", "holes"},
		"hole too narrow":  {func(in *Input) { in.Rig.Tips, in.ThicknessM = in.Rig.Tips[3:4], 0.2 }, "cutting_hole", "too narrow"},
		"hole too wide":    {func(in *Input) { in.Rig.Tips, in.ThicknessM = in.Rig.Tips[4:5], 0.0015 }, "cutting_hole", "too wide"},
		"only flame tips":  {func(in *Input) { in.Rig.Tips = in.Rig.Tips[:1] }, "tip_work", "no hole for the cutting oxygen"},
		"regulator to low": {func(in *Input) { in.Rig.OxygenRegulator.MaxGaugePa = 1e5 }, "no_tip_fits", "regulator cannot show"},
	} {
		in := cutter()
		c.change(&in)
		if no := refused(t, in); no.Code != c.code || !strings.Contains(no.Error(), c.why) {
			t.Errorf("%s: %s, %v; want %s with %q", name, no.Code, no, c.code, c.why)
		}
	}
	weld := eighth()
	weld.Rig.Tips = append(weld.Rig.Tips, cutter().Rig.Tips[3])
	weld.TipLabel = "cut 12"
	if no := refused(t, weld); no.Code != "tip_work" {
		t.Errorf("welding with a cutting tip: %s", no.Code)
	}
}

// Galvanised, painted, pierced, impure, thick: each has its word, and what is for safety stands before the whole card.
func TestCompute_cuttingCautions(t *testing.T) {
	in := cutter()
	in.Metal, in.Cut = GalvanisedSteel, &CutQuestion{OxygenPurity: 0.985, Start: cut.Pierce, Painted: true}
	c := must(t, in)
	for code, want := range map[string]Warning{"zinc_coating": {Level: Caution}, "coating": {Level: Caution}, "sparks": {Level: Caution},
		"pierce": {Level: Caution, Concerns: KeyCutStart}, "impure_oxygen": {Level: Check, Concerns: "oxygen.flow_std_m3_s"}} {
		if w, ok := warning(c, code); !ok || w.Level != want.Level || w.Concerns != want.Concerns || w.Source == "" {
			t.Errorf("%s: %v, %+v", code, ok, w)
		}
	}
	pure := must(t, cutter())
	if _, ok := warning(pure, "impure_oxygen"); ok {
		t.Error("pure oxygen is called impure")
	}
	calctest.Near(t, c.Cutting.HandSpeedMS.High/pure.Cutting.HandSpeedMS.High, 0.85, 1e-9, "15 % of speed at 98.5 %, course notes")
	if c.Cutting.StartTimeS <= pure.Cutting.StartTimeS {
		t.Error("piercing takes no longer than an edge")
	}
	seen := map[string]bool{}
	for _, w := range c.Warnings {
		if seen[w.Code+w.Concerns] {
			t.Errorf("%s is said twice", w.Code)
		}
		seen[w.Code+w.Concerns] = true
	}
}

// Another fuel is taken too: more of the same heat, and more oxygen with it.
func TestCompute_cuttingWithPropane(t *testing.T) {
	in := cutter()
	in.Rig.FuelCylinder = &FuelCylinder{Fuel: gas.Propane, GrossMassKg: p(20), TareMassKg: p(10), FullMassKg: p(11)}
	for i := range in.Rig.Tips {
		in.Rig.Tips[i].Fuels = []gas.Gas{gas.Propane}
	}
	c, a := must(t, in), must(t, cutter())
	calctest.Near(t, c.PowerW/a.PowerW, 1, 1e-6, "the same total heat")
	if c.Cutting.PreheatOxygenStdM3S <= a.Cutting.PreheatOxygenStdM3S {
		t.Error("propane takes more oxygen")
	}
}

// One small cylinder may not give the usual preheat: a smaller one is taken, never below what is printed, and said so.
func TestCompute_cuttingWithASmallerPreheat(t *testing.T) {
	in := cutter()
	usual := must(t, in)
	in.Rig.FuelCylinder.Count = 1
	c := must(t, in)
	band := usual.Provenance["fuel.flow_std_m3_s"]
	if w, ok := warning(c, "smaller_flame"); !ok || w.Concerns != "fuel.flow_std_m3_s" || c.Fuel.FlowStdM3S >= usual.Fuel.FlowStdM3S || c.Fuel.FlowStdM3S < band.Low {
		t.Errorf("%v L/h after %v, %v", c.Fuel.FlowStdM3S/litresPerHour, usual.Fuel.FlowStdM3S/litresPerHour, w)
	}
	in.Rig.FuelCylinder.GrossMassKg = p(37)
	if no := refused(t, in); no.Code != "withdrawal" {
		t.Errorf("nearly empty: %s", no.Code)
	}
}
