package units

import (
	"errors"
	"math"
	"testing"
	"unicode/utf8"
)

// Whatever is typed: no panic; no error means a finite number within the limits, shown; an error is a readable ParseError.
func FuzzField_Parse(f *testing.F) {
	for _, s := range []string{"", "1/8", `3/16"`, "1 1/2 in", `1-1/2"`, "3,2 mm", "16 ga", "#60", "½", "1⅛″", "2,200 psi", "1.234,5", "12 345",
		"6 ft 3 in", "1 h 25 min", "-300 °C", "1e999", "1e-400", "1/0", "--3", "5 psi bar", "$35/100 ft³", "F", "no 60", "10 cfh", "99,5 %",
		"\u00a0", "\xff", "1/", "/1", "1 /", "e5", "1e", "1e+", "5.", ".5", ".", ",", "1,,2", "#", "ga", "- 3", "1-", "'"} {
		f.Add(s, uint8(QuantityThickness), uint8(0), -1.0, 1e6, uint8(SteelSheet))
	}
	f.Add("2,200", uint8(QuantityPressure), uint8(4), 0.0, 2e7, uint8(0))
	f.Add("1/3", uint8(QuantityThickness), uint8(1), 0.003333, 0.003334, uint8(SteelSheet))
	f.Add("20", uint8(QuantityTemperature), uint8(1), 250.0, 330.0, uint8(0))
	f.Add("35/100 ft³", uint8(QuantityMoneyPerVolume), uint8(3), 0.0, math.Inf(1), uint8(0))
	f.Fuzz(func(t *testing.T, text string, q, unit uint8, low, high float64, sheet uint8) {
		field := Field{Name: "Answer", Quantity: Quantity(q), Unit: Unit{Quantity(q), unit}, Min: low, Max: high, Why: "reason",
			Sheet: SheetTable(sheet), Standard: StandardRatio(0.979 * float64(sheet%2)), Optional: sheet%3 == 0}
		p, err := field.Parse(text)
		if err != nil {
			var e *ParseError
			if !errors.As(err, &e) || e.Field != "Answer" || e.Allowed == "" || !utf8.ValidString(err.Error()) {
				t.Errorf("%q: error %v", text, err)
			}
			if p != (Parsed{}) {
				t.Errorf("%q: refused and yet %+v", text, p)
			}
			checkChoices(t, field, e)
			return
		}
		if p.Empty {
			if !field.Optional || p.SI != 0 {
				t.Errorf("%q: taken for nothing", text)
			}
			return
		}
		if math.IsNaN(p.SI) || math.IsInf(p.SI, 0) || p.Read == "" {
			t.Errorf("%q: %+v", text, p)
		}
		if !field.unlimited() && !(p.SI >= low && p.SI <= high) {
			t.Errorf("%q: %v is outside %v to %v", text, p.SI, low, high)
		}
	})
}

// checkChoices reads every choice offered: none may be ambiguous again.
func checkChoices(t *testing.T, f Field, e *ParseError) {
	t.Helper()
	for _, c := range e.Choices {
		if _, err := f.Parse(c); err != nil {
			t.Errorf("the choice %q is refused: %v", c, err)
		}
	}
}

// Any text as a stored choice of units: no panic, and what is accepted is written in a form that gives it again.
func FuzzSystem_UnmarshalText(f *testing.F) {
	for _, s := range []string{"us", "metric", "us;pressure=bar", "metric;gas_price=/100 ft³;bore=in", "us;;", "us;=", ";", "us;pressure=bar;pressure=psi"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var s, back System
		if s.UnmarshalText([]byte(text)) != nil {
			return
		}
		stored, err := s.MarshalText()
		if err != nil || back.UnmarshalText(stored) != nil || back != s {
			t.Errorf("%q is stored as %q", text, stored)
		}
	})
}

// Any number in any unit: no panic, and text that is not empty.
func FuzzFormat(f *testing.F) {
	f.Add(uint8(QuantityBore), uint8(3), 0.001016, 0.979)
	f.Add(uint8(QuantityDuration), uint8(0), 1e300, 0.0)
	f.Add(uint8(0), uint8(200), math.NaN(), math.Inf(1))
	f.Fuzz(func(t *testing.T, q, unit uint8, si, r float64) {
		u := Unit{Quantity(q), unit}
		if s := Format(Quantity(q), si, u, StandardRatio(r)); s == "" || s == "-0" {
			t.Errorf("%v in unit %d of quantity %d is shown as %q", si, unit, q, s)
		}
	})
}
