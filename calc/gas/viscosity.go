package gas

import (
	"math"

	"torchside/calc/units"
)

// perry are the coefficients of η = C1 T^C2 / (1 + C3/T + C4/T²) in Pa s for a gas at low pressure.
// Source: Perry's Chemical Engineers' Handbook, 8th edition, table 2-312.
type perry struct{ c1, c2, c3, c4 float64 }

// Propadiene has no row there; its coefficients are those of the ChemSep pure component database (open, 2018), unchecked by a
// second source.
var perryTable = map[Gas]perry{
	Oxygen:          {1.101e-06, 0.5634, 96.3, 0},
	Acetylene:       {1.2025e-06, 0.4952, 291.4, 0},
	Propylene:       {7.3919e-07, 0.5423, 263.73, 0},
	Methylacetylene: {1.163e-06, 0.4787, 316, 0},
	Propadiene:      {6.3119e-07, 0.52792, 129.92, 8459.5},
	Methane:         {5.2546e-07, 0.59006, 105.67, 0},
	Hydrogen:        {1.797e-07, 0.685, -0.59, 140},
}

// lennardJones is a dilute-gas viscosity by kinetic theory: η = factor √(M T)/(σ² Ω) in µPa s with M in g/mol, σ in nm, and
// ln Ω a polynomial in ln(T/energy).
type lennardJones struct {
	size, energy float64 // σ in nm, ε/k in K
	factor       float64
	collision    []float64
}

// collision is ln Ω of Lemmon and Jacobsen, Int. J. Thermophys. 25 (2004) 21, table II, with the factor of their equation (2).
var collision = []float64{0.431, -0.4623, 0.08406, 0.005341, -0.00331}

const collisionFactor = 0.0266958

// Sizes and energies: Lemmon and Jacobsen 2004, table I; propane: Vogel, Küchenmeister, Bich and Laesecke, J. Phys. Chem. Ref.
// Data 27 (1998) 947. (Perry's coefficients for propane lie up to 4 % above it.)
var lennardJonesTable = map[Gas]lennardJones{
	Nitrogen: {0.3656, 98.94, collisionFactor, collision},
	Argon:    {0.335, 143.2, collisionFactor, collision},
	Air:      {0.360, 103.3, collisionFactor, collision},
	Propane:  {0.49748, 263.88, 0.021357, []float64{0.25104574, -0.47271238, 0, 0.060836515}},
}

// Viscosity returns the dynamic viscosity in Pa s at low pressure; 0 for an unknown gas. Up to 10 bar pressure changes it by
// less than 1 %. It is meant for the temperatures Density allows, and is not checked beyond.
func (g Gas) Viscosity(t units.Temperature) float64 {
	T := float64(t)
	if lj, ok := lennardJonesTable[g]; ok {
		return lj.viscosity(T, g.MolarMass())
	}
	c := perryTable[g]
	return c.c1 * math.Pow(T, c.c2) / (1 + c.c3/T + c.c4/(T*T))
}

// viscosity returns Pa s at t in K for a molar mass in kg/mol.
func (lj lennardJones) viscosity(t, molarMass float64) float64 {
	x, lnOmega := math.Log(t/lj.energy), 0.0
	for i := len(lj.collision) - 1; i >= 0; i-- {
		lnOmega = lnOmega*x + lj.collision[i]
	}
	return 1e-6 * lj.factor * math.Sqrt(molarMass*1000*t) / (lj.size * lj.size * math.Exp(lnOmega))
}
