package gas

import (
	"math"

	"torchside/calc/units"
)

// perry are the coefficients of η = C1 T^C2 / (1 + C3/T + C4/T²) in Pa s for a gas at low pressure.
// Source: Perry's Chemical Engineers' Handbook, 8th edition, table 2-312.
type perry struct{ c1, c2, c3, c4 float64 }

// Propadiene has no row: it is estimated with the coefficients of methylacetylene, its isomer of nearly the same critical
// point. Treat it as ±5 %.
var perryTable = map[Gas]perry{
	Oxygen:          {1.101e-06, 0.5634, 96.3, 0},
	Acetylene:       {1.2025e-06, 0.4952, 291.4, 0},
	Propane:         {4.9054e-08, 0.90125, 0, 0},
	Propylene:       {7.3919e-07, 0.5423, 263.73, 0},
	Methylacetylene: {1.163e-06, 0.4787, 316, 0},
	Propadiene:      {1.163e-06, 0.4787, 316, 0},
	Methane:         {5.2546e-07, 0.59006, 105.67, 0},
	Hydrogen:        {1.797e-07, 0.685, -0.59, 140},
}

// lennardJones are the size σ in nm and the energy ε/k in K of a molecule.
// Source: Lemmon and Jacobsen, Int. J. Thermophys. 25 (2004), table I.
type lennardJones struct{ size, energy float64 }

var lennardJonesTable = map[Gas]lennardJones{
	Nitrogen: {0.3656, 98.94},
	Argon:    {0.335, 143.2},
	Air:      {0.360, 103.3},
}

// collision are the coefficients of ln Ω in powers of ln(kT/ε), Lemmon and Jacobsen 2004, equation (3) and table II.
var collision = []float64{0.431, -0.4623, 0.08406, 0.005341, -0.00331}

// Viscosity returns the dynamic viscosity in Pa s at low pressure. Up to 5 bar pressure changes it by less than 1 %.
func (g Gas) Viscosity(t units.Temperature) float64 {
	T := float64(t)
	if lj, ok := lennardJonesTable[g]; ok {
		return lj.viscosity(T, g.MolarMass())
	}
	c := perryTable[g]
	return c.c1 * math.Pow(T, c.c2) / (1 + c.c3/T + c.c4/(T*T))
}

// viscosity is the dilute-gas viscosity in Pa s of Lemmon and Jacobsen 2004, equation (2): 0.0266958 √(M T)/(σ² Ω) in µPa s
// with M in g/mol.
func (lj lennardJones) viscosity(t, molarMass float64) float64 {
	x := math.Log(t / lj.energy)
	lnOmega := 0.0
	for i := len(collision) - 1; i >= 0; i-- {
		lnOmega = lnOmega*x + collision[i]
	}
	return 1e-6 * 0.0266958 * math.Sqrt(molarMass*1000*t) / (lj.size * lj.size * math.Exp(lnOmega))
}
