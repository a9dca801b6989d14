package gas

import (
	"errors"
	"fmt"
	"math"

	"torchside/calc/words"
)

// ErrUnknown is wrapped by Parse and Mixture.Check for a name that is no gas of this package.
var ErrUnknown = errors.New("unknown gas")

// ErrMixture is wrapped by Mixture.Check for fractions that are no mixture.
var ErrMixture = errors.New("not a mixture")

// RangeError reports one input outside what a calculation holds for. All calc packages use it, so that the edge of the
// program can name field, value and allowed range in the reader's own units.
type RangeError struct {
	Field     string  // field name, with its SI unit as the command line writes it: "gauge_pressure_pa"
	Value     float64 // what was given, SI
	Low, High float64 // allowed range, inclusive, SI
	Unit      string  // SI unit of the three numbers: "Pa", "K", "m³", "m³/s", "kg", "" for a ratio
	Why       string  // reason of the limits, in the words of the trade
}

// Error returns one readable line with the field, the value, the range and the reason.
func (e *RangeError) Error() string {
	return words.F("%s is %s, allowed is %s to %s: %s", e.Field, e.Text(e.Value), e.Text(e.Low), e.Text(e.High), e.Why)
}

// Text writes an SI value in the unit of the error as one reads it off a gauge, a rule or a thermometer, in both systems:
// "3 bar (43.51 psi)".
func (e *RangeError) Text(v float64) string {
	both := func(metric string, by float64, us string, usBy float64) string {
		return fourDigits(v/by) + " " + metric + " (" + fourDigits(v/usBy) + " " + us + ")"
	}
	switch e.Unit {
	case "Pa":
		return both("bar", 1e5, "psi", pascalPerPSI)
	case "K":
		c := v - zeroCelsius
		return fourDigits(c) + " °C (" + fourDigits(c*1.8+32) + " °F)"
	case "m":
		return both("mm", 1e-3, "in", inch)
	case "m³":
		return both("L", 1e-3, "in³", inch*inch*inch)
	case "m³/s":
		return both("L/h", 1e-3/3600, "ft³/h", 1728*inch*inch*inch/3600*usState)
	case "cubic metres": // of a room, or of gas
		return both("m³", 1, "ft³", 1728*inch*inch*inch)
	case "kelvin": // a difference
		return fourDigits(v) + " °C (" + fourDigits(v*1.8) + " °F)"
	case "kg":
		return both("kg", 1, "lb", 0.45359237)
	case "":
		return fourDigits(v)
	}
	return fourDigits(v) + " " + e.Unit
}

// fourDigits writes a number with four significant digits, a large one with all its whole digits and no exponent.
func fourDigits(v float64) string {
	if a := math.Abs(v); a >= 1e4 && a < 1e9 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.4g", v)
}

const (
	pascalPerPSI = 6894.757293168   // exact: 0.45359237 kg × 9.80665 m/s² / (0.0254 m)², NIST SP 811, appendix B
	zeroCelsius  = 273.15           // K, exact, BIPM SI brochure, 9th edition
	inch         = 0.0254           // m, exact, NIST SP 811, appendix B
	usState      = 288.15 / 294.261 // 70 °F against 15 °C, of an ideal gas: for a message that does not know the gas
)

// rounding is the share of the larger limit by which InRange lets a value pass its limits: -20 °C typed and converted to K may
// miss 253.15 K by the last bit.
const rounding = 1e-12

// InRange returns nil when low ≤ value ≤ high and otherwise a *RangeError; NaN is never in range.
func InRange(field string, value, low, high float64, unit, why string) error {
	slack := rounding * max(math.Abs(low), math.Abs(high))
	if value >= low-slack && value <= high+slack {
		return nil
	}
	return &RangeError{Field: field, Value: value, Low: low, High: high, Unit: unit, Why: why}
}
