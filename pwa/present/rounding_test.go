package present

import (
	"testing"

	"torchside/calc/setup"
	"torchside/calc/units"
)

// Rods are sold by fractions of an inch: 1.5 and 3 mm (Carvill, p. 207) are near 1/16 and 1/8 in.
func TestRods_areWrittenAsSold(t *testing.T) {
	r := setup.Range{Low: 0.0015, High: 0.003}
	if got := (&builder{opt: Options{Units: units.US()}}).rods(r); got != "about 1/16 to 1/8 in" {
		t.Errorf("US: %q", got)
	}
	if got := (&builder{opt: Options{Units: units.Metric()}}).rods(r); got != "1.5 to 3 mm" {
		t.Errorf("metric: %q", got)
	}
}

// A power is known to some tens of per cent: three digits are enough, in the unit that is shown.
func TestScale_powerHasThreeDigits(t *testing.T) {
	for _, c := range []struct {
		w    float64
		unit units.Unit
		want string
	}{{3136.1, units.US().Unit(units.QuantityPower), "10700 Btu/h"}, {4119.6, units.Metric().Unit(units.QuantityPower), "4.12 kW"}, {0, units.Metric().Unit(units.QuantityPower), "0 kW"}} {
		if got := (scale{quantity: units.QuantityPower, unit: c.unit}).text(c.w); got != c.want {
			t.Errorf("%v W: %q, want %q", c.w, got, c.want)
		}
	}
}
