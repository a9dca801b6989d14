package setup

import (
	"math"
	"testing"
)

func chartRig() Input {
	in := eighth()
	in.Rig.Tips[2].Chart = []ChartRow{
		{Work: Weld, ThicknessM: &Range{0.0025, 0.004}, OxygenGaugePa: &Range{40e3, 50e3}, FuelGaugePa: &Range{30e3, 40e3}, FuelFlowStd: &Range{5e-5, 7e-5}},
		{Work: Weld, ThicknessM: &Range{0.0030, 0.0033}, OxygenGaugePa: &Range{52e3, 52e3}, FuelGaugePa: &Range{44e3, 44e3}, FuelFlowStd: &Range{6e-5, 6e-5}, OxygenFlowStd: &Range{6.6e-5, 6.6e-5}},
	}
	return in
}

// The maker's chart beats every other source, for tip, pressures and flow; the narrowest row that holds is taken.
func TestCompute_makersChartWins(t *testing.T) {
	c := must(t, chartRig())
	if c.Tip != "large" || c.Oxygen.RegulatorGaugePa != 52e3 || c.Fuel.RegulatorGaugePa != 44e3 || c.Fuel.FlowStdM3S != 6e-5 {
		t.Errorf("tip %s, oxygen %v Pa, fuel %v Pa, flow %v", c.Tip, c.Oxygen.RegulatorGaugePa, c.Fuel.RegulatorGaugePa, c.Fuel.FlowStdM3S)
	}
	for _, f := range []string{"tip", "oxygen.regulator_gauge_pa", "fuel.regulator_gauge_pa", "fuel.flow_std_m3_s", "oxygen.flow_std_m3_s", "ratio"} {
		if k := c.Provenance[f].Kind; k != MakersChart {
			t.Errorf("%s is from %s", f, k)
		}
	}
	if math.Abs(c.Ratio-1.1) > 0.02 {
		t.Errorf("ratio %v of 6.6 to 6.0", c.Ratio)
	}
}

// A disagreement over 30 % is shown, not hidden.
func TestCompute_showsDisagreement(t *testing.T) {
	c := must(t, chartRig())
	w, ok := warning(c, "disagreement")
	if !ok || w.Concerns == "" {
		t.Errorf("chart at 52 and 44 kPa against physics near 12 kPa: %+v", c.Warnings)
	}
	if len(c.Provenance["fuel.regulator_gauge_pa"].Others) == 0 {
		t.Error("what physics says is not kept")
	}
}

// A row for another thickness, metal, fuel or work does not hold.
func TestMatchRow_onlyWhereItHolds(t *testing.T) {
	for name, row := range map[string]ChartRow{
		"thickness": {ThicknessM: &Range{0.004, 0.006}, FuelGaugePa: &Range{1e4, 1e4}}, "metal": {Metal: Copper, FuelGaugePa: &Range{1e4, 1e4}},
		"fuel": {Fuel: "propane", FuelGaugePa: &Range{1e4, 1e4}}, "work": {Work: Braze, FuelGaugePa: &Range{1e4, 1e4}},
	} {
		in := eighth()
		in.Rig.Tips[0].Chart = []ChartRow{row}
		if matchRow(&in.Rig.Tips[0], in) != nil {
			t.Errorf("a row for another %s was taken", name)
		}
	}
}

// Pressures of a chart read at the torch need the loss of the hose on top.
func TestCompute_chartAtTheTorch(t *testing.T) {
	in := chartRig()
	in.Rig.Tips[2].Chart[1].PressuresAt = AtTorch
	c := must(t, in)
	if c.Fuel.TorchGaugePa != 44e3 || c.Fuel.RegulatorGaugePa <= 44e3 {
		t.Errorf("torch %v, regulator %v", c.Fuel.TorchGaugePa, c.Fuel.RegulatorGaugePa)
	}
}

// A longer or narrower hose needs more at the regulator; the loss is that of the flow model.
func TestCompute_hoseCostsPressure(t *testing.T) {
	last := 0.0
	for _, length := range []float64{2, 5, 10, 20} {
		in := eighth()
		in.Rig.OxygenHose.LengthM, in.Rig.OxygenHose.InsideDiameterM = length, 0.0048
		c := must(t, in)
		lost := c.Oxygen.RegulatorGaugePa - c.Oxygen.TorchGaugePa
		if lost <= last {
			t.Errorf("%v m lose %v Pa, shorter lost %v", length, lost, last)
		}
		last = lost
	}
}

// A chart may stand alone: no hole is known, then no exit velocity and no pop-back estimate is made up.
func TestCompute_chartWithoutHole(t *testing.T) {
	in := chartRig()
	in.Rig.Tips[2].OrificeDiameterM = nil
	c := must(t, in)
	if c.Tip != "large" || c.ExitVelocityMS != nil || c.HoldOnMargin != nil || c.ConeLengthM != nil {
		t.Errorf("tip %s, exit %v, margin %v", c.Tip, c.ExitVelocityMS, c.HoldOnMargin)
	}
}
