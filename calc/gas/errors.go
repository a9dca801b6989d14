package gas

import (
	"errors"
	"fmt"
	"math"
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
	return fmt.Sprintf("%s is %s, allowed is %s to %s: %s",
		e.Field, inTrade(e.Value, e.Unit), inTrade(e.Low, e.Unit), inTrade(e.High, e.Unit), e.Why)
}

// inTrade writes an SI value in a unit read off a gauge or a thermometer.
func inTrade(v float64, unit string) string {
	switch unit {
	case "Pa":
		return fmt.Sprintf("%.4g bar (%.4g psi)", v/1e5, v/pascalPerPSI)
	case "K":
		return fmt.Sprintf("%.4g °C", v-zeroCelsius)
	case "m³":
		return fmt.Sprintf("%.4g L", v*1000)
	case "m³/s":
		return fmt.Sprintf("%.4g L/h", v*3.6e6)
	case "":
		return fmt.Sprintf("%.4g", v)
	}
	return fmt.Sprintf("%.4g %s", v, unit)
}

const (
	pascalPerPSI = 6894.757293168 // exact: 0.45359237 kg × 9.80665 m/s² / (0.0254 m)², NIST SP 811, appendix B
	zeroCelsius  = 273.15         // K, exact, BIPM SI brochure, 9th edition
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
