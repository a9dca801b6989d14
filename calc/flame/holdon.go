package flame

import (
	"fmt"
	"math"

	"torchside/calc/flow"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// HoldOnInput is a tip with premixed gas coming out of it.
type HoldOnInput struct {
	Fuel     gas.Gas
	Ratio    float64      // volumes of torch oxygen to one of fuel
	Diameter units.Length // of the hole
	// ExitVelocity is the mean velocity over the hole, as flow.OrificeResult.MeanVelocity.
	ExitVelocity units.Speed
	Temperature  units.Temperature      // of the gas
	Ambient      units.AbsolutePressure // around the tip
}

// HoldOnResult is a pop-back estimate. It may only make advice stricter: it never calls a flow safe and never overrides the
// smallest flow that the torch's maker gives.
type HoldOnResult struct {
	// Margin is the smaller of VelocityRatio and GradientRatio, with a band of one order of magnitude. Below 1 the flame is
	// expected to walk back into the tip.
	Margin        units.Band
	VelocityRatio float64 // mean exit velocity over burning velocity (mean of the models)
	GradientRatio float64 // WallGradient over FlashbackGradient
	// WallGradient is the velocity gradient of the gas at the wall of the hole, FlashbackGradient that below which a flame is
	// thought to creep back along the wall; both 1/s.
	WallGradient, FlashbackGradient float64
	BurningVelocity                 units.Band
	Advice                          HoldOnAdvice
	Source                          string
	FromMemory                      bool // always true: the flash-back gradient has no source that was read
}

// HoldOnAdvice is what a pop-back estimate adds to the advice on a flow.
type HoldOnAdvice string

// Advice from a pop-back estimate. There is none that permits.
const (
	// NothingToAdd means that the estimate finds no reason for more flow. It is no permission.
	NothingToAdd HoldOnAdvice = ""
	// MayPopBack means that the low end of the band is below 1.
	MayPopBack HoldOnAdvice = "may_pop_back"
	// ExpectPopBack means that the estimate itself is below 1.
	ExpectPopBack HoldOnAdvice = "expect_pop_back"
)

const (
	// acetyleneFlashbackGradient in 1/s is burning velocity over quenching distance of acetylene with oxygen, an order of
	// magnitude; from memory, not measured.
	acetyleneFlashbackGradient = 1e5
	holdOnSource               = "pop-back estimate from exit velocity over burning velocity and wall velocity gradient over flash-back gradient " +
		"(acetylene with oxygen 1e5 1/s, other fuels by the square of burning velocity); order of magnitude, from memory"
)

// halfOrder spans one order of magnitude from Low to High, in equal factors to either side. It also holds the spread between
// models and remembered measurements of burning velocity, a factor of 2.2 for acetylene.
var halfOrder = math.Sqrt(10)

// HoldOn estimates how far the flow at a tip is from the flame popping back. The wall gradient is f u²/(8ν), from the Darcy
// friction factor of a smooth hole, laminar to turbulent. The flash-back gradient of a fuel other than acetylene is scaled by
// the square of its largest burning velocity, because the quenching distance falls as the burning velocity grows. A ratio
// outside the flame models takes the nearest modelled ratio: burning slows on both sides of the models, so that this is the
// stricter choice (within a few percent next to the models' ends).
//
// Errors: *gas.RangeError for a value outside its limits; ErrNoBurningVelocity for a fuel without data.
func HoldOn(in HoldOnInput) (HoldOnResult, error) {
	b, ok := burnings[in.Fuel]
	if !ok {
		return HoldOnResult{}, fmt.Errorf(words.T("pop-back estimate: %w for %q with oxygen"), ErrNoBurningVelocity, string(in.Fuel))
	}
	if err := in.check(); err != nil {
		return HoldOnResult{}, fmt.Errorf("pop-back estimate: %w", err)
	}
	velocity := b.at(in.Ratio)
	limits := in.limits(b)
	r := HoldOnResult{
		WallGradient:      limits.wallGradient(float64(in.ExitVelocity)),
		FlashbackGradient: limits.gradient,
		BurningVelocity:   velocity,
		Source:            holdOnSource,
		FromMemory:        true,
	}
	r.VelocityRatio, r.GradientRatio = float64(in.ExitVelocity)/limits.velocity, r.WallGradient/limits.gradient
	margin := min(r.VelocityRatio, r.GradientRatio)
	r.Margin = units.Band{Value: margin, Low: margin / halfOrder, High: margin * halfOrder, Reason: "order of magnitude only"}
	r.Advice = adviceFor(r.Margin)
	return r, nil
}

// holdOnLimits is what the exit velocity is held against: everything of the estimate that does not change with it.
type holdOnLimits struct {
	velocity, gradient float64 // burning velocity in m/s, flash-back gradient in 1/s
	diameter, nu       float64 // of the hole in m; kinematic viscosity in m²/s
}

func (in HoldOnInput) limits(b burning) holdOnLimits {
	speedUp := b.peak() / burnings[gas.Acetylene].peak()
	return holdOnLimits{b.at(in.Ratio).Value, acetyleneFlashbackGradient * speedUp * speedUp, float64(in.Diameter), in.kinematicViscosity()}
}

// margin is the smaller of the two ratios at an exit velocity in m/s.
func (l holdOnLimits) margin(u float64) float64 {
	return min(u/l.velocity, l.wallGradient(u)/l.gradient)
}

// wallGradient is f u²/(8ν) in 1/s. Zero velocity has none.
func (l holdOnLimits) wallGradient(u float64) float64 {
	if u <= 0 {
		return 0
	}
	return flow.FrictionFactor(u*l.diameter/l.nu, 0) * u * u / (8 * l.nu)
}

func adviceFor(margin units.Band) HoldOnAdvice {
	switch {
	case margin.Value < 1:
		return ExpectPopBack
	case margin.Low < 1:
		return MayPopBack
	}
	return NothingToAdd
}

// kinematicViscosity of the premixed gas in m²/s, as an ideal gas: its density is within 1 % here, the estimate within ten times.
func (in HoldOnInput) kinematicViscosity() float64 {
	mixture := gas.Mixture{in.Fuel: 1 / (1 + in.Ratio), gas.Oxygen: in.Ratio / (1 + in.Ratio)}
	density := float64(in.Ambient) * mixture.MolarMass() / (gas.R * float64(in.Temperature))
	return mixture.Viscosity(in.Temperature) / density
}

// Limits of HoldOn besides those of flow.Orifice.
const (
	maxRatio           = 20.0  // torch oxygen to fuel: no flame of these fuels burns leaner
	maxExitVelocity    = 1500  // m/s: above the velocity of sound in pure hydrogen
	minAmbient         = 50e3  // Pa: air pressure at 5500 m
	maxAmbient         = 120e3 // Pa: above any barometer
	holdOnRatioWhy     = "volumes of torch oxygen to one of fuel; leaner than 20 none of these fuels burns"
	holdOnVelocityWhy  = "mean velocity over the hole; no gas here leaves a plain hole faster than its velocity of sound"
	holdOnAmbientWhy   = "air pressure around the tip, absolute"
	holdOnDiameterWhy  = "a hole has a diameter, and tips are drilled within these sizes"
	holdOnTemperateWhy = "gas at a torch is near the temperature of the room; the gas data are checked there"
)

func (in HoldOnInput) check() error {
	checks := []error{
		gas.InRange("oxidizer_fuel_ratio", in.Ratio, 0, maxRatio, "", holdOnRatioWhy),
		gas.InRange("diameter_m", float64(in.Diameter), float64(flow.MinOrificeDiameter), float64(flow.MaxOrificeDiameter), "m", holdOnDiameterWhy),
		gas.InRange("exit_velocity_m_s", float64(in.ExitVelocity), 0, maxExitVelocity, "m/s", holdOnVelocityWhy),
		gas.InRange("temperature_k", float64(in.Temperature), float64(flow.MinTemperature), float64(flow.MaxTemperature), "K", holdOnTemperateWhy),
		gas.InRange("ambient_abs_pa", float64(in.Ambient), minAmbient, maxAmbient, "Pa", holdOnAmbientWhy),
	}
	for _, err := range checks {
		if err != nil {
			return err
		}
	}
	return nil
}
