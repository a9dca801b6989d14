package units

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// near allows for the rounding of one or two float64 operations; the expected values are exact.
func near(got, want float64) bool {
	return math.Abs(got-want) <= 1e-12*math.Abs(want)+1e-18
}

// Every form the trade types is read, and what was understood is shown.
func TestField_Parse_reads_lengths_as_typed(t *testing.T) {
	mm := Field{Name: "Thickness", Quantity: QuantityThickness, Unit: mustUnit(t, QuantityThickness, "mm"), Sheet: SteelSheet}
	in := Field{Name: "Thickness", Quantity: QuantityThickness, Unit: mustUnit(t, QuantityThickness, "in"), Sheet: SteelSheet}
	tests := []struct {
		f    Field
		text string
		si   float64
		read string
	}{
		{in, "1/8", 0.003175, "1/8 in = 3.175 mm"},
		{mm, "1/8 in", 0.003175, "1/8 in = 3.175 mm"},
		{in, `3/16"`, 0.0047625, "3/16 in = 4.763 mm"},
		{in, "1 1/2 in", 0.0381, "1 1/2 in = 38.1 mm"},
		{in, `1-1/2"`, 0.0381, "1 1/2 in = 38.1 mm"},
		{in, "1 1/2", 0.0381, "1 1/2 in = 38.1 mm"},
		{in, "½", 0.0127, "1/2 in = 12.7 mm"},
		{in, "1¼", 0.03175, "1 1/4 in = 31.75 mm"},
		{in, "1 ⅛", 0.028575, "1 1/8 in = 28.58 mm"},
		{in, "1-⅜", 0.034925, "1 3/8 in = 34.93 mm"},
		{in, "⅝″", 0.015875, "5/8 in = 15.88 mm"},
		{in, "⅞ in.", 0.022225, "7/8 in = 22.23 mm"},
		{in, "1⁄8”", 0.003175, "1/8 in = 3.175 mm"},
		{in, "1 / 8", 0.003175, "1/8 in = 3.175 mm"},
		{in, "2/2", 0.0254, "2/2 in = 25.4 mm"},
		{in, "3''", 0.0762, "3 in = 76.2 mm"},
		{in, ".125", 0.003175, "0.125 in = 3.175 mm"},
		{in, "5.", 0.127, "5 in = 127 mm"},
		{in, "+5", 0.127, "5 in = 127 mm"},
		{in, "-3", -0.0762, "-3 in = -76.2 mm"},
		{in, "−3", -0.0762, "-3 in = -76.2 mm"},
		{mm, "3,2 mm", 0.0032, "3.2 mm"},
		{in, "3,2 mm", 0.0032, "3.2 mm = 0.126 in"},
		{mm, "3.2mm", 0.0032, "3.2 mm"},
		{mm, "  3.2\u00a0mm ", 0.0032, "3.2 mm"},
		{mm, "3.2\u202fMM", 0.0032, "3.2 mm"},
		{mm, "0,125", 0.000125, "0.125 mm"},
		{mm, "2.200", 0.0022, "2.200 mm"},
		{mm, "1e-3 m", 0.001, "1e-3 m = 1 mm"},
		{mm, "1E3", 1, "1e3 mm"},
		{mm, "1,234.5", 1.2345, "1234.5 mm"},
		{mm, "1.234,5", 1.2345, "1234.5 mm"},
		{mm, "1,234,567", 1234.567, "1234567 mm"},
		{mm, "1.234.567,5", 1234.5675, "1234567.5 mm"},
		{mm, "12 345", 12.345, "12345 mm"},
		{mm, "12\u00a0345,6", 12.3456, "12345.6 mm"},
		{mm, "12 345,678", 12.345678, "12345.678 mm"},
		{mm, "1234,567", 1.234567, "1234.567 mm"},
		{mm, "6'", 1.8288, "6 ft = 1829 mm"},
		{mm, "6 ft 3 in", 1.905, "6 ft 3 in = 1905 mm"},
		{mm, `6'3"`, 1.905, "6 ft 3 in = 1905 mm"},
		{mm, `6′ 3½″`, 1.9177, "6 ft 3 1/2 in = 1918 mm"},
		{mm, `6'-3 1/2"`, 1.9177, "6 ft 3 1/2 in = 1918 mm"},
		{mm, "-1 ft 6 in", -0.4572, "-1 ft 6 in = -457.2 mm"},
		{mm, "1 m 20 cm", 1.2, "1 m 20 cm = 1200 mm"},
		{mm, "2 inches", 0.0508, "2 in = 50.8 mm"},
		{mm, "60 thou", 0.001524, "60 mil = 1.524 mm"},
		{mm, "16 ga", 0.00151892, "16 ga (Manufacturers' Standard, steel) = 1.519 mm"},
		{in, "11ga", 0.00303784, "11 ga (Manufacturers' Standard, steel) = 3.038 mm"},
		{in, "16 Gauge", 0.00151892, "16 ga (Manufacturers' Standard, steel) = 1.519 mm"},
		{in, "16 gage.", 0.00151892, "16 ga (Manufacturers' Standard, steel) = 1.519 mm"},
		{in, "ga 16", 0.00151892, "16 ga (Manufacturers' Standard, steel) = 1.519 mm"},
		{in, "#16", 0.00151892, "16 ga (Manufacturers' Standard, steel) = 1.519 mm"},
	}
	for _, tt := range tests {
		p, err := tt.f.Parse(tt.text)
		if err != nil || !near(p.SI, tt.si) || p.Read != tt.read {
			t.Errorf("%q: got %v m, %q (%v); want %v m, %q", tt.text, p.SI, p.Read, err, tt.si, tt.read)
		}
	}
}

