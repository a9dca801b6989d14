package leak

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// Limits of Bubbles.
const (
	// BubbleMinimum and BubbleMaximum run from what the eye makes out to the froth of a blown joint.
	BubbleMinimum units.Length = 0.1e-3
	BubbleMaximum units.Length = 50e-3
	// CountMinimum is one bubble in three hours, CountMaximum far more than can be counted.
	CountMinimum = 1e-4
	CountMaximum = 1e3
)

// SmallestBubbleTest is the smallest leak that a bubble test by the standard shows: 1e-5 std cm³/s or 4.5e-10 mol/s (ASTM E515-11), as a
// standard volume of an ideal gas.
const SmallestBubbleTest units.StandardFlow = 4.5e-10 * gas.R * units.StandardFlow(units.StandardTemperature) / units.StandardFlow(units.StandardAtmosphere)

const (
	whyBubble    = "bubbles of a joint are from a tenth of a millimetre to the size of a plum"
	whyCount     = "count bubbles over some time; seeing none is not zero: a bubble test by the standard shows 1e-5 cm³/s at best (ASTM E515-11)"
	whyBubbleOff = "a bubble's size is guessed by eye, to the whole of itself at worst"
	whyRoom      = "the temperature of the air around the rig, -20 to 50 °C (-4 to 122 °F)"
)

// bubbleGuess is how far a bubble's diameter guessed by eye may be off, as a share: ours, no source.
const bubbleGuess = 0.25

// Bubbles is a second estimate of a leak, from the bubbles it blows: the volume of a sphere times how many a second. It is rough, and
// the standard for bubble tests reads no leak size off them at all (ASTM E515-11).
type Bubbles struct {
	Diameter      units.Length
	DiameterError units.Length           // 0 means a quarter of the diameter
	PerSecond     float64                // bubbles a second
	Temperature   units.Temperature      // of the air; 0 means 20 °C
	Ambient       units.AbsolutePressure // barometer; 0 means units.StandardAtmosphere
}

// Leak returns the leak in std m³/s with its band. The film's own pressure, under 1 hPa from 1 mm up, is left out. Errors: *gas.RangeError.
func (b Bubbles) Leak() (units.Band, error) {
	b = b.filled()
	err := firstError(
		inRange("diameter_m", b.Diameter, BubbleMinimum, BubbleMaximum, "m", whyBubble),
		inRange("diameter_error_m", b.DiameterError, 0, b.Diameter, "m", whyBubbleOff),
		gas.InRange("bubbles_per_s", b.PerSecond, CountMinimum, CountMaximum, "1/s", whyCount),
		inRange("temperature_k", b.Temperature, gas.TemperatureMinimum, gas.TemperatureMaximum, "K", whyRoom),
		inRange("ambient_abs_pa", b.Ambient, AmbientMinimum, AmbientMaximum, "Pa", whyAmbient),
	)
	if err != nil {
		return units.Band{}, err
	}
	flow := func(d units.Length) float64 {
		room := Room{Temperature: b.Temperature, Ambient: b.Ambient}
		return math.Pi / 6 * math.Pow(float64(d), 3) * b.PerSecond / room.expansion()
	}
	return units.Band{
		Value: flow(b.Diameter), Low: flow(b.Diameter - b.DiameterError), High: flow(b.Diameter + b.DiameterError),
		Reason: "the diameter guessed by eye, to the third power; bubbles that were missed make it larger",
	}, nil
}

// filled sets what was left at zero.
func (b Bubbles) filled() Bubbles {
	if b.DiameterError == 0 {
		b.DiameterError = bubbleGuess * b.Diameter
	}
	if b.Temperature == 0 {
		b.Temperature = roomTemperature
	}
	if b.Ambient == 0 {
		b.Ambient = units.StandardAtmosphere
	}
	return b
}
