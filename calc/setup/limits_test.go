package setup

import (
	"errors"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/units"
)

// limitRow is one row of limits.csv by its id.
func limitRow(t *testing.T, id string) calctest.Row {
	t.Helper()
	rows := calctest.Where(t, calctest.Reference(t, "limits.csv"), "id", id)
	if len(rows) != 1 {
		t.Fatalf("%d rows %s in limits.csv", len(rows), id)
	}
	return rows[0]
}

// The limits in force are the printed ones: 29 CFR 1910.253(a)(2) for acetylene, the Acetylene Safety Regulations 2014 for
// the threshold of Great Britain.
func TestLimits_asPrinted(t *testing.T) {
	calctest.Near(t, maxAcetyleneGaugePa, limitRow(t, "ACE-P1").Number("value_us")*units.PSI, 1e-9, "defined in psi")
	calctest.Near(t, maxAcetyleneAbsPa, limitRow(t, "ACE-P2").Number("value_us")*units.PSI, 1e-9, "defined in psi")
	calctest.Near(t, ukThresholdPa, limitRow(t, "ACE-P3").Number("value_si")*1e5, 1e-9, "defined in bar")
}

// The figures in the standing cautions are those of the rules they cite.
func TestCautions_holdThePrintedFigures(t *testing.T) {
	for _, c := range []struct {
		w                  Warning
		id, column, asText string
	}{
		{cautionFire, "HOT-2", "value_si", "60 minutes"}, {cautionFire, "HOT-3", "value_us", "35 ft"},
		{cautionAir, "VENT-1", "value_si", "284 m³"}, {cautionAir, "VENT-2", "value_us", "16 ft"},
		{cautionAcetylenePressure, "ACE-P1", "value_us", "15 psi"}, {cautionUpright, "ACE-S1", "value_us", "45"},
		{cautionCopper, "ACE-CU3", "value_us", "65 %"},
	} {
		number, _, _ := strings.Cut(c.asText, " ")
		if printed := limitRow(t, c.id).Text(c.column); !strings.Contains(printed, number) {
			t.Errorf("%s is printed as %q, the caution says %q", c.id, printed, c.asText)
		}
		if !strings.Contains(c.w.Text, c.asText) {
			t.Errorf("caution %s lost its %q", c.w.Code, c.asText)
		}
	}
	calctest.Near(t, limitRow(t, "ACE-S2").Number("value_us"), 2*60, 0, "the caution says 2 hours")
}

// TestThickness_is_what_Compute_takes: the limits told before the question are those the answer holds to.
func TestThickness_is_what_Compute_takes(t *testing.T) {
	for _, w := range []Work{Weld, Braze, Heat, Bend, Cut} {
		low, high, why := Thickness(w)
		if !(low < high) || why == "" {
			t.Errorf("%s: %v to %v, %q", w, low, high, why)
		}
		for _, thickness := range []float64{low * 0.99, low, high, high * 1.01} {
			in := eighth()
			in.Work, in.ThicknessM = w, thickness
			_, err := Compute(in)
			var no *Refusal
			refused := errors.As(err, &no) && no.Field == "thickness_m"
			if inside := thickness >= low && thickness <= high; refused == inside {
				t.Errorf("%s of %v m: refused %v, limits %v to %v", w, thickness, refused, low, high)
			}
		}
	}
}

// What was read second-hand only (trust B) says so where it is shown.
func TestWarnings_carryHowFarTheirSourceIsToBeTrusted(t *testing.T) {
	for id, w := range map[string]Warning{"ACE-P1": cautionAcetylenePressure, "ACE-P3": noteUKThreshold, "HOT-2": cautionFire} {
		if weak := strings.Contains(w.Source, "second-hand"); weak != (limitRow(t, id).Text("trust") == "B") {
			t.Errorf("%s: source %q, the row has trust %s", w.Code, w.Source, limitRow(t, id).Text("trust"))
		}
	}
}
