package flame

import (
	"fmt"
	"math"
	"slices"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Reactants is what burns: fuel and oxidizer, mixed and at one temperature, as ideal gases.
type Reactants struct {
	Fuel gas.Mixture // mole fractions of fuels alone
	// Oxidizer is gas.Oxygen or gas.Air. Dry air is N2 0.78084, O2 0.209476, Ar 0.009365 and CO2 0.000319 by mole.
	Oxidizer    gas.Gas
	Ratio       float64 // mol of O2 to one mol of fuel, also with air
	Purity      float64 // mole fraction of O2 in oxygen, the rest argon; with air 1
	Temperature units.Temperature
	Pressure    units.AbsolutePressure
	Graphite    bool // whether soot may form, as graphite
}

// dryAir is the air of the reference tables, record Air of thermo.inp of NASA CEA.
var dryAir = []struct {
	species  int
	fraction float64
}{{gasN2, 0.78084}, {gasO2, airOxygen}, {gasAr, 0.009365}, {gasCO2, 0.000319}}

// airOxygen is the mole fraction of oxygen in dryAir.
const airOxygen = 0.209476

// fuelProducts are the fuels as gases of the tables.
var fuelProducts = map[gas.Gas]int{
	gas.Acetylene: gasC2H2, gas.Propane: gasC3H8, gas.Propylene: gasC3H6, gas.Methylacetylene: gasC3H4propyne,
	gas.Propadiene: gasC3H4allene, gas.Methane: gasCH4, gas.Hydrogen: gasH2,
}

// Limits of Reactants. Within them every flame converges (TestSolve_converges_at_the_limits).
const (
	minFlameRatio       = 0.01 // mol O2 per mol fuel
	maxFlameRatio       = 100
	minPurity           = 0.2    // mole fraction of O2
	minReactant         = 220.0  // K
	maxReactant         = 400.0  // K
	minFlamePressure    = 10e3   // Pa
	maxFlamePressure    = 1000e3 // Pa
	ratioWhy            = "mol of O2 to one mol of fuel; outside these no fuel here makes a flame"
	purityWhy           = "share of O2 in the oxygen; leaner than air it is no oxygen"
	airPurityWhy        = "air has a composition of its own; purity is for oxygen"
	reactantWhy         = "gas before burning is near the temperature of the room; the gas data begin at 200 K"
	flamePressureWhy    = "absolute pressure around the flame; an open flame burns at the pressure of the air"
	oneOfTheseOxidizers = "oxygen and air"
)

func checkRatio(ratio float64) error {
	return gas.InRange("oxidizer_fuel_ratio", ratio, minFlameRatio, maxFlameRatio, "", ratioWhy)
}

// check refuses what is no fuel, no oxidizer or outside the limits.
func (r *Reactants) check() error {
	if err := checkFuel(r.Fuel); err != nil {
		return err
	}
	lowest, why := minPurity, purityWhy
	switch r.Oxidizer {
	case gas.Oxygen:
	case gas.Air:
		lowest, why = 1, airPurityWhy
	default:
		return fmt.Errorf(words.T("%w: %q is no oxidizer, oxidizers are %s"), gas.ErrUnknown, string(r.Oxidizer), oneOfTheseOxidizers)
	}
	checks := []error{
		gas.InRange("oxygen_purity", r.Purity, lowest, 1, "", why),
		gas.InRange("temperature_k", float64(r.Temperature), minReactant, maxReactant, "K", reactantWhy),
		gas.InRange("abs_pressure_pa", float64(r.Pressure), minFlamePressure, maxFlamePressure, "Pa", flamePressureWhy),
	}
	for _, err := range checks {
		if err != nil {
			return err
		}
	}
	return nil
}

// checkFuel refuses a mixture that does not sum to 1 or holds anything but fuels.
func checkFuel(fuel gas.Mixture) error {
	if err := fuel.Check(); err != nil {
		return fmt.Errorf("fuel: %w", err)
	}
	for g := range fuel {
		if !g.IsFuel() {
			return fmt.Errorf(words.T("%w: %q is no fuel, fuels are %v"), gas.ErrUnknown, string(g), gas.Fuels())
		}
	}
	return nil
}

// stream is atoms in mol and enthalpy over R in K of an amount of gas.
type stream struct {
	atoms    composition
	enthalpy float64
}

// add adds an amount in mol of a product at a temperature in K.
func (s *stream) add(species int, moles float64, b *basis, polynomials *[gasCount]polynomial, t float64) {
	for i, count := range products[species].atoms {
		s.atoms[i] += moles * count
	}
	s.enthalpy += moles * t * polynomials[species].dot(&b.enthalpy)
}

// blend is the stream of parts, each a product and an amount.
func (r *Reactants) blend(parts []part) stream {
	t := float64(r.Temperature)
	var b basis
	var which ranges
	b.set(t, math.Log(t))
	which.set(t)
	var s stream
	for _, p := range parts {
		s.add(p.species, p.moles, &b, which.gases, t)
	}
	return s
}

// part is an amount in mol of a product.
type part struct {
	species int
	moles   float64
}

// fuelStream is one mol of fuel, its parts in a fixed order so that sums are the same on every run.
func (r *Reactants) fuelStream() stream {
	var parts []part
	sum := 0.0
	for _, g := range gas.Fuels() {
		parts = append(parts, part{fuelProducts[g], r.Fuel[g]})
		sum += r.Fuel[g]
	}
	for i := range parts {
		parts[i].moles /= sum
	}
	return r.blend(slices.DeleteFunc(parts, func(p part) bool { return p.moles == 0 }))
}

// oxidizerStream is the oxidizer that holds one mol of O2.
func (r *Reactants) oxidizerStream() stream {
	if r.Oxidizer == gas.Oxygen {
		return r.blend([]part{{gasO2, 1}, {gasAr, 1/min(r.Purity, 1) - 1}})
	}
	var parts []part
	for _, p := range dryAir {
		parts = append(parts, part{p.species, p.fraction / airOxygen})
	}
	return r.blend(parts)
}
