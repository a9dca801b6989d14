package heat

import "math"

// solver holds half of a bar, cut at the middle of its zone, in cells: 0 is the middle, the last the free end. All slices are made
// once. Temperatures are in K.
type solver struct {
	curves
	width    []float64 // of a cell along the bar, m
	centre   []float64 // distance from the middle of the zone, m
	surface  []float64 // that loses heat, m²
	source   []float64 // share of the flame's heat
	area     float64   // of the cross section, m²
	zone     int       // cells in the zone
	t        []float64 // now
	before   []float64 // at the start of the step
	rate     []float64 // heat gained at the start of the step, W
	link     []float64 // conductance to the next cell, W/K
	lower    []float64 // the three diagonals of Newton's matrix and its right side
	diagonal []float64
	upper    []float64
	change   []float64

	power float64 // into this half, W
	in    float64 // heat given so far, J
	lost  float64 // heat lost so far, J
}

// grid says how finely the bar is cut.
type grid struct {
	zone   int     // cells in half the zone
	growth float64 // of a cell over its neighbour, outside the zone
}

// usual keeps the error of time below 1 %, a thirtieth of its band; see the test of refinement.
var usual = grid{20, 1.12}

// newSolver cuts a bar with a zone in its middle.
func newSolver(c curves, s section, length, zone float64, g grid) *solver {
	widths := cells(length/2, zone/2, g)
	n := len(widths)
	all := make([]float64, 11*n)
	part := func(i int) []float64 { return all[i*n : (i+1)*n : (i+1)*n] }
	v := &solver{curves: c, width: part(0), centre: part(1), surface: part(2), source: part(3), area: s.area, zone: g.zone, t: part(4),
		before: part(5), rate: part(6), link: part(7), lower: part(8), diagonal: part(9), upper: part(10), change: make([]float64, n)}
	x := 0.0
	for i, w := range widths {
		v.width[i], v.centre[i], v.surface[i] = w, x+w/2, w*s.perimeter
		if i < g.zone {
			v.source[i] = 1 / float64(g.zone)
		}
		x += w
	}
	v.surface[n-1] += s.area
	return v
}

// cells are even in the zone; outside each is a little wider than the one before, and the last takes what is left.
func cells(half, zone float64, g grid) []float64 {
	widths := make([]float64, g.zone, 4*g.zone+64)
	w := zone / float64(g.zone)
	for i := range widths {
		widths[i] = w
	}
	for left := half - zone; left > 1e-9*half; {
		w *= g.growth
		if left < 1.5*w {
			w = left
		}
		widths = append(widths, w)
		left -= w
	}
	return widths
}

// start sets one temperature everywhere and forgets the heat given.
func (v *solver) start(temperature, power float64) {
	for i := range v.t {
		v.t[i] = temperature
	}
	v.power, v.in, v.lost = power, 0, 0
}

// mean is the mean temperature of the zone, whose cells are even.
func (v *solver) mean() float64 {
	sum := 0.0
	for _, t := range v.t[:v.zone] {
		sum += t
	}
	return sum / float64(v.zone)
}

// at reads the temperature at a distance from the middle, linear between the middles of cells.
func (v *solver) at(x float64) float64 {
	for i := 1; i < len(v.t); i++ {
		if x <= v.centre[i] {
			f := max(0, (x-v.centre[i-1])/(v.centre[i]-v.centre[i-1]))
			return v.t[i-1] + f*(v.t[i]-v.t[i-1])
		}
	}
	return v.t[len(v.t)-1]
}

// Newton's iteration ends when no temperature changes by more than this, K. What flows out of a cell flows into the next at every
// iteration, so that the heat balances far closer.
const settled = 1e-3

// step moves on by dt seconds; implicit is the weight of the new state, 1 for backward Euler and 1/2 for Crank and Nicolson. It
// reports false, and changes nothing, when Newton's iteration does not settle.
func (v *solver) step(dt, implicit float64) bool {
	const most = 14
	copy(v.before, v.t)
	v.rates(v.rate)
	for range most {
		v.assemble(dt, implicit)
		if v.solve() < settled {
			v.account(dt, implicit)
			return true
		}
	}
	copy(v.t, v.before)
	return false
}