// The other quantities: every unit spelling a person is likely to use.
func TestField_Parse_reads_units_as_typed(t *testing.T) {
	const std = StandardRatio(0.98)
	tests := []struct {
		q    Quantity
		text string
		si   float64
		unit string
	}{
		{QuantityPressure, "5 psi", 5 * PSI, "psi"},
		{QuantityPressure, "5psig", 5 * PSI, "psi"},
		{QuantityPressure, "5 PSI", 5 * PSI, "psi"},
		{QuantityPressure, "5 lb/in²", 5 * PSI, "psi"},
		{QuantityPressure, "0.35 bar", 35000, "bar"},
		{QuantityPressure, "0,35 barg", 35000, "bar"},
		{QuantityPressure, "0.35", 35000, "bar"},
		{QuantityPressure, "100 kPa", 1e5, "kPa"},
		{QuantityPressure, "15 MPa", 15e6, "MPa"},
		{QuantityPressure, "37 mbar", 3700, "mbar"},
		{QuantityTemperature, "20", 293.15, "°C"},
		{QuantityTemperature, "20 °C", 293.15, "°C"},
		{QuantityTemperature, "20C", 293.15, "°C"},
		{QuantityTemperature, "-40 degF", 233.15, "°F"},
		{QuantityTemperature, "-40 deg. C", 233.15, "°C"},
		{QuantityTemperature, "212F", 373.15, "°F"},
		{QuantityTemperature, "300 K", 300, "K"},
		{QuantityTemperature, "0 K", 0, "K"},
		{QuantityVolume, "47 L", 0.047, "L"},
		{QuantityVolume, "47 liters", 0.047, "L"},
		{QuantityVolume, "0.047 m3", 0.047, "m³"},
		{QuantityVolume, "100 cu in", 100 * CubicInch, "in³"},
		{QuantityVolume, "100 in^3", 100 * CubicInch, "in³"},
		{QuantityVolume, "2 cubic feet", 2 * CubicFoot, "ft³"},
		{QuantityVolume, "5 gal", 5 * USGallon, "US gal"},
		{QuantityStandardVolume, "5,5 m³", 5.5, "m³"},
		{QuantityStandardVolume, "125 cu. ft.", 125 * CubicFoot * 0.98, "ft³"},
		{QuantityStandardVolume, "125 scf", 125 * CubicFoot * 0.98, "ft³"},
		{QuantityStandardFlow, "300 L/h", 300e-3 / 3600, "L/h"},
		{QuantityStandardFlow, "300 l / hr", 300e-3 / 3600, "L/h"},
		{QuantityStandardFlow, "5 L/min", 5e-3 / 60, "L/min"},
		{QuantityStandardFlow, "5 lpm", 5e-3 / 60, "L/min"},
		{QuantityStandardFlow, "1 m3/h", 1.0 / 3600, "m³/h"},
		{QuantityStandardFlow, "10 cfh", 10 * CubicFoot / 3600 * 0.98, "ft³/h"},
		{QuantityStandardFlow, "10 SCFH", 10 * CubicFoot / 3600 * 0.98, "ft³/h"},
		{QuantityStandardFlow, "10 std ft3/h", 10 * CubicFoot / 3600 * 0.98, "ft³/h"},
		{QuantityStandardFlow, "10 cubic feet per hour", 10 * CubicFoot / 3600 * 0.98, "ft³/h"},
		{QuantityMass, "12 lb 8 oz", 12.5 * Pound, "lb"},
		{QuantityMass, "12 lbs", 12 * Pound, "lb"},
		{QuantityMass, "500 g", 0.5, "g"},
		{QuantityMass, "1.5", 1.5, "kg"},
		{QuantityDuration, "1 h 25 min", 5100, "h"},
		{QuantityDuration, "1h25m", 5100, "h"},
		{QuantityDuration, "90", 5400, "min"},
		{QuantityDuration, "45 sec", 45, "s"},
		{QuantityDuration, "1½ hours", 5400, "h"},
		{QuantitySpeed, "300 mm/min", 0.005, "mm/min"},
		{QuantitySpeed, "12 in/min", 12 * 0.0254 / 60, "in/min"},
		{QuantitySpeed, "12 ipm", 12 * 0.0254 / 60, "in/min"},
		{QuantitySpeed, "100 m/s", 100, "m/s"},
		{QuantitySpeed, "100 ft/sec", 30.48, "ft/s"},
		{QuantityPower, "5 kW", 5000, "kW"},
		{QuantityPower, "1000 btu/hr", 1000 * Btu / 3600, "Btu/h"},
		{QuantityNumber, "1.1", 1.1, ""},
		{QuantityNumber, "99,5 %", 0.995, "%"},
		{QuantityNumber, "50 percent", 0.5, "%"},
		{QuantityMoneyPerVolume, "12.50/m³", 12.5, "/m³"},
		{QuantityMoneyPerVolume, "€12,50 per m3", 12.5, "/m³"},
		{QuantityMoneyPerVolume, "$35/100 ft³", 0.35 / CubicFoot / 0.98, "/100 ft³"},
		{QuantityMoneyPerVolume, "35 per 100 cubic feet", 0.35 / CubicFoot / 0.98, "/100 ft³"},
		{QuantityMoneyPerVolume, "0.35 $/ft3", 0.35 / CubicFoot / 0.98, "/ft³"},
		{QuantityMoneyPerVolume, "0.01/L", 10, "/L"},
		{QuantityMoney, "$42.50", 42.5, ""},
		{QuantityMoney, "42,50 €", 42.5, ""},
		{QuantityMoneyPerMass, "€30/kg", 30, "/kg"},
		{QuantityMoneyPerMass, "6,5 per 100 g", 65, "/100 g"},
		{QuantityMoneyPerMass, "$10 per pound", 10 / Pound, "/lb"},
		{QuantityMoneyPerMass, "$2/oz", 32 / Pound, "/oz"},
		{QuantityBore, "#60", 0.04 * Inch, "mm"},
		{QuantityBore, "no 60", 0.04 * Inch, "mm"},
		{QuantityBore, "No. 60", 0.04 * Inch, "mm"},
		{QuantityBore, "drill 60", 0.04 * Inch, "mm"},
		{QuantityBore, "60 drill", 0.04 * Inch, "mm"},
		{QuantityBore, "f", 0.257 * Inch, "mm"},
		{QuantityBore, "letter F", 0.257 * Inch, "mm"},
		{QuantityBore, ".040 in", 0.04 * Inch, "in"},
		{QuantityBore, "1,2", 0.0012, "mm"},
	}
	for _, tt := range tests {
		f := Field{Name: tt.q.String(), Quantity: tt.q, Standard: std}
		p, err := f.Parse(tt.text)
		if err != nil || !near(p.SI, tt.si) || p.Unit.Symbol() != tt.unit {
			t.Errorf("%v %q: got %v, unit %q, %q (%v); want %v, unit %q", tt.q, tt.text, p.SI, p.Unit.Symbol(), p.Read, err, tt.si, tt.unit)
		}
	}
}

