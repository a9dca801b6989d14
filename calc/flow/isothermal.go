package flow

import "math"

// pipe is a steady isothermal flow of a gas of constant friction factor. With the mass flux G, its sonic pressure
// s = G √(p1/ρ1) is the pressure at which the gas would move at the isothermal limit √(p/ρ), and
//
//	p1² − p2² = s² (a + 2 ln(p1/p2)),  a = f L/D + ΣK.
//
// Source: Wilkes, Fluid Mechanics for Chemical Engineers, complete isothermal equation; ΣK joins f L/D as in any pipe text.
// Gas can slow down along the pipe no further than s: an outlet below it does not exist.
type pipe struct {
	resistance float64 // a
	sonic      float64 // s, Pa
}

// passes tells whether an inlet pressure drives the flow at all: at the lowest outlet, p2 = s, the balance must not be short.
func (p pipe) passes(inlet float64) bool {
	y := p.sonic / inlet
	return y < 1 && y*y*(1+p.resistance-2*math.Log(y)) <= 1
}

// pipeSteps bounds Newton's method, which settles in under 10 steps but for the slow approach near the choking limit.
const pipeSteps = 60

// outlet returns p2 for an inlet that passes. It solves for the drop of pressure squared over p1², d = 1 − (p2/p1)², in
// d = y² (a − ln(1−d)): small drops keep their digits. The function is concave, so Newton from its lower side never overshoots.
func (p pipe) outlet(inlet float64) float64 {
	y := p.sonic / inlet
	y *= y
	limit := 1 - y // the drop to the sonic pressure
	d := min(y*p.resistance, limit)
	for range pipeSteps {
		miss := y*(p.resistance-math.Log1p(-d)) - d
		slope := y/(1-d) - 1
		next := min(d-miss/slope, limit)
		if !(next-d > 1e-15*d) {
			break
		}
		d = next
	}
	return inlet * math.Sqrt(1-d)
}

// inlet returns p1 for an outlet at or above the sonic pressure, in the rise e = (p1/p2)² − 1: e = z² (a + ln(1+e)). The
// function is convex with slope 1 − z²/(1+e) > 0, so Newton from above settles from one side.
func (p pipe) inlet(outlet float64) float64 {
	z := p.sonic / outlet
	z *= z
	e := z * p.resistance * 2
	for range pipeSteps {
		miss := e - z*(p.resistance+math.Log1p(e))
		slope := 1 - z/(1+e)
		next := max(e-miss/slope, z*p.resistance)
		if math.Abs(next-e) <= 1e-15*e {
			break
		}
		e = next
	}
	return outlet * math.Sqrt(1+e)
}