// links works out the conductance between cells at the temperatures of now.
func (v *solver) links() {
	half := func(i int) float64 {
		j, f := place(v.t[i])
		k := v.conductivity[j] + min(f, 1)*(v.conductivity[j+1]-v.conductivity[j])
		return v.width[i] / (2 * k)
	}
	left := half(0)
	for i := range len(v.t) - 1 {
		right := half(i + 1)
		v.link[i] = v.area / (left + right)
		left = right
	}
}

// rates writes the heat every cell gains now, W.
func (v *solver) rates(into []float64) {
	v.links()
	for i, t := range v.t {
		j, f := place(t)
		into[i] = v.power*v.source[i] - v.surface[i]*(v.loss[j]+f*(v.loss[j+1]-v.loss[j]))
	}
	for i := range len(v.t) - 1 {
		flow := v.link[i] * (v.t[i] - v.t[i+1])
		into[i] -= flow
		into[i+1] += flow
	}
}

// assemble writes Newton's equations for the change of the temperatures.
func (v *solver) assemble(dt, implicit float64) {
	v.links()
	n := len(v.t)
	flow, link := 0.0, 0.0 // from the cell before, and the conductance to it
	for i, t := range v.t {
		j, f := place(t)
		slope := v.loss[j+1] - v.loss[j]
		mass := v.area * v.width[i] / dt
		heat := v.enthalpy[j+1] - v.enthalpy[j]
		next, out := 0.0, 0.0
		if i < n-1 {
			next = v.link[i]
			out = next * (t - v.t[i+1])
		}
		gain := v.power*v.source[i] - v.surface[i]*(v.loss[j]+f*slope) + flow - out
		stored := v.enthalpy[j] + f*heat - v.content(v.before[i])
		v.change[i] = implicit*gain + (1-implicit)*v.rate[i] - mass*stored
		v.lower[i], v.upper[i] = -implicit*link, -implicit*next
		v.diagonal[i] = mass*heat + implicit*(v.surface[i]*slope+link+next)
		flow, link = out, next
	}
}

// content is the heat content at a temperature, J/m³.
func (v *solver) content(t float64) float64 {
	j, f := place(t)
	return v.enthalpy[j] + f*(v.enthalpy[j+1]-v.enthalpy[j])
}

// solve finds the change by elimination (Thomas), applies it and returns the largest.
func (v *solver) solve() float64 {
	n := len(v.t)
	upper, change := v.upper[:n], v.change[:n]
	over := 1 / v.diagonal[0] // one division a row: it is what takes longest
	change[0], upper[0] = change[0]*over, upper[0]*over
	for i := 1; i < n; i++ {
		over = 1 / (v.diagonal[i] - v.lower[i]*upper[i-1])
		upper[i] *= over
		change[i] = (change[i] - v.lower[i]*change[i-1]) * over
	}
	largest, next := 0.0, 0.0
	for i := n - 1; i >= 0; i-- {
		next = change[i] - upper[i]*next
		change[i] = next
		v.t[i] += next
		largest = max(largest, math.Abs(next))
	}
	return largest
}

// account adds the heat given and lost in a step.
func (v *solver) account(dt, implicit float64) {
	v.in += v.power * dt
	for i := range v.t {
		v.lost += dt * v.surface[i] * (implicit*v.lossAt(v.t[i]) + (1-implicit)*v.lossAt(v.before[i]))
	}
}

func (v *solver) lossAt(t float64) float64 {
	j, f := place(t)
	return v.loss[j] + f*(v.loss[j+1]-v.loss[j])
}

// stored is the heat held above a start temperature, J.
func (v *solver) stored(start float64) float64 {
	sum := 0.0
	for i, t := range v.t {
		sum += v.area * v.width[i] * (v.content(t) - v.content(start))
	}
	return sum
}