// What cannot be one number of the right quantity is refused, and the message names the reason.
func TestField_Parse_refuses_with_the_reason(t *testing.T) {
	tests := []struct {
		q    Quantity
		text string
		want string // in the message
	}{
		{QuantityThickness, "", "nothing was typed"},
		{QuantityThickness, "   ", "nothing was typed"},
		{QuantityThickness, "abc", "no number"},
		{QuantityThickness, ".", "no number"},
		{QuantityThickness, "1/0", "divides by zero"},
		{QuantityThickness, "1 3/2", "one or more"},
		{QuantityThickness, "1 2/2", "one or more"},
		{QuantityThickness, "1/2/3", "no unit of a thickness"},
		{QuantityThickness, "--3", "no number"},
		{QuantityThickness, "1-2", "a second number"},
		{QuantityThickness, "NaN", "no number"},
		{QuantityThickness, "Inf", "no number"},
		{QuantityThickness, "1e999", "too large"},
		{QuantityThickness, "1e-999", "too small"},
		{QuantityThickness, "1e308 km", "too large"},
		{QuantityThickness, "0x10", "no unit of a thickness"},
		{QuantityThickness, "1.2.3", "do not make one number"},
		{QuantityThickness, "1,23,456", "do not make one number"},
		{QuantityThickness, "1,2.3,4", "do not make one number"},
		{QuantityThickness, "1 234.567.8", "a second number"},
		{QuantityThickness, "5 in mm", "two units"},
		{QuantityThickness, "5 in 3 mm", "do not belong together"},
		{QuantityThickness, "3 in 6 ft", "do not belong together"},
		{QuantityThickness, "3 mm 2", "a second number"},
		{QuantityThickness, "5 kg", "measures a mass"},
		{QuantityThickness, "5 m3", "measures a volume"},
		{QuantityThickness, "5 psi", "measures a pressure"},
		{QuantityThickness, "16 swg", "no unit of a thickness"},
		{QuantityThickness, "16 ga", "choose the metal first"},
		{QuantityThickness, strings.Repeat("1", 300), "too long"},
		{QuantityPressure, "5 psi bar", "two units"},
		{QuantityPressure, "5-7", "more than one number"},
		{QuantityPressure, "20 psia", "marked absolute"},
		{QuantityPressure, "20 bara", "marked absolute"},
		{QuantityPressure, "5 °C", "measures a temperature"},
		{QuantityTemperature, "-300 °C", "absolute zero"},
		{QuantityTemperature, "-1 K", "absolute zero"},
		{QuantityStandardVolume, "125 ft³", "choose the gas first"},
		{QuantityStandardFlow, "10 cfh", "choose the gas first"},
		{QuantityMoneyPerVolume, "1 per ft³", "choose the gas first"},
		{QuantityBore, "#81", "#1 to #80"},
		{QuantityBore, "#0", "#1 to #80"},
		{QuantityBore, "# 60 mm", "#1 to #80"},
		{QuantityBore, "1.2 drill", "#1 to #80"},
		{QuantityNumber, "5 mm", "measures a length"},
		{QuantityDuration, "1:25", "no unit of a time"},
	}
	for _, tt := range tests {
		_, err := Field{Name: "Answer", Quantity: tt.q}.Parse(tt.text)
		var e *ParseError
		if !errors.As(err, &e) || !strings.Contains(err.Error(), tt.want) || e.Field != "Answer" || e.Allowed == "" {
			t.Errorf("%v %q: got %v, want a message with %q", tt.q, tt.text, err, tt.want)
		}
	}
}

