package flow

import "math"

// The transition between laminar and turbulent flow. Between the two Reynolds numbers the true friction factor may lie
// anywhere between the laminar and the turbulent one, about 40 % apart.
const (
	// LaminarReynolds is where a smooth pipe first sustains turbulence: Avila et al., Science 333 (2011), Re = 2040.
	LaminarReynolds = 2040
	// TurbulentReynolds is where the Moody chart's turbulent curves begin (Moody 1944).
	TurbulentReynolds = 4000
)

// FrictionFactor returns the Darcy friction factor of a pipe for a Reynolds number and a wall roughness relative to the inside
// diameter. Below LaminarReynolds it is 64/Re (Hagen–Poiseuille), above TurbulentReynolds the Colebrook equation (1939); in
// between a straight line in log Re joins the two ends, so that it never jumps and a pressure drop, which goes with f Re²,
// always grows with the flow. Both arguments are taken as not negative; at Re = 0 it is +Inf.
func FrictionFactor(re, relativeRoughness float64) float64 {
	switch {
	case re <= LaminarReynolds:
		return 64 / re
	case re >= TurbulentReynolds:
		return colebrook(re, relativeRoughness)
	}
	laminar, turbulent := 64.0/LaminarReynolds, colebrook(TurbulentReynolds, relativeRoughness)
	share := math.Log(re/LaminarReynolds) / math.Log(float64(TurbulentReynolds)/LaminarReynolds)
	return laminar + share*(turbulent-laminar)
}

// colebrookSteps of Newton's method from Haaland's start settle x = 1/√f to machine precision: the start is within 1.5 %, and
// the error is squared with a small factor at each step.
const colebrookSteps = 3

// colebrook solves x = −2 log10(ε/3.7 + 2.51 x/Re), x = 1/√f. Source: Colebrook, J. Inst. Civ. Eng. 11 (1939); start: Haaland,
// J. Fluids Eng. 105 (1983).
func colebrook(re, roughness float64) float64 {
	rough, smooth := roughness/3.7, 2.51/re
	x := -1.8 * math.Log10(math.Pow(rough, 1.11)+6.9/re)
	for range colebrookSteps {
		inside := rough + smooth*x
		miss := x + 2/math.Ln10*math.Log(inside)
		slope := 1 + 2/math.Ln10*smooth/inside
		x -= miss / slope
	}
	return 1 / (x * x)
}
