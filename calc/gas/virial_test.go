package gas

import (
	"testing"

	"torchside/calc/calctest"
)

// Guards the digits of the correlation: an independent evaluation for acetylene is in the reference table. Critical constants of
// acetylene: 308.3 K and 6.138 MPa (IUPAC critical data, testdata/reference/acetylene.csv), acentric factor 0.19.
func TestTsonopoulosMatchesAnIndependentEvaluation(t *testing.T) {
	acetylene := virial(critical{308.3, 6.138e6, 0.19}.secondVirial)
	worst := calctest.NewWorst("Tsonopoulos density of acetylene", 0.0005, "printed to eight digits; the acentric factor used there may differ in the third, worth 0.02 % at 4 bar")
	for _, r := range calctest.Where(t, calctest.Reference(t, "gas_properties.csv"), "gas", "acetylene") {
		got := acetylene.molarDensity(r.Number("pressure_abs_bar")*1e5, r.Number("temperature_C")+273.15) * Acetylene.MolarMass()
		worst.Add(t, got, r.Number("alt_density_kg_m3"), r.ID())
	}
	worst.Report(t)
}
