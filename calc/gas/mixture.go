package gas

import (
	"fmt"
	"math"
	"slices"

	"torchside/calc/units"
	"torchside/calc/words"
)

// Mixture is a gas mixture by mole fraction. Its methods assume that Check has passed.
type Mixture map[Gas]float64

// FractionTolerance is how far the fractions of a Mixture may sum away from 1: rounding of seven typed digits.
const FractionTolerance = 1e-6

// Pure returns g as a Mixture.
func Pure(g Gas) Mixture { return Mixture{g: 1} }

// Check returns an error naming the part that is wrong: an unknown gas (ErrUnknown), a fraction below 0, above 1 or not a
// number, or a sum that is not 1 ± FractionTolerance (ErrMixture).
func (m Mixture) Check() error {
	for _, g := range m.parts() {
		if !g.Known() {
			return fmt.Errorf(words.T("%w %q: known are %s"), ErrUnknown, string(g), list())
		}
		if x := m[g]; !(x >= 0 && x <= 1+FractionTolerance) {
			return fmt.Errorf(words.T("%w: fraction of %s is %g, allowed is 0 to 1"), ErrMixture, g, x)
		}
	}
	if sum := m.mean(func(Gas) float64 { return 1 }); math.Abs(sum-1) > FractionTolerance {
		return fmt.Errorf(words.T("%w: the fractions sum to %.7g, allowed is 1 ± %g"), ErrMixture, sum, FractionTolerance)
	}
	return nil
}

// parts returns the gases of m in a fixed order, so that sums and messages are the same on every run.
func (m Mixture) parts() []Gas {
	parts := make([]Gas, 0, len(m))
	for g := range m {
		parts = append(parts, g)
	}
	slices.Sort(parts)
	return parts
}

// mean returns the mole-average of a property.
func (m Mixture) mean(property func(Gas) float64) float64 {
	sum := 0.0
	for _, g := range m.parts() {
		sum += m[g] * property(g)
	}
	return sum
}

// String lists the parts in alphabetical order: "acetylene 0.5, oxygen 0.5".
func (m Mixture) String() string {
	parts := m.parts()
	texts := make([]string, len(parts))
	for i, g := range parts {
		texts[i] = fmt.Sprintf("%s %g", g, m[g])
	}
	return words.Join(texts, ", ")
}

// MolarMass returns the mole-average molar mass in kg/mol.
func (m Mixture) MolarMass() float64 { return m.mean(Gas.MolarMass) }

// MolarHeatCapacity returns the mole-average ideal-gas heat capacity cp0 in J/(mol K) at t.
func (m Mixture) MolarHeatCapacity(t units.Temperature) float64 {
	return m.mean(func(g Gas) float64 { return g.MolarHeatCapacity(t) })
}

// HeatCapacityRatio returns the ideal-gas ratio cp/cv of the mixture at t.
func (m Mixture) HeatCapacityRatio(t units.Temperature) float64 {
	cp := m.MolarHeatCapacity(t)
	return cp / (cp - R)
}

// StandardDensity returns the real density at 15 °C and 101.325 kPa: the molar volumes of the parts add up (Amagat), so that
// the standard volume of a mixture is the sum of those of its parts.
func (m Mixture) StandardDensity() units.Density { return m.atAtmosphere(Gas.StandardDensity) }

// USStandardDensity is StandardDensity at 70 °F.
func (m Mixture) USStandardDensity() units.Density { return m.atAtmosphere(Gas.USStandardDensity) }

// atAtmosphere adds up the molar volumes of the parts at a tabulated state.
func (m Mixture) atAtmosphere(density func(Gas) units.Density) units.Density {
	volume := m.mean(func(g Gas) float64 { return g.MolarMass() / float64(density(g)) })
	return units.Density(m.MolarMass() / volume)
}

// Viscosity returns the dynamic viscosity in Pa s at low pressure by the rule of Wilke, J. Chem. Phys. 18 (1950) 517,
// which is good to about 2 % (and to about 10 % with hydrogen).
func (m Mixture) Viscosity(t units.Temperature) float64 {
	sum := 0.0
	for _, i := range m.parts() {
		if m[i] > 0 {
			sum += m[i] * i.Viscosity(t) / m.mean(func(j Gas) float64 { return wilke(i, j, t) })
		}
	}
	return sum
}

// wilke is the factor φij of Wilke's rule.
func wilke(i, j Gas, t units.Temperature) float64 {
	viscosities, masses := i.Viscosity(t)/j.Viscosity(t), i.MolarMass()/j.MolarMass()
	a := 1 + math.Sqrt(viscosities)*math.Pow(1/masses, 0.25)
	return a * a / math.Sqrt(8*(1+masses))
}
