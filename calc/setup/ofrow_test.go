package setup

import (
	"math"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/units"
)

// rangedRow is a tip whose row has ranges of both flows. Invented.
func rangedRow() Input {
	in := eighth()
	in.Rig.Tips[2].Chart = []ChartRow{{Work: Weld, OxygenGaugePa: &Range{40e3, 50e3}, FuelGaugePa: &Range{30e3, 40e3}, FuelFlowStd: &Range{5e-5, 7e-5}, OxygenFlowStd: &Range{5.5e-5, 7.7e-5}}}
	return in
}

// The band of a ratio out of the chart is that of the chart's own flows; the handbook's stays beside it.
func TestCompute_theBandOfAChartsRatioIsTheCharts(t *testing.T) {
	c := must(t, rangedRow())
	pr := c.Provenance["ratio"]
	perMole := c.Ratio * 6e-5 / 6.6e-5
	calctest.Near(t, pr.Low, 5.5/7.0*perMole, 1e-6, "least oxygen on most fuel")
	calctest.Near(t, pr.High, 7.7/5.0*perMole, 1e-6, "most oxygen on least fuel")
	if pr.Kind != MakersChart || len(pr.Others) != 1 || pr.Others[0].Kind != Handbook {
		t.Errorf("%+v", pr)
	}
}

// A chart's flame that is not neutral does to a steel puddle what a typed ratio does: both are cautioned before the pressures.
func TestCompute_aChartFlameThatIsNotNeutralIsCautionedAsATypedOne(t *testing.T) {
	in := rangedRow()
	in.Rig.Tips[2].Chart[0].OxygenFlowStd = &Range{8e-5, 10e-5}
	w, ok := warning(must(t, in), "chart_not_neutral")
	typed := eighth()
	typed.Ratio = 1.6
	v, found := warning(must(t, typed), "not_neutral")
	if !ok || !found || w.Level != Caution || w.Level != v.Level || w.Concerns != v.Concerns || w.Concerns != "oxygen.regulator_gauge_pa" {
		t.Errorf("%+v, %+v", w, v)
	}
}

// A typed ratio that takes the oxygen out of the row makes its pressure a computed one; within the row it stays the maker's.
func TestCompute_anOxygenFlowOutsideTheRowHasNoMakersPressure(t *testing.T) {
	for ratio, want := range map[float64]Kind{1.1: MakersChart, 1.8: Computed, 0.8: Computed} {
		in := rangedRow()
		in.Ratio = ratio
		c := must(t, in)
		pr := c.Provenance["oxygen.regulator_gauge_pa"]
		if c.Tip != "large" || pr.Kind != want {
			t.Errorf("ratio %v, tip %s: %+v", ratio, c.Tip, pr)
		}
		if want == Computed && (len(pr.Others) == 0 || pr.Others[0].Kind != MakersChart || math.Signbit(c.Oxygen.RegulatorGaugePa-pr.Others[0].Value) != (ratio < 1.1)) {
			t.Errorf("ratio %v: %v Pa beside %+v", ratio, c.Oxygen.RegulatorGaugePa, pr.Others)
		}
	}
}

// A row for one kind of torch says nothing of the pressures of the other.
func TestCompute_aRowForAnotherTorchIsCautioned(t *testing.T) {
	for name, c := range map[string]struct {
		row, rig Mixing
		fuelPa   float64
		want     bool
	}{
		"said":                             {Injector, EqualPressure, 30e3, true},
		"same":                             {EqualPressure, EqualPressure, 30e3, false},
		"not said, pressures of the other": {"", Injector, 30e3, true},
		"not said, pressures of its own":   {"", Injector, 0.5 * units.PSI, false},
	} {
		in := rangedRow()
		in.Rig.Torch.Mixing, in.Rig.Tips[2].Chart[0].Mixing, in.Rig.Tips[2].Chart[0].FuelGaugePa = c.rig, c.row, &Range{c.fuelPa, c.fuelPa}
		card := must(t, in)
		if w, ok := warning(card, "row_for_other_torch"); card.Tip != "large" || ok != c.want || ok && w.Level != Caution {
			t.Errorf("%s, tip %s: %+v", name, card.Tip, w)
		}
	}
}

// On a mountain a chart made near sea level is not taken as it stands.
func TestCompute_aChartInThinAirIsSaidToBe(t *testing.T) {
	for pa, want := range map[float64]bool{101325: false, 80000: true} {
		in := rangedRow()
		in.AmbientAbsPa = pa
		if _, ok := warning(must(t, in), "row_in_thin_air"); ok != want {
			t.Errorf("at %v Pa: %v", pa, ok)
		}
	}
}
