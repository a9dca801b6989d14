package gas

import "math"

// vapourPressure is ln(p/pc) = Tc/T Σ nᵢ (1-T/Tc)^tᵢ.
type vapourPressure struct {
	temperature, pressure float64 // critical point, K and Pa
	n, t                  []float64
}

// at returns the saturation pressure in Pa at t in K.
func (v vapourPressure) at(t float64) float64 {
	theta, sum := 1-t/v.temperature, 0.0
	for i, n := range v.n {
		sum += n * math.Pow(theta, v.t[i])
	}
	return v.pressure * math.Exp(v.temperature/t*sum)
}

// propaneSaturation: Lemmon, McLinden and Wagner, J. Chem. Eng. Data 54 (2009) 3141, vapour pressure equation. The digits are from
// memory and were checked against testdata/reference/gas_properties.csv, which they meet within 0.005 %.
var propaneSaturation = vapourPressure{369.89, 4.2512e6,
	[]float64{-6.7722, 1.6938, -1.3341, -3.1876, 0.94937}, []float64{1, 1.5, 2.2, 4.8, 6.2}}

// propyleneSaturation: vapour pressure equation fitted to the same equation of state as referencePropylene, as distributed
// with CoolProp.
var propyleneSaturation = vapourPressure{364.211, 4.555e6,
	[]float64{-6.15754746767542, 0.8043847738472081, -2.629218877933464, -20.055797246021456, 23.93889034404838, -5.927221357425409},
	[]float64{0.985, 1.914, 3.354, 8.871, 9.472, 12.201}}

// dippr is ln p = a + b/T + c ln T + d T², p in Pa and T in K: DIPPR equation 101.
type dippr struct{ a, b, c, d float64 }

// at returns the saturation pressure in Pa at t in K.
func (v dippr) at(t float64) float64 {
	return math.Exp(v.a + v.b/t + v.c*math.Log(t) + v.d*t*t)
}

// Vapour pressures of the two C3H4 isomers: ChemSep pure component database (open, 2018).
var (
	methylacetyleneSaturation = dippr{68.97649, -4285.953, -7.418705, 0.000010515}
	propadieneSaturation      = dippr{59.80183, -3745.303, -6.036523, 8.205156e-06}
)

// saturations gives the saturation pressure in Pa of each liquefied fuel.
var saturations = map[Gas]func(t float64) float64{
	Propane:         propaneSaturation.at,
	Propylene:       propyleneSaturation.at,
	Methylacetylene: methylacetyleneSaturation.at,
	Propadiene:      propadieneSaturation.at,
}
