package gas

import (
	"fmt"

	"torchside/calc/units"
	"torchside/calc/words"
)

// Limits of Density. The temperatures are those a shop and its cylinders see; the equations were checked against reference
// data over just this range.
const (
	TemperatureMinimum units.Temperature = 253.15 // -20 °C
	TemperatureMaximum units.Temperature = 323.15 // 50 °C
	// CompressedMaximum is 300 bar: the highest fill pressure of welding gas cylinders and the end of the reference data.
	CompressedMaximum units.AbsolutePressure = 30e6
	// TorchMaximum is 5 bar: above any pressure downstream of a fuel regulator, and the end of the virial equation.
	TorchMaximum units.AbsolutePressure = 5e5
	// compressedHeadroom lets a gauge pressure of CompressedMaximum be asked at any barometer.
	compressedHeadroom units.AbsolutePressure = 1.2e5
)

const (
	whyTemperature = "gas data were checked from -20 to 50 °C (-4 to 122 °F), the range a cylinder in use sees; no cylinder may be warmer"
	whyCompressed  = "gas data were checked from vacuum to 300 bar (4350 psi), the highest fill of a welding gas cylinder"
)

// equation is any equation of state that gives a density in mol/m³ at p in Pa and t in K.
type equation interface {
	molarDensity(p, t float64) float64
}

var equations = map[Gas]equation{
	Oxygen:          &referenceOxygen,
	Nitrogen:        &gergNitrogen,
	Argon:           &gergArgon,
	Air:             &gergAir,
	Methane:         &gergMethane,
	Hydrogen:        &gergHydrogen,
	Propane:         &gergPropane,
	Propylene:       &referencePropylene,
	Acetylene:       virial(acetyleneB),
	Methylacetylene: virial(methylacetyleneCritical.secondVirial),
	Propadiene:      virial(propadieneCritical.secondVirial),
}

// Density returns the real density at p and t. It is within 0.1 % of the reference for oxygen, 0.5 % for nitrogen, argon,
// air, methane and hydrogen from vacuum to 300 bar (4350 psi), and 0.3 % per bar for acetylene and the liquefied fuels up to 5 bar absolute, below
// the pressure at which they condense. Outside it returns a *RangeError; for an unknown gas an error wrapping ErrUnknown.
func (g Gas) Density(p units.AbsolutePressure, t units.Temperature) (units.Density, error) {
	if !g.Known() {
		return 0, fmt.Errorf(words.T("%w %q: known are %s"), ErrUnknown, string(g), list())
	}
	if err := InRange("temperature_k", float64(t), float64(TemperatureMinimum), float64(TemperatureMaximum), "K", whyTemperature); err != nil {
		return 0, err
	}
	high, why := g.pressureLimit(t)
	if err := InRange("abs_pressure_pa", float64(p), 0, float64(high), "Pa", why); err != nil {
		return 0, err
	}
	return g.density(p, t), nil
}

// density is Density without its checks.
func (g Gas) density(p units.AbsolutePressure, t units.Temperature) units.Density {
	if p <= 0 { // vacuum, or the last bit below it
		return 0
	}
	return units.Density(equations[g].molarDensity(float64(p), float64(t)) * g.MolarMass())
}

// pressureLimit returns the highest absolute pressure Density answers at t, and why.
func (g Gas) pressureLimit(t units.Temperature) (units.AbsolutePressure, string) {
	switch g.Storage() {
	case StoredDissolved:
		return TorchMaximum, "above that acetylene exists only dissolved in a cylinder, whose contents are found by weighing"
	case StoredLiquefied:
		if saturated := g.Saturation(t); saturated < TorchMaximum {
			return saturated, words.F("at %.0f °C %s condenses there; the contents of a liquefied gas are found by weighing", float64(t)-zeroCelsius, g.Name())
		}
		return TorchMaximum, words.S("above that %s is found only in its cylinder, whose contents are found by weighing", g.Name())
	}
	return CompressedMaximum + compressedHeadroom, whyCompressed
}

// Saturation returns the pressure at which a liquefied fuel condenses at t, and 0 for the gases that do not. Propane and
// propylene are within 0.1 % of reference data; methylacetylene and
// propadiene follow a general data base, good to a few per cent.
func (g Gas) Saturation(t units.Temperature) units.AbsolutePressure {
	if p, ok := saturations[g]; ok {
		return units.AbsolutePressure(p(float64(t)))
	}
	return 0
}

// StandardDensity returns the real density at 15 °C and 101.325 kPa, the state of every units.StandardVolume.
func (g Gas) StandardDensity() units.Density { return standardDensities[g] }

// USStandardDensity returns the real density at 70 °F and 101.325 kPa, the state of US figures in ft³.
func (g Gas) USStandardDensity() units.Density { return usStandardDensities[g] }

var (
	standardDensities   = densitiesAt(units.StandardTemperature)
	usStandardDensities = densitiesAt(units.USStandardTemperature)
)

// densitiesAt tabulates the density of all gases at one atmosphere.
func densitiesAt(t units.Temperature) map[Gas]units.Density {
	table := make(map[Gas]units.Density, len(order))
	for _, g := range order {
		table[g] = g.density(units.StandardAtmosphere, t)
	}
	return table
}

// StandardRatio returns the step between a standard volume at 15 °C and the same gas at 70 °F, for units in ft³.
func (g Gas) StandardRatio() units.StandardRatio {
	if !g.Known() {
		return 0
	}
	return units.StandardRatio(g.USStandardDensity() / g.StandardDensity())
}
