package flame

import (
	"errors"
	"iter"
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// ErrNoEquilibrium is returned by Solver.At when the iteration reaches its bound. No mixture within the limits of Reactants is
// known to do so.
var ErrNoEquilibrium = errors.New("the flame equilibrium did not converge")

// Equilibrium is what a flame burns to when no heat is lost and nothing else is mixed in: an upper bound of what a real flame
// reaches. All gases are ideal; graphite is the only solid, and water does not condense.
type Equilibrium struct {
	Temperature units.Temperature
	Density     units.Density // of gas and graphite together; the volume of the graphite is left out
	// MolarMass is the mean of gas and graphite in kg/mol, GasMolarMass that of the gas alone.
	MolarMass, GasMolarMass float64
	Iterations              int
	// EnthalpyResidual is how much the products hold more than the reactants, over RT and the moles of products;
	// ElementResidual the largest difference in atoms of one element, over the atoms of it. Both are rounding.
	EnthalpyResidual, ElementResidual float64

	fractions [gasCount + 1]float64 // of products, then of graphite
}

// Fraction returns the mole fraction of a species among gas and graphite together, by its formula as in nasa9.csv ("CO",
// "C(gr)"); 0 for a species that does not occur.
func (e *Equilibrium) Fraction(species string) float64 {
	if species == graphiteName {
		return e.fractions[gasCount]
	}
	for j := range products {
		if products[j].name == species {
			return e.fractions[j]
		}
	}
	return 0
}

// All yields every species with its mole fraction among gas and graphite together, in a fixed order, those that do not occur
// with 0. The fractions sum to 1.
func (e *Equilibrium) All() iter.Seq2[string, float64] {
	return func(yield func(string, float64) bool) {
		for j := range products {
			if !yield(products[j].name, e.fractions[j]) {
				return
			}
		}
		yield(graphiteName, e.fractions[gasCount])
	}
}

// Solve returns the equilibrium of a mixture. It allocates a Solver; keep one for a slider.
//
// Errors: those of NewSolver and Solver.At.
func Solve(r Reactants) (Equilibrium, error) {
	solver, err := NewSolver(r)
	if err != nil {
		return Equilibrium{}, err
	}
	return solver.At(r.Ratio)
}

// Solver finds equilibria of one fuel and oxidizer at any ratio. Every call starts cold: what was solved before has no influence.
// A Solver allocates no memory after NewSolver and must not be used by two goroutines at once.
//
// The method is that of Gordon and McBride, NASA RP-1311 part I (1994): Newton steps for element potentials, temperature and
// moles of gas, with graphite taken in when its activity passes 1. The species are 54 gases of C, H, O, N and Ar and graphite,
// with NASA-9 polynomials (NASA/TP-2002-211556) and a standard pressure of 1 bar; traces below e⁻²⁵ are left out of the steps
// and follow from the potentials.
type Solver struct {
	fuel, oxidizer stream // per mol of fuel; per mol of O2
	state          state
}

// NewSolver prepares a Solver; it does not look at Ratio.
//
// Errors: gas.ErrUnknown and gas.ErrMixture for a fuel or an oxidizer that is none; *gas.RangeError for oxygen_purity,
// temperature_k and abs_pressure_pa outside their limits.
func NewSolver(r Reactants) (*Solver, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	s := &Solver{fuel: r.fuelStream(), oxidizer: r.oxidizerStream()}
	s.state.findCandidates(&s.fuel, &s.oxidizer)
	s.state.pressure = float64(r.Pressure)
	s.state.logP = math.Log(s.state.pressure / standardPressure)
	s.state.graphite = r.Graphite
	return s, nil
}

// standardPressure of the NASA-9 polynomials in Pa.
const standardPressure = 1e5

// At returns the equilibrium at a ratio in mol of O2 to one mol of fuel, also with air.
//
// Errors: *gas.RangeError for a ratio outside its limits, ErrNoEquilibrium.
func (s *Solver) At(ratio float64) (Equilibrium, error) {
	if err := checkRatio(ratio); err != nil {
		return Equilibrium{}, err
	}
	s.state.mix(&s.fuel, &s.oxidizer, ratio)
	if !s.state.run() {
		return Equilibrium{}, ErrNoEquilibrium
	}
	return s.state.result(), nil
}

// findCandidates lists the gases whose elements are all there; the ratio does not change which.
func (s *state) findCandidates(fuel, oxidizer *stream) {
	for j := range products {
		possible := true
		for i, n := range products[j].atoms {
			possible = possible && (n == 0 || fuel.atoms[i]+oxidizer.atoms[i] > 0)
		}
		if possible {
			s.candidates[s.candidateCount] = uint8(j)
			s.candidateCount++
		}
	}
}

// mix sets the mixture.
func (s *state) mix(fuel, oxidizer *stream, ratio float64) {
	s.scarcest = math.Inf(1)
	for i := range s.elements {
		s.elements[i] = fuel.atoms[i] + ratio*oxidizer.atoms[i]
		if s.elements[i] > 0 {
			s.scarcest = min(s.scarcest, s.elements[i])
		}
	}
	s.enthalpy = fuel.enthalpy + ratio*oxidizer.enthalpy
	s.plain = s.elements[nitrogen] == 0 && s.elements[argon] == 0
	s.mayFormGraphite = s.graphite && s.elements[carbon] > 0
}

// logNegligible is the logarithm of a mole fraction that is given as 0: 1e-20.
const logNegligible = -46

// result turns the converged potentials into amounts of all products and checks them; admit has just found their logarithms.
func (s *state) result() Equilibrium {
	e := Equilibrium{Temperature: units.Temperature(s.t), Iterations: s.iterations}
	left, heat, mass, total := s.elements, 0.0, 0.0, 0.0
	for _, j := range s.candidates[:s.candidateCount] {
		if s.logFractions[j] < logNegligible {
			continue
		}
		n := math.Exp(s.logFractions[j] + s.logN)
		p := &products[j]
		e.fractions[j] = n
		total += n
		heat += n * s.ranges.gases[j].dot(&s.basis.enthalpy)
		mass += n * p.mass
		for i := range left {
			left[i] -= n * p.atoms[i]
		}
	}
	e.GasMolarMass = mass / total
	volume := total * gas.R * s.t / s.pressure
	if s.sooty {
		e.fractions[gasCount] = s.soot
		total += s.soot
		heat += s.soot * s.ranges.graphite.dot(&s.basis.enthalpy)
		mass += s.soot * graphiteMass
		left[carbon] -= s.soot
	}
	inverse := 1 / total
	for j := range e.fractions {
		e.fractions[j] *= inverse
	}
	e.MolarMass, e.Density = mass/total, units.Density(mass/volume)
	e.EnthalpyResidual = (heat - s.enthalpy/s.t) / total
	for i, n := range s.elements {
		if n > 0 {
			e.ElementResidual = max(e.ElementResidual, math.Abs(left[i])/n)
		}
	}
	return e
}
