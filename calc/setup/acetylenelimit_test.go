package setup

import (
	"testing"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// The two limits of 29 CFR 1910.253(a)(2): at standard air 15 psi gauge is the lower one.
func TestAcetylenePressureWarnings_beginAboveTheLimit(t *testing.T) {
	const air = float64(units.StandardAtmosphere)
	for _, k := range []struct {
		mixture gas.Mixture
		abs     float64
		want    int
	}{
		{gas.Pure(gas.Acetylene), air + 15*units.PSI, 0},
		{gas.Pure(gas.Acetylene), air + 15.01*units.PSI, 1},
		{gas.Pure(gas.Acetylene), 30.1 * units.PSI, 1},
		{gas.Pure(gas.Acetylene), air, 0},
		{gas.Mixture{gas.Acetylene: 0.48, gas.Oxygen: 0.52}, 3e5, 1},
		{gas.Pure(gas.Propane), 1e6, 0},
		{gas.Pure(gas.Oxygen), 1e6, 0},
	} {
		got := AcetylenePressureWarnings(k.mixture, units.AbsolutePressure(k.abs), "inlet_abs_pa")
		if got == nil || len(got) != k.want {
			t.Errorf("%v at %v Pa: %+v", k.mixture, k.abs, got)
		}
		for _, w := range got {
			if w.Level != Caution || w.Source != "29 CFR 1910.253(a)(2)" || w.Concerns != "inlet_abs_pa" {
				t.Errorf("%+v", w)
			}
		}
	}
}
