package flame_test

import (
	"errors"
	"fmt"
	"testing"

	"torchside/calc/flame"
	"torchside/calc/gas"
)

// Law: every equation of every fuel balances, in positive whole numbers without a common divisor.
func TestBalance_balances_every_fuel(t *testing.T) {
	for _, fuel := range gas.Fuels() {
		equations, err := flame.Balance(fuel)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range []flame.Equation{equations.Complete, equations.TorchNeutral} {
			counts := e.Elements()
			if len(counts) < 2 {
				t.Errorf("%s: %s counts %v", fuel, e, counts)
			}
			for _, c := range counts {
				if c.Left != c.Right || c.Left == 0 {
					t.Errorf("%s: %s has %d %s left and %d right", fuel, e, c.Left, c.Element, c.Right)
				}
			}
			wantLowestTerms(t, e)
		}
	}
}

func wantLowestTerms(t *testing.T, e flame.Equation) {
	t.Helper()
	terms := append(append([]flame.Term{}, e.Left...), e.Right...)
	for _, term := range terms {
		if term.Coefficient < 1 {
			t.Errorf("%s has coefficient %d", e, term.Coefficient)
		}
	}
	for divisor := 2; divisor <= terms[0].Coefficient; divisor++ {
		all := true
		for _, term := range terms {
			all = all && term.Coefficient%divisor == 0
		}
		if all {
			t.Errorf("%s can be divided by %d", e, divisor)
		}
	}
}

// Complete burning takes five parts of oxygen to two of acetylene and gives four CO2 and two H2O: common practice, no source.
func ExampleBalance() {
	acetylene, _ := flame.Balance(gas.Acetylene)
	fmt.Println(acetylene.Complete)
	fmt.Println(acetylene.TorchNeutral)
	for _, c := range acetylene.Complete.Elements() {
		fmt.Println(c.Element, c.Left, c.Right)
	}
	// Output:
	// 2 C2H2 + 5 O2 → 4 CO2 + 2 H2O
	// C2H2 + O2 → 2 CO + H2
	// C 4 4
	// H 4 4
	// O 10 10
}

// All seven fuels, as they are shown.
func ExampleEquation() {
	for _, fuel := range gas.Fuels() {
		e, _ := flame.Balance(fuel)
		fmt.Printf("%s: %s; %s\n", fuel, e.Complete, e.TorchNeutral)
	}
	// Output:
	// acetylene: 2 C2H2 + 5 O2 → 4 CO2 + 2 H2O; C2H2 + O2 → 2 CO + H2
	// propane: C3H8 + 5 O2 → 3 CO2 + 4 H2O; 2 C3H8 + 3 O2 → 6 CO + 8 H2
	// propylene: 2 C3H6 + 9 O2 → 6 CO2 + 6 H2O; 2 C3H6 + 3 O2 → 6 CO + 6 H2
	// methylacetylene: C3H4 + 4 O2 → 3 CO2 + 2 H2O; 2 C3H4 + 3 O2 → 6 CO + 4 H2
	// propadiene: C3H4 + 4 O2 → 3 CO2 + 2 H2O; 2 C3H4 + 3 O2 → 6 CO + 4 H2
	// methane: CH4 + 2 O2 → CO2 + 2 H2O; 2 CH4 + O2 → 2 CO + 4 H2
	// hydrogen: 2 H2 + O2 → 2 H2O; 2 H2 + O2 → 2 H2O
}

func TestBalance_refuses_what_is_no_fuel(t *testing.T) {
	for _, g := range []gas.Gas{gas.Oxygen, gas.Argon, gas.Air, "butane", ""} {
		if _, err := flame.Balance(g); !errors.Is(err, gas.ErrUnknown) {
			t.Errorf("%q: got %v, want an error wrapping gas.ErrUnknown", g, err)
		}
	}
}
