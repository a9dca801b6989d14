package units

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// ratio stands for a gas in tests: near that of every real gas at 70 °F over 15 °C.
const ratio = StandardRatio(0.979)

// Digits fit for the quantity, in both presets.
func TestFormat_writes_for_a_person(t *testing.T) {
	tests := []struct {
		q    Quantity
		si   float64
		unit string
		want string
	}{
		{QuantityPressure, 5 * PSI, "psi", "5 psi"},
		{QuantityPressure, 8.44 * PSI, "psi", "8.4 psi"},
		{QuantityPressure, 0.35 * PSI, "psi", "0.35 psi"},
		{QuantityPressure, 14.6 * PSI, "psi", "15 psi"},
		{QuantityPressure, 2200.4 * PSI, "psi", "2200 psi"},
		{QuantityPressure, 35e3, "bar", "0.35 bar"},
		{QuantityPressure, 1.034e5, "bar", "1.03 bar"},
		{QuantityPressure, 151.68e5, "bar", "152 bar"},
		{QuantityPressure, 400, "bar", "0.004 bar"},
		{QuantityPressure, 103421, "kPa", "103 kPa"},
		{QuantityPressure, 15.2e6, "MPa", "15.2 MPa"},
		{QuantityTemperature, 293.15, "°C", "20 °C"},
		{QuantityTemperature, 272.9, "°C", "0 °C"},
		{QuantityTemperature, 273.15, "°F", "32 °F"},
		{QuantityTemperature, 255.3722222, "°F", "0 °F"},
		{QuantityTemperature, 263.15, "°C", "-10 °C"},
		{QuantityThickness, 0.003175, "in", "1/8 in"},
		{QuantityThickness, 0.0032, "in", "0.126 in"},
		{QuantityThickness, 0.0047625, "in", "3/16 in"},
		{QuantityThickness, 0.0381, "in", "1 1/2 in"},
		{QuantityThickness, 0.0254, "in", "1 in"},
		{QuantityThickness, 0.00151892, "in", "0.0598 in"},
		{QuantityThickness, 0.00151892, "mm", "1.52 mm"},
		{QuantityThickness, 0.0032, "mm", "3.2 mm"},
		{QuantityThickness, 0.003175, "mm", "3.18 mm"},
		{QuantityThickness, 0.0127, "mm", "12.7 mm"},
		{QuantityLength, 7.62, "ft", "25 ft"},
		{QuantityLength, 7.62, "m", "7.62 m"},
		{QuantityLength, 0.3175, "in", "12 1/2 in"},
		{QuantityBore, 0.04 * Inch, "in", "#60"},
		{QuantityBore, 0.04 * Inch, "mm", "1.02 mm"},
		{QuantityBore, Inch / 16, "in", "1/16 in"},
		{QuantityBore, 0.0455 * Inch, "in", "0.0455 in"},
		{QuantityVolume, 0.047, "L", "47 L"},
		{QuantityVolume, 0.047, "in³", "2868 in³"},
		{QuantityStandardVolume, 7.1, "L", "7100 L"},
		{QuantityStandardVolume, 100 * CubicFoot * 0.979, "ft³", "100 ft³"},
		{QuantityStandardFlow, 300.4e-3 / 3600, "L/h", "300 L/h"},
		{QuantityStandardFlow, 0.0123e-3 / 3600, "L/h", "0.012 L/h"},
		{QuantityStandardFlow, 5 * CubicFoot / 3600 * 0.979, "ft³/h", "5 ft³/h"},
		{QuantityMass, 10.254, "kg", "10.25 kg"},
		{QuantityMass, 12.5 * Pound, "lb", "12.5 lb"},
		{QuantityDuration, 5100, "min", "1 h 25 min"},
		{QuantityDuration, 7200, "h", "2 h"},
		{QuantityDuration, 1500, "min", "25 min"},
		{QuantityDuration, 330, "min", "5.5 min"},
		{QuantityDuration, 45, "min", "45 s"},
		{QuantityDuration, 59.7, "min", "60 s"},
		{QuantityDuration, 597.5, "min", "10 min"},
		{QuantityDuration, 3599, "min", "1 h"},
		{QuantityDuration, 0, "min", "0 s"},
		{QuantityDuration, math.Copysign(0, -1), "min", "0 s"},
		{QuantityDuration, -5100, "min", "-1 h 25 min"},
		{QuantityDuration, 90, "s", "90 s"},
		{QuantitySpeed, 0.005, "mm/min", "300 mm/min"},
		{QuantitySpeed, 0.005, "in/min", "11.8 in/min"},
		{QuantityPower, 5000, "kW", "5 kW"},
		{QuantityNumber, 1.1, "", "1.1"},
		{QuantityNumber, 0.9995, "%", "99.95 %"},
		{QuantityMoneyPerVolume, 12.5, "/m³", "12.5/m³"},
		{QuantityMoneyPerVolume, 35 / (100 * CubicFoot) / 0.979, "/100 ft³", "35/100 ft³"},
		{QuantityNumber, math.Copysign(0, -1), "", "0"},
		{QuantityNumber, 123456789, "", "123456789"},
		{QuantityNumber, 1e-5, "", "0.00001"},
	}
	for _, tt := range tests {
		if got := Format(tt.q, tt.si, mustUnit(t, tt.q, tt.unit), ratio); got != tt.want {
			t.Errorf("%v %v in %q = %q, want %q", tt.q, tt.si, tt.unit, got, tt.want)
		}
	}
}