// A gauge outside its table is refused with the table's name and limits.
func TestField_Parse_names_the_gauge_table(t *testing.T) {
	tests := []struct {
		sheet SheetTable
		text  string
		want  string
	}{
		{SteelSheet, "2 ga", "Manufacturers' Standard, steel has the whole numbers 3 to 32"},
		{SteelSheet, "-3 ga", "3 to 32"},
		{SteelSheet, "16.5 ga", "3 to 32"},
		{SteelSheet, "ga", "3 to 32"},
		{NonFerrousSheet, "37 ga", "Brown & Sharpe, aluminium, copper and brass has the whole numbers 0 to 36"},
		{GalvanisedSheet, "7 ga", "galvanised sheet, coating included has the whole numbers 8 to 31"},
		{StainlessSheet, "99999999999999999999 ga", "US Standard, stainless has the whole numbers 3 to 32"},
	}
	for _, tt := range tests {
		_, err := Field{Name: "Thickness", Quantity: QuantityThickness, Sheet: tt.sheet}.Parse(tt.text)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%q: got %v, want a message with %q", tt.text, err, tt.want)
		}
	}
}

// Out of range, the message shows what was read in the typed and in the field's unit, the range and the reason.
func TestField_Parse_states_the_limits(t *testing.T) {
	f := Field{Name: "Thickness", Quantity: QuantityThickness, Unit: mustUnit(t, QuantityThickness, "mm"),
		Min: 0.0005, Max: 0.006, Why: "thicker steel is not welded with one pass of a torch", Sheet: SteelSheet}
	us := f
	us.Unit = mustUnit(t, QuantityThickness, "in")
	hose := Field{Name: "Hose", Quantity: QuantityLength, Unit: mustUnit(t, QuantityLength, "m"), Min: 0.1, Max: math.Inf(1), Why: "a hose has a length"}
	cold := Field{Name: "Shop", Quantity: QuantityTemperature, Unit: mustUnit(t, QuantityTemperature, "°C"), Min: math.Inf(-1), Max: 323.15}
	height := Field{Name: "Height", Quantity: QuantityLength, Unit: mustUnit(t, QuantityLength, "ft"), Min: -400, Max: 4000}
	tests := []struct {
		f    Field
		text string
		want string
	}{
		{f, "0", "Thickness: read 0 mm; allowed is 0.5 to 6 mm; thicker steel is not welded with one pass of a torch"},
		{f, "-3", "Thickness: read -3 mm; allowed is 0.5 to 6 mm; thicker steel is not welded with one pass of a torch"},
		{f, "4 km", "Thickness: read 4 km = 4000000 mm; allowed is 0.5 to 6 mm; thicker steel is not welded with one pass of a torch"},
		{f, "3 ga", "Thickness: read 3 ga (Manufacturers' Standard, steel) = 6.073 mm; allowed is 0.5 to 6 mm; thicker steel is not welded with one pass of a torch"},
		{us, "1", "Thickness: read 1 in = 25.4 mm; allowed is 0.02 to 0.236 in; thicker steel is not welded with one pass of a torch"},
		{us, "7 mm", "Thickness: read 7 mm = 0.2756 in; allowed is 0.02 to 0.236 in; thicker steel is not welded with one pass of a torch"},
		{us, "2,200", "Thickness: read 2.2 in = 55.88 mm or 2200 in = 55880 mm; allowed is 0.02 to 0.236 in; thicker steel is not welded with one pass of a torch"},
		{hose, "0 m", "Hose: read 0 m; allowed is 0.1 m or more; a hose has a length"},
		{cold, "150 °F", "Shop: read 150 °F = 65.56 °C; allowed is 50 °C or less"},
		{height, "20000 ft", "Height: read 20000 ft = 6096 m; allowed is -1310 to 13100 ft"},
		{f, "abc", "Thickness: “abc” was not understood; allowed is 0.5 to 6 mm; there is no number where one is needed"},
	}
	for _, tt := range tests {
		p, err := tt.f.Parse(tt.text)
		if err == nil || err.Error() != tt.want || p != (Parsed{}) {
			t.Errorf("%q:\n got %v\nwant %v", tt.text, err, tt.want)
		}
	}
}

