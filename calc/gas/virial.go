package gas

import "math"

// virial is a gas whose density is found from its second virial coefficient alone: Z = 1 + B p/(R T).
type virial func(t float64) float64 // B in m³/mol at t in K

// molarDensity returns the density in mol/m³.
func (b virial) molarDensity(p, t float64) float64 {
	return p / (R*t + b(t)*p)
}

// acetyleneB is the second virial coefficient of acetylene, -216 - 375 x - 716 x² cm³/mol with x = 298.15 K/T - 1.
// Source: CRC Handbook of Chemistry and Physics, section 6, table of virial coefficients. Other estimates of B put the density
// 0.3 % per bar of absolute pressure lower.
func acetyleneB(t float64) float64 {
	x := 298.15/t - 1
	return (-216 - 375*x - 716*x*x) * 1e-6
}

// critical is a critical point and acentric factor.
type critical struct{ temperature, pressure, acentric float64 } // K, Pa, -

// Critical constants of the two C3H4 isomers: ChemSep pure component database (open, 2018).
var (
	methylacetyleneCritical = critical{402.4, 5.63e6, 0.214}
	propadieneCritical      = critical{394.0, 5.25e6, 0.122}
)

// secondVirial is the correlation of Tsonopoulos, AIChE J. 20 (1974) 263, without its polar terms, in m³/mol. The digits are from
// memory and were checked against an independent evaluation for acetylene (column alt_density_kg_m3 of gas_properties.csv).
func (c critical) secondVirial(t float64) float64 {
	tr := t / c.temperature
	f0 := 0.1445 - 0.330/tr - 0.1385/(tr*tr) - 0.0121/math.Pow(tr, 3) - 0.000607/math.Pow(tr, 8)
	f1 := 0.0637 + 0.331/(tr*tr) - 0.423/math.Pow(tr, 3) - 0.008/math.Pow(tr, 8)
	return R * c.temperature / c.pressure * (f0 + c.acentric*f1)
}
