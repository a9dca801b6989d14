package flame

import (
	"testing"

	"torchside/calc/gas"
)

func TestAtomsOf(t *testing.T) {
	cases := map[string]struct {
		want atoms
		ok   bool
	}{
		"C2H2": {atoms{2, 2, 0}, true}, "CH4": {atoms{1, 4, 0}, true}, "CO": {atoms{1, 0, 1}, true},
		"H2O": {atoms{0, 2, 1}, true}, "O2": {atoms{0, 0, 2}, true}, "C12H26": {atoms{12, 26, 0}, true},
		"": {ok: false}, "2H": {ok: false}, "Ar": {ok: false}, "N2": {ok: false}, "C2-": {ok: false},
	}
	for formula, c := range cases {
		got, ok := atomsOf(formula)
		if ok != c.ok || ok && got != c.want {
			t.Errorf("%q: got %v, %v, want %v, %v", formula, got, ok, c.want, c.ok)
		}
	}
}

// Every formula that equations are made of can be counted: gas could gain a fuel with another element.
func TestAtomsOf_reads_every_fuel_and_its_tables_are_complete(t *testing.T) {
	for _, fuel := range gas.Fuels() {
		if _, ok := atomsOf(fuel.Formula()); !ok {
			t.Errorf("%s has formula %q", fuel, fuel.Formula())
		}
		if _, ok := fuelFormation[fuel]; !ok {
			t.Errorf("%s has no heat of formation", fuel)
		}
		if _, ok := neutrals[fuel]; !ok {
			t.Errorf("%s has no neutral range", fuel)
		}
	}
	for species := range formation {
		if _, ok := atomsOf(species); !ok {
			t.Errorf("%q is not read", species)
		}
	}
}

// The heats of formation here are those of the NASA-9 table, to its last digit.
func TestFormation_is_that_of_the_table(t *testing.T) {
	names := map[gas.Gas]string{gas.Acetylene: "C2H2", gas.Propane: "C3H8", gas.Propylene: "C3H6", gas.Methylacetylene: "C3H4_propyne",
		gas.Propadiene: "C3H4_allene", gas.Methane: "CH4", gas.Hydrogen: "H2"}
	want := tableFormation(t)
	for fuel, name := range names {
		if got := fuelFormation[fuel]; got != want[name] {
			t.Errorf("%s: %v, the table has %v", fuel, got, want[name])
		}
	}
	for species, got := range formation {
		if got != want[species] {
			t.Errorf("%s: %v, the table has %v", species, got, want[species])
		}
	}
	if liquidWaterFormation != want["H2O(L)"] {
		t.Errorf("liquid water: %v, the table has %v", liquidWaterFormation, want["H2O(L)"])
	}
}