// A comma before exactly three digits is settled by the limits or offered back; each choice offered is understood as such.
func TestField_Parse_comma_before_three_digits(t *testing.T) {
	f := Field{Name: "Pressure", Quantity: QuantityPressure, Unit: mustUnit(t, QuantityPressure, "psi"), Max: 3000 * PSI}
	_, err := f.Parse("2,200 psi")
	var e *ParseError
	if !errors.As(err, &e) || len(e.Choices) != 2 {
		t.Fatalf("got %v, want two choices", err)
	}
	for i, want := range []float64{2200 * PSI, 2.2 * PSI} {
		if p, err := f.Parse(e.Choices[i]); err != nil || !near(p.SI, want) {
			t.Errorf("choice %q is read as %v (%v), want %v Pa", e.Choices[i], p.SI, err, want)
		}
	}
	f.Min = 100 * PSI
	if p, err := f.Parse("2,200 psi"); err != nil || !near(p.SI, 2200*PSI) {
		t.Errorf("2,200 with a lower limit: %v (%v)", p.SI, err)
	}
	f.Min, f.Max = 0, 100*PSI
	if p, err := f.Parse("2,200"); err != nil || !near(p.SI, 2.2*PSI) || p.Read != "2.2 psi = 0.1517 bar" {
		t.Errorf("2,200 with an upper limit: %+v (%v)", p, err)
	}
	f.Max = 1 * PSI
	if _, err := f.Parse("2,200"); err == nil || !strings.Contains(err.Error(), "2200 psi") || !strings.Contains(err.Error(), "2.2 psi") {
		t.Errorf("2,200 outside both ways: %v", err)
	}
}

