package state

import (
	"math"

	"torchside/calc/units"
)

// The International Standard Atmosphere up to 11 km, ISO 2533:1975: p = p0·(1 − β·h/T0)^(g/(R·β)).
const (
	lapseRate     = 0.0065    // K/m
	seaLevelK     = 288.15    // K
	gravity       = 9.80665   // m/s²
	airConstant   = 287.05287 // J/(kg K)
	lapseExponent = gravity / (airConstant * lapseRate)
)

// ambient returns the air pressure at a height above the sea. Weather moves it by about 3 % either way.
func ambient(height units.Length) units.AbsolutePressure {
	return units.StandardAtmosphere * units.AbsolutePressure(math.Pow(1-lapseRate*float64(height)/seaLevelK, lapseExponent))
}