// What cannot be shown is never shown as a number, and cubic feet without a gas become the metric unit.
func TestFormat_without_a_number_or_a_gas(t *testing.T) {
	cfh := mustUnit(t, QuantityStandardFlow, "ft³/h")
	tests := []struct{ got, want string }{
		{Format(QuantityStandardFlow, 300e-3/3600, cfh, 0), "300 L/h"},
		{FormatNumber(QuantityStandardFlow, 300e-3/3600, cfh, 0), "?"},
		{Format(QuantityLength, math.NaN(), Unit{}, 0), "? m"},
		{Format(QuantityDuration, math.Inf(1), Unit{}, 0), "? min"},
		{Format(QuantityThickness, 0.0032, cfh, 0), "3.2 mm"},
		{Format(QuantityThickness, 0.003175, mustUnit(t, QuantityLength, "in"), 0), "1/8 in"},
		{FormatNumber(QuantityBore, 0.04*Inch, mustUnit(t, QuantityBore, "in"), 0), "0.04"},
		{FormatNumber(QuantityDuration, 5100, mustUnit(t, QuantityDuration, "min"), 0), "85"},
		{Format(QuantityNumber, 1e300, Unit{}, 0), "1e+300"},
		{Format(0, 1.5, Unit{}, 0), "1.5"},
		{Format(200, 1.5, Unit{}, 0), "1.5"},
		{FormatNumber(QuantityLength, 3e-12, Unit{}, 0), "3e-12"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

// Parse(Format(x)) is x within what is printed, for every quantity and unit, over twelve decades and both signs; and the
// text never holds an exponent or "-0".
func TestFormat_is_read_back(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, q := range Quantities() {
		for _, u := range UnitsOf(q) {
			for range 500 {
				x := math.Pow(10, rng.Float64()*12-5) * float64(1-2*rng.IntN(2))
				si, err := u.SI(x, ratio)
				if err != nil {
					t.Fatal(err)
				}
				if q == QuantityTemperature && si < 1 {
					continue // whole degrees next to absolute zero round to below it
				}
				checkReadBack(t, q, si, u)
			}
		}
	}
}

// The same through the two presets and a mixed system.
func TestFormat_is_read_back_in_every_system(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	mixed := US().With(mustUnit(t, QuantityPressure, "bar")).With(mustUnit(t, QuantityThickness, "mm"))
	for _, s := range []System{US(), Metric(), mixed} {
		for _, q := range Quantities() {
			for range 500 {
				si := math.Pow(10, rng.Float64()*6-3)
				if q == QuantityTemperature {
					si += 1 // whole degrees next to absolute zero round to below it
				}
				checkReadBack(t, q, si, s.Unit(q))
			}
		}
	}
}

// checkReadBack formats and parses once.
func checkReadBack(t *testing.T, q Quantity, si float64, u Unit) {
	t.Helper()
	text := Format(q, si, u, ratio)
	if strings.ContainsAny(text, "eE") && !strings.Contains(text, "ft³") || strings.HasPrefix(text, "-0 ") {
		t.Errorf("%v %v in %s is shown as %q", q, si, u.Symbol(), text)
	}
	p, err := Field{Name: "x", Quantity: q, Unit: u, Standard: ratio}.Parse(text)
	if err != nil {
		t.Errorf("%v %v is shown as %q, which is refused: %v", q, si, text, err)
		return
	}
	if off := math.Abs(p.SI - si); off > printedPrecision(q, si, u, text) {
		t.Errorf("%v %v is shown as %q and read back as %v", q, si, text, p.SI)
	}
}

// printedPrecision is how far the shown text may be from the value, in SI: half of its last digit; 0.4 % for a fraction,
// 0.2 % for a drill, half a minute for hours and minutes. The last term is floating point.
func printedPrecision(q Quantity, si float64, u Unit, text string) float64 {
	rounding := 1e-12 * (math.Abs(si) + u.def().offset)
	switch {
	case strings.HasPrefix(text, "#"):
		return drillTolerance * si
	case u.Symbol() == "in" && q.isLength() && (strings.Contains(text, "/") || !strings.Contains(text, ".")):
		return fractionTolerance*math.Abs(si) + rounding
	case q == QuantityDuration && u.Symbol() != "s" && strings.HasSuffix(text, " h"), strings.Contains(text, " h "):
		return 30 + rounding
	case q == QuantityDuration && strings.HasSuffix(text, " s"):
		u = unitFor(q, Unit{q, 1})
	case q == QuantityDuration && strings.HasSuffix(text, " min"):
		u = unitFor(q, Unit{q, 0})
	}
	number, _, _ := strings.Cut(text, " ")
	number, _, _ = strings.Cut(number, "/")
	_, decimals, _ := strings.Cut(number, ".")
	half := 0.5 * math.Pow(10, -float64(len(decimals)))
	if n, err := strconv.ParseFloat(number, 64); err == nil && n == 0 && q != QuantityTemperature {
		half = 0 // zero stands for zero only
	}
	factor, _ := u.def().scale(ratio)
	return half*factor + rounding
}
