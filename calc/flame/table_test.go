package flame

import (
	"testing"

	"torchside/calc/calctest"
)

// tableFormation reads the heats of formation of nasa9.csv in J/mol.
func tableFormation(t *testing.T) map[string]float64 {
	t.Helper()
	heats := map[string]float64{}
	for _, r := range calctest.Reference(t, "nasa9.csv") {
		heats[r.Text("species")] = r.Number("hf298_J_per_mol")
	}
	return heats
}
