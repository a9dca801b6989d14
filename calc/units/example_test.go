package units_test

import (
	"fmt"

	"torchside/calc/units"
)

// A thickness field of a shop that thinks in millimetres; the sheet is steel.
func ExampleField_Parse() {
	mm, _ := units.UnitBySymbol(units.QuantityThickness, "mm")
	thickness := units.Field{
		Name: "Thickness", Quantity: units.QuantityThickness, Unit: mm,
		Min: 0.0005, Max: 0.006, Why: "one pass of a small torch welds no more",
		Sheet: units.SteelSheet,
	}
	for _, typed := range []string{`1/8 in`, "3,2", "16 ga", `3/16"`} {
		p, err := thickness.Parse(typed)
		fmt.Println(p.Read, err)
	}
	// Output:
	// 1/8 in = 3.175 mm <nil>
	// 3.2 mm <nil>
	// 16 ga (Manufacturers' Standard, steel) = 1.519 mm <nil>
	// 3/16 in = 4.763 mm <nil>
}

// What is refused says what was read, what is allowed and why.
func ExampleField_Parse_refused() {
	in, _ := units.UnitBySymbol(units.QuantityThickness, "in")
	thickness := units.Field{
		Name: "Thickness", Quantity: units.QuantityThickness, Unit: in,
		Min: 0.0005, Max: 0.006, Why: "one pass of a small torch welds no more",
	}
	for _, typed := range []string{"abc", "4 km", "5 psi", "16 ga"} {
		_, err := thickness.Parse(typed)
		fmt.Println(err)
	}
	// Output:
	// Thickness: “abc” was not understood; allowed is 0.02 to 0.236 in; there is no number where one is needed
	// Thickness: read 4 km = 157480 in; allowed is 0.02 to 0.236 in; one pass of a small torch welds no more
	// Thickness: “5 psi” was not understood; allowed is 0.02 to 0.236 in; “psi” measures a pressure; a thickness is needed, in mm, cm, m, in or ft
	// Thickness: “16 ga” was not understood; allowed is 0.02 to 0.236 in; a gauge number is another thickness for each metal: choose the metal first, or give mm or in
}

// A comma before three digits is not guessed at.
func ExampleParseError() {
	psi, _ := units.UnitBySymbol(units.QuantityPressure, "psi")
	pressure := units.Field{Name: "Oxygen cylinder", Quantity: units.QuantityPressure, Unit: psi, Max: 20684272}
	_, err := pressure.Parse("2,200")
	fmt.Println(err.(*units.ParseError).Choices)
	// Output:
	// [2200 psi 2.2 psi]
}

// The same number for two owners.
func ExampleFormat() {
	for _, s := range []units.System{units.US(), units.Metric()} {
		fmt.Println(
			units.Format(units.QuantityThickness, 0.003175, s.Unit(units.QuantityThickness), 0), "·",
			units.Format(units.QuantityPressure, 34474, s.Unit(units.QuantityPressure), 0), "·",
			units.Format(units.QuantityStandardFlow, 200e-3/3600, s.Unit(units.QuantityStandardFlow), 0.979), "·",
			units.Format(units.QuantityDuration, 5100, s.Unit(units.QuantityDuration), 0))
	}
	// Output:
	// 1/8 in · 5 psi · 7.2 ft³/h · 1 h 25 min
	// 3.18 mm · 0.34 bar · 200 L/h · 1 h 25 min
}

// A choice of units as it is stored.
func ExampleSystem_MarshalText() {
	bar, _ := units.UnitBySymbol(units.QuantityPressure, "bar")
	text, _ := units.US().With(bar).MarshalText()
	fmt.Println(string(text))
	// Output:
	// us;pressure=bar
}
