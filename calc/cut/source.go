package cut

import "math"

// A moving line source of heat through a plate (Rosenthal, 1946) has at distance r and angle φ ahead of it the temperature rise
// q/(2πk t) exp(−u cos φ) K0(u), u = v r/2α. The isotherm is widest where cos φ = −K0(u)/K1(u).

// besselK returns the modified Bessel functions K0 and K1 of x > 0 by ∫ exp(−x cosh s) cosh(n s) ds from 0 on. The trapezoid rule is
// exact to rounding here, because the integrand falls off doubly exponentially.
func besselK(x float64) (k0, k1 float64) {
	step := 0.25 / math.Sqrt(1+x/8) // the larger x, the narrower the bell
	k0, k1 = math.Exp(-x)/2, math.Exp(-x)/2
	for s := step; ; s += step {
		c := math.Cosh(s)
		term := math.Exp(-x * c)
		k0, k1 = k0+term, k1+term*c
		if x*(c-1) > 40 {
			return k0 * step, k1 * step
		}
	}
}

// isotherm returns for u the width of the widest place as Y = v w/α and the power as X = q/(k t ΔT).
func isotherm(u float64) (width, power float64) {
	k0, k1 := besselK(u)
	c := k0 / k1
	return 4 * u * math.Sqrt(1-c*c), 2 * math.Pi * math.Exp(-u*c) / k0
}

// losses returns how many times the heat content of a kerf of width Y = v w/α must be given so that its walls reach the temperature of
// its inside: X/Y. It falls with Y to √(πe/2) = 2.066. Halving in log u from 1e-6 to 300 covers Y from 4e-6 to 69; beyond, the end value holds, which
// is within 0.1 % of the limit.
func losses(width float64) float64 {
	w, p := isotherm(halve(func(w, _ float64) bool { return w < width }))
	return p / w
}

// widthLosing is the width Y at which losses are l; without end for an l that no width goes down to.
func widthLosing(l float64) float64 {
	w, p := isotherm(halve(func(w, p float64) bool { return p/w > l }))
	if p/w > l*(1+1e-6) {
		return math.Inf(1)
	}
	return w
}

// halve returns the u up to which low holds for width and power of the isotherm.
func halve(low func(width, power float64) bool) float64 {
	a, b := math.Log(1e-6), math.Log(300)
	for range 40 {
		if middle := (a + b) / 2; low(isotherm(math.Exp(middle))) {
			a = middle
		} else {
			b = middle
		}
	}
	return math.Exp(a)
}
