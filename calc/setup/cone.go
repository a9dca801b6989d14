package setup

import (
	"math"

	"torchside/calc/flame"
	"torchside/calc/units"
)

// reasonCone says why a cone has a band, and which of it is shown.
const reasonCone = "the spread of burning velocities: models at the long end, remembered measurements at the short one, shown is the middle (root of low × high); a real cone is rounder and shorter"

// coneBand is the length of the inner cone in m by the band of burning velocities. Its value is that of their geometric middle:
// models and measurements lie apart by a factor, and neither is known to be right. 0 where the gas burns faster than it leaves.
func coneBand(in flame.HoldOnInput, burning units.Band) units.Band {
	at := func(velocity float64) float64 {
		cone, err := flame.ConeLength(in.Diameter, in.ExitVelocity, units.Speed(velocity))
		if err != nil {
			return 0
		}
		return float64(cone)
	}
	return units.Band{Value: at(math.Sqrt(burning.Low * burning.High)), Low: at(burning.High), High: at(burning.Low), Reason: reasonCone}
}
