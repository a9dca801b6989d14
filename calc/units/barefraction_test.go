package units

import (
	"errors"
	"slices"
	"testing"
)

// A fraction without a unit is never taken for millimetres, nor for inches: every reading within the limits is offered.
func TestField_Parse_asks_for_the_unit_of_a_bare_fraction(t *testing.T) {
	sheet := Field{Name: "Thickness", Quantity: QuantityThickness, Unit: mustUnit(t, QuantityThickness, "mm"), Min: 0.0005, Max: 0.018, Why: "reason"}
	hose := Field{Name: "Hose", Quantity: QuantityLength, Unit: mustUnit(t, QuantityLength, "m"), Min: 0.1, Max: 100}
	for _, tt := range []struct {
		f       Field
		text    string
		choices []string
		message string
	}{
		{sheet, "5/8", []string{"5/8 in", "0.625 mm"}, "Thickness: read 5/8 in = 15.88 mm or 0.625 mm; allowed is 0.5 to 18 mm; a fraction needs its unit here; write 5/8 in or 0.625 mm"},
		{sheet, "1/8", []string{"1/8 in"}, "Thickness: read 1/8 in = 3.175 mm or 0.125 mm; allowed is 0.5 to 18 mm; a fraction needs its unit here; write 1/8 in"},
		{sheet, "½", []string{"1/2 in", "0.5 mm"}, ""},
		{sheet, "3 1/2", []string{"3.5 mm"}, ""},
		{sheet, "-1/8", nil, "Thickness: read -1/8 in = -3.175 mm or -0.125 mm; allowed is 0.5 to 18 mm; reason"},
		{hose, "12 1/2", []string{"12 1/2 ft", "12.5 m"}, ""},
	} {
		p, err := tt.f.Parse(tt.text)
		var e *ParseError
		if !errors.As(err, &e) || !slices.Equal(e.Choices, tt.choices) || tt.message != "" && e.Error() != tt.message {
			t.Errorf("%q: %+v, %v, want choices %q", tt.text, p, err, tt.choices)
			continue
		}
		checkChoices(t, tt.f, e)
	}
	for text, want := range map[string]float64{"5/8 mm": 0.625e-3, "5/8 in": 0.625 * Inch, "1.5": 0.0015, `1/8"`: 0.125 * Inch} {
		if p, err := sheet.Parse(text); err != nil || !near(p.SI, want) {
			t.Errorf("%q is read as %v (%v), want %v", text, p.SI, err, want)
		}
	}
	inches := sheet
	inches.Unit = mustUnit(t, QuantityThickness, "in")
	if p, err := inches.Parse("1/8"); err != nil || !near(p.SI, 0.125*Inch) {
		t.Errorf("1/8 in a field of inches: %v (%v)", p.SI, err)
	}
}
