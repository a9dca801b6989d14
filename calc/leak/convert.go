package leak

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// iceTemperature is 0 °C, the state of the standard cubic centimetre of leak testing: 1 std cm³/s is 4.46e-5 mol/s (testdata/reference/
// leak_testing.csv). It is a second standard state beside that of this program, so results name it.
const iceTemperature units.Temperature = 273.15

// countedBubble is the 3 mm bubble of Equivalents.
const countedBubble units.Length = 3e-3

// Equivalents is one leak in the units people state leaks in. All but mol/s follow the real densities of the gas at the states named.
type Equivalents struct {
	LitresPerHour                   float64 // at 15 °C, 101.325 kPa
	CubicFeetPerHour                float64 // at 70 °F, 101.325 kPa
	CubicCentimetresPerSecond       float64 // std cm³/s at 0 °C, 101.325 kPa
	MillibarLitresPerSecond         float64 // pressure times volume flow at 0 °C
	MolesPerSecond                  float64
	ThreeMillimetreBubblesPerSecond float64 // bubbles of 3 mm a second, blown at 15 °C
}

// In returns a leak of a gas in all of them; a gain is negative in all. Errors: gas.ErrUnknown.
func In(g gas.Gas, leak units.StandardFlow) (Equivalents, error) {
	ice, err := g.Density(units.StandardAtmosphere, iceTemperature)
	if err != nil {
		return Equivalents{}, err
	}
	q := float64(leak)
	mass := q * float64(g.StandardDensity())
	atIce := mass / float64(ice)
	return Equivalents{
		LitresPerHour:                   q * units.Hour / litre,
		CubicFeetPerHour:                q * units.Hour / float64(g.StandardRatio()) / units.CubicFoot,
		CubicCentimetresPerSecond:       atIce * 1e6,
		MillibarLitresPerSecond:         atIce / litre * float64(units.StandardAtmosphere) / (units.Bar / 1000),
		MolesPerSecond:                  mass / g.MolarMass(),
		ThreeMillimetreBubblesPerSecond: q / (math.Pi / 6 * math.Pow(float64(countedBubble), 3)),
	}, nil
}
