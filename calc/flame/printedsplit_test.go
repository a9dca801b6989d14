package flame_test

import (
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
)

// printedNames are the fuels as fuel_gases.csv names them.
var printedNames = map[gas.Gas]string{gas.Acetylene: "acetylene", gas.Propane: "propane", gas.Propylene: "propylene",
	gas.Methylacetylene: "MPS (methylacetylene-propadiene)", gas.Propadiene: "MPS (methylacetylene-propadiene)", gas.Methane: "natural gas"}

// The splits kept are those of the table of handbooks in fuel_gases.csv, and are marked as from memory, as the rows are.
func TestPrintedHeatSplit_is_the_table_of_handbooks(t *testing.T) {
	rows := calctest.Reference(t, "fuel_gases.csv")
	for _, fuel := range gas.Fuels() {
		s, ok := flame.PrintedHeatSplit(fuel)
		if !ok {
			if _, named := printedNames[fuel]; named {
				t.Errorf("%s has no split", fuel)
			}
			continue
		}
		if !s.FromMemory || !strings.Contains(s.Source, "from memory") {
			t.Errorf("%s: not marked: %+v", fuel, s)
		}
		found := 0
		for _, r := range calctest.Where(t, rows, "gas", printedNames[fuel]) {
			switch r.Text("property") {
			case "primary heat":
				calctest.Near(t, s.Primary, r.Number("value"), 0, "as listed")
				found++
			case "secondary heat":
				calctest.Near(t, s.Secondary, r.Number("value"), 0, "as listed")
				found++
			}
		}
		if found != 2 {
			t.Errorf("%s: %d rows", fuel, found)
		}
	}
}

// The handbooks split propane's heat 10 to 90. With the oxygen a torch gives it, 4.3 to 1, that oxygen can release 82 %: the
// first stage takes 1.5 to 1, as the balanced equation C3H8 + 1.5 O2 → 3 CO + 4 H2 says, and at 1.5 the computed share is 10 %
// too (fuel_gases.csv computes 258 of 2515 Btu/ft³ gross).
func TestHeatsAt_torchOxygenIsNotTheInnerConeOfHandbooks(t *testing.T) {
	s, _ := flame.PrintedHeatSplit(gas.Propane)
	calctest.Near(t, s.Share(), 0.10, 0.05, "rounded to whole percent, of 10")
	share := func(ratio float64) float64 {
		h, err := flame.HeatsAt(gas.Pure(gas.Propane), ratio)
		if err != nil {
			t.Fatal(err)
		}
		return h.Primary / h.Total
	}
	calctest.Near(t, share(1.5), 258.0/2515, 0.09, "lower heat leaves out that of the water, 8 % of propane's")
	calctest.Near(t, share(4.3), 0.82, 0.01, "rounded to whole percent")
	for _, words := range []string{"10 %", "1.5 of oxygen", "gets 4.3", "from memory"} {
		if text := s.Against(gas.Propane, 4.3); !strings.Contains(text, words) {
			t.Errorf("%q lacks %q", text, words)
		}
	}
	if text := s.Against(gas.Propane, 1.2); strings.Contains(text, "goes on") {
		t.Errorf("below the first stage: %q", text)
	}
}
