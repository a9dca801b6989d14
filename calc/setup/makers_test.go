package setup

import (
	"strings"
	"testing"

	"torchside/calc/units"
)

const cubicFootPerHour = units.CubicFoot / 3600

// made5 is a tip whose maker gives 18 to 24 ft³/h and 5 to 7 psi, for plate of 5 to 8 mm only. Invented.
func made5() Tip {
	return Tip{Label: "5", OrificeDiameterM: p(0.0011), Chart: []ChartRow{{Work: Weld, ThicknessM: &Range{0.005, 0.008},
		OxygenGaugePa: &Range{5 * units.PSI, 7 * units.PSI}, FuelGaugePa: &Range{5 * units.PSI, 7 * units.PSI}, FuelFlowStd: &Range{18 * cubicFootPerHour, 24 * cubicFootPerHour}}}}
}

// Below the maker's smallest flow a tip pops back, whatever the handbook asks: it is not offered, and both numbers are said.
func TestCompute_noTipRunsBelowItsMakersSmallestFlow(t *testing.T) {
	in := eighth()
	in.Rig.Tips = append(in.Rig.Tips, made5())
	for _, v := range must(t, in).Tips {
		if v.Label != "5" {
			continue
		}
		if v.Fits || v.Code != "outside_makers_chart" || !strings.Contains(v.Why, "510 L/h") || !strings.Contains(v.Why, "below the maker's smallest") {
			t.Errorf("%+v", v)
		}
	}
}

// Chosen by hand it is refused, with a smaller tip as the way out.
func TestCompute_aTipBelowItsMakersSmallestFlowIsRefusedByHand(t *testing.T) {
	in := eighth()
	in.Rig.Tips = append(in.Rig.Tips, made5())
	in.TipLabel = "5"
	no := refused(t, in)
	if no.Code != "outside_makers_chart" || !strings.Contains(strings.Join(no.WaysOut, "; "), "smaller tip") {
		t.Errorf("%+v", no)
	}
}

// The rows' pressures bind as their flows do, where the chart reads them; the largest binds as the smallest does.
func TestCompute_theMakersPressuresAndLargestFlowBindToo(t *testing.T) {
	for name, c := range map[string]struct {
		row  ChartRow
		want string
	}{
		"smallest pressure": {ChartRow{FuelGaugePa: &Range{9 * units.PSI, 10 * units.PSI}}, "below the maker's smallest"},
		"at the torch":      {ChartRow{OxygenGaugePa: &Range{9 * units.PSI, 10 * units.PSI}, PressuresAt: AtTorch}, "oxygen pressure at the torch"},
		"largest flow":      {ChartRow{FuelFlowStd: &Range{1 * cubicFootPerHour, 2 * cubicFootPerHour}}, "above the maker's largest"},
	} {
		in := eighth()
		c.row.ThicknessM = &Range{0.010, 0.012}
		in.Rig.Tips[1].Chart = []ChartRow{c.row}
		in.TipLabel = "middle"
		if no := refused(t, in); no.Code != "outside_makers_chart" || !strings.Contains(no.Why, c.want) {
			t.Errorf("%s: %+v", name, no)
		}
	}
}

// Law: no card on a tip with a chart has a fuel flow outside the rows of its fuel.
func TestCompute_noCardLeavesTheMakersFlows(t *testing.T) {
	cards := 0
	for mm := 0.8; mm <= 12; mm += 0.2 {
		in := eighth()
		in.ThicknessM, in.Rig.FuelCylinder.Count = mm/1000, 6
		in.Rig.Tips = []Tip{made5()}
		c, err := Compute(in)
		if err != nil {
			continue // refused: nothing is shown
		}
		cards++
		if f := c.Fuel.FlowStdM3S / cubicFootPerHour; f < 17.8 || f > 24.3 {
			t.Errorf("%v mm: %v ft³/h", mm, f)
		}
	}
	if cards < 5 {
		t.Errorf("only %d cards", cards)
	}
}