// A limit is inclusive in whatever unit it was worked out, and every limit named in a message is accepted.
func TestField_Parse_accepts_its_limits(t *testing.T) {
	f := Field{Name: "Acetylene", Quantity: QuantityPressure, Unit: mustUnit(t, QuantityPressure, "psi"), Min: 0, Max: 103421.35939752538, Why: "limit"}
	p, err := f.Parse("15 psi")
	if err != nil || p.SI > f.Max {
		t.Errorf("15 psi against its own limit: %v (%v)", p.SI, err)
	}
	if _, err := f.Parse("15.0001 psi"); err == nil {
		t.Error("15.0001 psi passes a limit of 15 psi")
	}
	for _, q := range Quantities() {
		for _, u := range UnitsOf(q) {
			f := Field{Name: "x", Quantity: q, Unit: u, Min: 300.123456789, Max: 98765.4321, Standard: 0.979}
			low, high, found := strings.Cut(strings.TrimSuffix(f.allowed(), u.Symbol()), " to ")
			if !found {
				t.Errorf("%v in %s: allowed is %q", q, u.Symbol(), f.allowed())
			}
			for _, text := range []string{low, high} {
				if _, err := f.Parse(text); err != nil {
					t.Errorf("%v: the limit %q is refused: %v", q, text, err)
				}
			}
		}
	}
}

// Nothing typed is an answer only where the field says so, and never a zero.
func TestField_Parse_optional(t *testing.T) {
	p, err := Field{Name: "Room", Quantity: QuantityVolume, Min: 1, Max: 2, Optional: true}.Parse(" ")
	if err != nil || !p.Empty || p.Read != "" {
		t.Errorf("got %+v (%v), want empty", p, err)
	}
}

// One to three digits, a comma and three more may be thousands; four digits before the comma, or a nought, cannot.
func TestField_Parse_asks_what_a_comma_before_three_digits_is(t *testing.T) {
	for _, tt := range []struct {
		text    string
		choices []string // nil when there is nothing to ask
	}{
		{"2,200", []string{"2200", "2.2"}},
		{"12,345", []string{"12345", "12.345"}},
		{"123,456", []string{"123456", "123.456"}},
		{"1234,567", nil},
		{"0,125", nil},
		{"123,4567", nil},
	} {
		_, err := Field{Name: "Pressure", Quantity: QuantityPressure}.Parse(tt.text)
		var e *ParseError
		if (err == nil) != (tt.choices == nil) || err != nil && !errors.As(err, &e) {
			t.Errorf("%q: %v", tt.text, err)
			continue
		}
		for i, c := range tt.choices {
			if len(e.Choices) != len(tt.choices) || !strings.HasPrefix(e.Choices[i], c+" ") {
				t.Errorf("%q offers %q, want %q", tt.text, e.Choices, tt.choices)
			}
		}
	}
}
