package flame

import (
	"fmt"
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// LowestFlow is the least fuel that is advised for a tip. It is an estimate that may only ask for more than the maker does; no
// flow above it is thereby safe.
type LowestFlow struct {
	// Advised is the larger of the maker's smallest flow and the high end of Estimate, in m³/s of fuel at the standard state.
	Advised units.StandardFlow
	// Estimate is the fuel flow in m³/s at the standard state at which the flame is expected to walk back; Low and High are its
	// band of one order of magnitude in the margin of HoldOn.
	Estimate units.Band
	// Velocity is the mean exit velocity in m/s that belongs to Estimate.
	Velocity   units.Band
	FromMaker  bool // Advised is the maker's
	Source     string
	FromMemory bool // of Source
}

const (
	makersFlowSource = "the torch maker's smallest flow for this tip"
	maxMakersMinimum = 1 // m³/s
)

// LowestFlowAdvised finds the flow at which the pop-back estimate of HoldOn just has nothing to add. ExitVelocity of the input is
// ignored. makersMinimum is the maker's smallest flow of fuel in m³/s at the standard state, 0 when not known.
//
// Errors: those of HoldOn; *gas.RangeError for makers_minimum_std_m3_s that is negative, too large or not a number.
func LowestFlowAdvised(in HoldOnInput, makersMinimum units.StandardFlow) (LowestFlow, error) {
	err := gas.InRange("makers_minimum_std_m3_s", float64(makersMinimum), 0, maxMakersMinimum, "m³/s", "a flow is not negative, and no torch takes a cubic metre a second")
	if err != nil {
		return LowestFlow{}, fmt.Errorf("lowest flow: %w", err)
	}
	in.ExitVelocity = 0 // ignored
	if _, err := HoldOn(in); err != nil {
		return LowestFlow{}, err
	}
	limits := in.limits(burnings[in.Fuel])
	velocity := units.Band{Reason: "order of magnitude only"}
	for _, end := range []struct {
		at     *float64
		margin float64
	}{{&velocity.Low, 1 / halfOrder}, {&velocity.Value, 1}, {&velocity.High, halfOrder}} {
		*end.at = limits.velocityAt(end.margin)
	}
	perSpeed := in.fuelPerSpeed()
	l := LowestFlow{
		Estimate: units.Band{Value: velocity.Value * perSpeed, Low: velocity.Low * perSpeed, High: velocity.High * perSpeed, Reason: velocity.Reason},
		Velocity: velocity, Source: holdOnSource, FromMemory: true,
	}
	l.Advised = units.StandardFlow(l.Estimate.High)
	if makersMinimum >= l.Advised {
		l.Advised, l.FromMaker, l.Source, l.FromMemory = makersMinimum, true, makersFlowSource, false
	}
	return l, nil
}

// velocityAt finds the exit velocity in m/s that has a margin, by halving: the margin grows with velocity, from 0 to far more
// than 10 at the largest velocity that HoldOn takes.
func (l holdOnLimits) velocityAt(margin float64) float64 {
	low, high := 0.0, float64(maxExitVelocity)
	for range 60 { // to the last bit
		middle := (low + high) / 2
		if l.margin(middle) < margin {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}

// fuelPerSpeed is the standard flow of fuel in m³/s for each m/s of mean exit velocity, ideal at the exit.
func (in HoldOnInput) fuelPerSpeed() float64 {
	hole := math.Pi / 4 * float64(in.Diameter) * float64(in.Diameter)
	moles := float64(in.Ambient) / (gas.R * float64(in.Temperature)) * hole / (1 + in.Ratio)
	return moles * in.Fuel.MolarMass() / float64(in.Fuel.StandardDensity())
}

// Sentence says what to do, in the words of the trade; nothing for NothingToAdd.
func (a HoldOnAdvice) Sentence() string {
	switch a {
	case MayPopBack:
		return "Turn the fuel up or fit a smaller tip: at this flow the flame can pop back."
	case ExpectPopBack:
		return "Turn the fuel up or fit a smaller tip: at this flow expect the flame to pop back."
	}
	return ""
}
