package cut

import (
	"math"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/units"
)

// must computes or ends the test.
func must(t *testing.T, in Input) Result {
	t.Helper()
	r, err := Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Every row of the data handbook is answered as printed.
func TestCompute_printedCuttingData(t *testing.T) {
	orifice := calctest.NewWorst("cutting orifice", 1e-12, "taken from the table")
	speed := calctest.NewWorst("cutting speed", 1e-12, "taken from the table")
	gauge := calctest.NewWorst("cutting-oxygen pressure", 0.016, "printed to 0.1 bar: half a digit of 3.2 bar")
	for _, r := range calctest.Where(t, calctest.Reference(t, "cutting.csv"), "trust", "B") {
		if !r.Has("oxygen_bar_g") {
			continue
		}
		got := must(t, Input{Thickness: units.Length(r.Number("thickness_mm") / 1e3), Length: 1})
		orifice.Add(t, float64(got.Orifice)*1e3, r.Number("cutting_orifice_mm"), r.Text("thickness_mm")+" mm")
		speed.Add(t, got.Speed.Value*60e3, r.Number("speed_low_mm_min"), r.Text("thickness_mm")+" mm")
		gauge.Add(t, float64(got.Gauge)/1e5, r.Number("oxygen_bar_g"), r.Text("thickness_mm")+" mm")
		if got.FromMemory {
			t.Errorf("%s: a printed row counts as from memory", r)
		}
	}
	for _, w := range []*calctest.Worst{orifice, speed, gauge} {
		w.Report(t)
	}
	if orifice.Count() != 4 {
		t.Errorf("%d rows, want 4", orifice.Count())
	}
}

// The old handbook, which the table was not taken from: its speeds are those of a hand.
func TestCompute_olderHandbookSpeedsLieInTheHandBand(t *testing.T) {
	worst := calctest.NewWorst("hand cutting speed, middle of the band", 0.27, "from the middle of the band to its low end is 27 %: 0.825/0.65")
	for _, r := range calctest.Where(t, calctest.Reference(t, "cutting.csv"), "source", "Sheet and Plate Metal Work (old handbook)") {
		got := must(t, Input{Thickness: units.Length(r.Number("thickness_mm") / 1e3), Length: 1})
		want := r.Number("speed_low_mm_min") / 60e3
		if want < got.Hand.Low || want > got.Hand.High {
			t.Errorf("%s: %v outside %+v", r, want, got.Hand)
		}
		worst.Add(t, got.Hand.Value, want, r.Text("thickness_mm")+" mm")
	}
	worst.Report(t)
}

// fact is a number of cutting_facts.csv; only those that were read or worked out are taken, none from memory.
func fact(t *testing.T, quantity string) float64 {
	t.Helper()
	r := calctest.Where(t, calctest.Reference(t, "cutting_facts.csv"), "quantity", quantity)[0]
	if r.Text("trust") == "C" {
		t.Fatalf("%s is from memory", quantity)
	}
	return r.Number("value")
}

func TestCompute_shareOfAcetylene(t *testing.T) {
	worst := calctest.NewWorst("acetylene over all oxygen", 1e-9, "the share is solved for exactly")
	for name, mm := range map[string]float64{"acetylene share of total oxygen volume, thin plate": 6, "acetylene share of total oxygen volume, thick plate": 100} {
		r := must(t, Input{Thickness: units.Length(mm / 1e3), Length: 1})
		worst.Add(t, float64(r.PreheatFuel)/(r.Cutting.Value+float64(r.PreheatOxygen))*100, fact(t, name), name)
	}
	worst.Report(t)
}

// At 98.5 % the speed falls by the printed 15 %, and the cutting oxygen of the same cut rises by 25 %.
func TestCompute_impureOxygen(t *testing.T) {
	full := must(t, Input{Thickness: 0.02, Length: 1, Purity: fact(t, "oxygen purity for normal cutting") / 100})
	less := must(t, Input{Thickness: 0.02, Length: 1, Purity: 0.985})
	calctest.Near(t, 1-less.Speed.Value/full.Speed.Value, fact(t, "speed loss at 98.5 % oxygen")/100, 1e-9, "course notes")
	calctest.Near(t, less.Cutting.Value*less.Time.Value/(full.Cutting.Value*full.Time.Value), 1.25, 0.002, "course notes print about 25 %; argon in the oxygen changes the jet by 0.1 %")
	if r, err := Compute(Input{Thickness: 0.02, Length: 1, Purity: fact(t, "no cut below oxygen purity of")/100 - 1e-6}); err == nil {
		t.Errorf("cut with oxygen below the limit: %+v", r.Purity)
	}
}

func TestHeat_formationAndContent(t *testing.T) {
	formation := calctest.NewWorst("heat of burning iron", 1e-3, "molar mass of iron to five digits, table to four")
	formation.Add(t, heatToFeO/1e3, fact(t, "heat per kg iron burnt to FeO"), "FeO")
	formation.Add(t, heatToFeO*0.055845/-1e3, fact(t, "heat of formation FeO"), "FeO, formation")
	formation.Add(t, heatToFe3O4*3*0.055845/-1e3, fact(t, "heat of formation Fe3O4"), "Fe3O4, formation")
	formation.Report(t)
	content := calctest.NewWorst("heat content of steel", 1e-3, "the table has four digits")
	for _, r := range calctest.Where(t, calctest.Reference(t, "materials.csv"), "material", "steel (carbon)") {
		span, found := strings.CutPrefix(r.Text("property"), "heat to warm from 20 to ")
		if !found {
			continue
		}
		to := map[string]float64{"200 degC": 200, "400 degC": 400, "800 degC": 800}[span]
		content.Add(t, heatContent(20, to)/1e3, r.Number("value"), span)
	}
	content.Report(t)
}

// Abramowitz and Stegun, Handbook of Mathematical Functions, table 9.8 and its series: K0 and K1 at 1 and 2.
func TestBesselK_tables(t *testing.T) {
	worst := calctest.NewWorst("K0 and K1", 1e-9, "ten printed digits")
	for _, c := range []struct{ x, k0, k1 float64 }{{1, 0.4210244382, 0.6019072302}, {2, 0.1138938727, 0.1398658818}} {
		k0, k1 := besselK(c.x)
		worst.Add(t, k0, c.k0, "K0")
		worst.Add(t, k1, c.k1, "K1")
	}
	worst.Report(t)
}

// A fast source needs √(πe/2) times the heat of its kerf: the limit of Rosenthal's equation for a thin plate.
func TestLosses_fastLimit(t *testing.T) {
	calctest.Near(t, losses(60), math.Sqrt(math.Pi*math.E/2), 2e-3, "the limit is reached as 4/Y²")
	last := math.Inf(1)
	for y := 1e-3; y < 60; y *= 1.3 {
		if l := losses(y); l >= last {
			t.Errorf("losses rise to %v at Y = %v", l, y)
		} else {
			last = l
		}
	}
}

// specificHeat of carbon steel in J/(kg K) at °C: EN 1993-1-2 clause 3.4.1.2, to 1200 °C; the end value holds beyond it.
func specificHeat(c float64) float64 {
	switch {
	case c < 600:
		return 425 + c*(0.773+c*(-1.69e-3+c*2.22e-6))
	case c < 735:
		return 666 + 13002/(738-c)
	case c < 900:
		return 545 + 17820/(c-731)
	}
	return 650
}

// conductivity of carbon steel in W/(m K) at °C: EN 1993-1-2 clause 3.4.1.3.
func conductivity(c float64) float64 {
	if c < 800 {
		return 54 - 3.33e-2*c
	}
	return 27.3
}

// The integrals are those of the formulas: a sum of fine steps agrees.
func TestHeatContent_isTheSumOfFineSteps(t *testing.T) {
	const n = 200000
	for _, c := range []struct{ from, to float64 }{{-20, 40}, {20, 590}, {610, 720}, {20, 871}, {20, 1377}, {740, 1538}, {900, 100}} {
		heat, conducted, step := 0.0, 0.0, (c.to-c.from)/n
		for i := range n {
			at := c.from + (float64(i)+0.5)*step
			heat, conducted = heat+specificHeat(at)*step, conducted+conductivity(at)*step
		}
		calctest.Near(t, heatContent(c.from, c.to)/heat, 1, 1e-5, "midpoint sum, error of the steps at the peak")
		calctest.Near(t, conductance(c.from, c.to)/conducted, 1, 1e-5, "midpoint sum, one step may straddle 800 °C")
	}
}
