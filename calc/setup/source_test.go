package setup

import (
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/units"
)

// Every row of 29 CFR 1910.133(a)(5) for gas welding must come out as printed, and the one for brazing on a card.
func TestShadeFor_29CFR1910_133(t *testing.T) {
	for _, row := range calctest.Reference(t, "filter_shades.csv") {
		op := row.Text("operation")
		switch {
		case strings.HasPrefix(op, "gas welding"):
		case op == "torch brazing":
			in := eighth()
			in.Work = Braze
			if got := must(t, in).Shade; float64(got.Minimum) != row.Number("shade_minimum") || float64(got.RecommendedHigh) != row.Number("shade_recommended_high") {
				t.Errorf("%s: %+v", op, got)
			}
			continue
		default:
			continue // cutting, soldering and arc are other cards
		}
		thickness := 0.002
		if row.Has("thickness_lower_in") {
			thickness = row.Number("thickness_lower_in") * 0.0254
		}
		got, _ := shadeFor(Input{Work: Weld, ThicknessM: max(thickness, 0.0005)})
		if strings.HasSuffix(op, "heavy") {
			got, _ = shadeFor(Input{Work: Weld, ThicknessM: thickness * 1.01})
		}
		want := Shade{int(row.Number("shade_minimum")), int(row.Number("shade_recommended_low")), int(row.Number("shade_recommended_high"))}
		if got != want {
			t.Errorf("%s: %+v, printed %+v", op, got, want)
		}
	}
}

// The flow table is the printed one, row by row (ITI welder trade text; its litres are rounded to whole ones).
func TestFuelNeed_handbookRows(t *testing.T) {
	rows := calctest.Reference(t, "welding_tips.csv")
	n := 0
	for _, row := range rows {
		if !strings.HasPrefix(row.Text("source"), "\"Indian ITI") && !strings.HasPrefix(row.Text("source"), "Indian ITI") || strings.HasPrefix(row.Text("metal_thickness_mm"), "over") {
			continue
		}
		n++
		got := interpolate(handbookFlow, row.Number("metal_thickness_mm")/1000)
		calctest.Near(t, got, row.Number("acetylene_l_h"), 1e-9, "a table read at its own rows gives them exactly: "+row.String())
	}
	if n < 10 {
		t.Fatalf("only %d rows of the handbook found", n)
	}
}

// Rods and speeds are the printed ones (Carvill, p. 207).
func TestRodRow_carvill(t *testing.T) {
	n := 0
	for _, row := range calctest.Reference(t, "welding_tips.csv") {
		if !strings.Contains(row.Text("source"), "Carvill") {
			continue
		}
		n++
		if marked := strings.Contains(sourceCarvill, "second-hand"); marked != (row.Text("trust") == "B") {
			t.Errorf("the card names %q, the row has trust %s", sourceCarvill, row.Text("trust"))
		}
		_, speed := rodRow(row.Number("metal_thickness_mm") / 1000)
		calctest.Near(t, speed.Low*60e3, row.Number("speed_low_mm_min"), 1e-9, "printed row")
		calctest.Near(t, speed.High*60e3, row.Number("speed_high_mm_min"), 1e-9, "printed row")
	}
	if n != len(rodAndSpeed) {
		t.Errorf("%d printed rows, %d in the table", n, len(rodAndSpeed))
	}
}

// 1 ft³/h of acetylene is 431.7 W gross at 60 °F (worked example WE-23); the card counts lower heat, less by the water's heat.
func TestCompute_powerAgainstWorkedExample(t *testing.T) {
	example := calctest.Where(t, calctest.Reference(t, "worked_examples.csv"), "id", "WE-23")[0].Number("answer")
	heats := calctest.Where(t, calctest.Reference(t, "flame_heats_of_combustion.csv"), "fuel", "C2H2")[0]
	lower := example * heats.Number("lhv_25C_kJ_per_mol") / heats.Number("hhv_25C_kJ_per_mol")
	c := must(t, eighth())
	perFoot := c.PowerW / (c.Fuel.FlowStdM3S * 3600 / units.CubicFoot)
	// 60 °F against 15 °C and the real against the ideal gas together shift the volume by up to 1.2 %.
	calctest.Near(t, perFoot, lower, 0.015, "WE-23 at lower heat; ideal against real volume")
}
