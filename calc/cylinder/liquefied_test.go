package cylinder_test

import (
	"errors"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/cylinder"
	"torchside/calc/gas"
)

func TestLiquefiedFuelsByWeight(t *testing.T) {
	for _, g := range []gas.Gas{gas.Propane, gas.Propylene, gas.Methylacetylene, gas.Propadiene} {
		mass, volume, err := cylinder.Liquefied{Gas: g, Gross: 20, Tare: 9}.Contents()
		if err != nil {
			t.Fatal(err)
		}
		calctest.Near(t, float64(mass), 11, 1e-12, "gross less tare")
		calctest.Near(t, float64(volume)*float64(g.StandardDensity()), 11, 1e-12, "mass over standard density")
	}
}

func TestLiquefiedRefusesWhatItCannotWeigh(t *testing.T) {
	for g, words := range map[gas.Gas]string{gas.Oxygen: "cylinder gauge", gas.Hydrogen: "cylinder gauge", gas.Acetylene: "solvent"} {
		_, _, err := cylinder.Liquefied{Gas: g, Gross: 20, Tare: 9}.Contents()
		var e *cylinder.WrongStorageError
		if !errors.As(err, &e) || !strings.Contains(err.Error(), words) || !strings.Contains(err.Error(), "propane") {
			t.Errorf("%s: %v", g, err)
		}
	}
	if _, _, err := (cylinder.Liquefied{Gas: "butter", Gross: 20, Tare: 9}).Contents(); !errors.Is(err, gas.ErrUnknown) {
		t.Errorf("butter: %v", err)
	}
	_, _, err := cylinder.Liquefied{Gas: gas.Propane, Gross: 8, Tare: 9}.Contents()
	wantRange(t, err, "gross_mass_kg", "8 kg", "9 kg", "tare")
	_, _, err = cylinder.Liquefied{Gas: gas.Propane, Gross: 8}.Contents()
	wantRange(t, err, "tare_mass_kg", "stamped")
	_, _, err = cylinder.Liquefied{Gas: gas.Propane, Gross: 4000, Tare: 9}.Contents()
	wantRange(t, err, "gross_mass_kg", "4000 kg")
}
