package flame

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// ExitClass says how a flame feels by its exit velocity.
type ExitClass string

// Exit velocity classes. All limits are common practice, from memory, with no source.
const (
	// TooSlow is below SlowestExit: the flame is limp and near to popping back.
	TooSlow ExitClass = "too_slow"
	// Soft is below NormalExit: it moves the puddle little; thin sheet, brazing.
	Soft ExitClass = "soft"
	// NormalFlow is the middle of what torches run at.
	NormalFlow ExitClass = "normal"
	// Harsh is above HarshExit: it pushes the puddle.
	Harsh ExitClass = "harsh"
	// TooFast is above FastestExit: the flame tends to leave the tip.
	TooFast ExitClass = "too_fast"
)

// Limits of the exit velocity classes, in m/s. Common practice, from memory, no source.
const (
	SlowestExit units.Speed = 40
	NormalExit  units.Speed = 80
	HarshExit   units.Speed = 130
	FastestExit units.Speed = 180
)

// slowestBurning in m/s is far below any flame: methane with air, slow among flames, burns at 0.38 m/s.
const slowestBurning = 0.01

// ClassifyExit returns the class of a mean exit velocity. Normal includes both its ends. It returns the empty ExitClass for a
// velocity that is negative or not a number.
func ClassifyExit(velocity units.Speed) ExitClass {
	switch {
	case !(velocity >= 0):
		return ""
	case velocity < SlowestExit:
		return TooSlow
	case velocity < NormalExit:
		return Soft
	case velocity <= HarshExit:
		return NormalFlow
	case velocity <= FastestExit:
		return Harsh
	}
	return TooFast
}

// ConeLength returns the length of the inner cone in m over a hole, from the mean exit velocity u and the burning velocity S:
// a flame front at rest makes the half-angle α with sin α = S/u (Gouy's law), so the length is r √((u/S)² − 1). A real cone is
// rounder and, in turbulent flow, shorter.
//
// Errors: *gas.RangeError when the burning velocity is not positive or above the exit velocity; then no cone stands on the tip.
func ConeLength(diameter units.Length, exit, burning units.Speed) (units.Length, error) {
	err := gas.InRange("burning_velocity_m_s", float64(burning), slowestBurning, float64(exit), "m/s",
		"a cone stands on the tip only when the gas leaves faster than it burns")
	if err != nil {
		return 0, err
	}
	steepness := max(float64(exit/burning), 1)
	return units.Length(float64(diameter) / 2 * math.Sqrt(steepness*steepness-1)), nil
}
