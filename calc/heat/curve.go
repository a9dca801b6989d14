package heat

import "math"

// curves are properties tabulated at every whole °C, so that the solver reads them without work. What the solver conserves is the
// tabulated heat content; each step of it is Simpson's rule on the specific heat, which is smooth between whole degrees.
type curves struct {
	enthalpy     []float64 // J/m³ above the first point
	conductivity []float64 // W/(m K)
	loss         []float64 // W/m² of surface
}

// lowest and highest are the ends of the table, °C. Above the highest the last slope holds.
const lowest, highest = -60, 1600

// stefanBoltzmann in W/(m² K⁴), CODATA 2018, exact to the digits given.
const stefanBoltzmann = 5.670374e-8

// curvesOf tabulates a metal in still air. size is the height of the surface, m.
func curvesOf(p Properties, ambient, size float64) curves {
	const n = highest - lowest + 1
	all := make([]float64, 3*n)
	c := curves{all[:n], all[n : 2*n], all[2*n:]}
	before := p.specificHeat(lowest)
	for i := range n {
		t := float64(lowest + i)
		now := p.specificHeat(t)
		if i > 0 {
			c.enthalpy[i] = c.enthalpy[i-1] + p.Density*(before+4*p.specificHeat(t-0.5)+now)/6
		}
		before = now
		c.conductivity[i] = p.conductivity(t)
		c.loss[i] = surfaceLoss(t+zeroCelsius, ambient, size, p.Emissivity)
	}
	return c
}

// surfaceLoss is heat lost to still air and to surroundings at the same temperature, W/m². Free convection from a horizontal bar:
// h = 1.32 (ΔT/d)^¼, McAdams' short form for air (from memory).
func surfaceLoss(t, ambient, size, emissivity float64) float64 {
	difference := t - ambient
	convection := 1.32 * math.Sqrt(math.Sqrt(math.Abs(difference)/size)) * difference
	return convection + emissivity*stefanBoltzmann*(t*t*t*t-ambient*ambient*ambient*ambient)
}

// place finds the interval of a temperature in K and how far into it it is.
func place(t float64) (int, float64) {
	x := t - zeroCelsius - lowest
	i := min(max(int(x), 0), highest-lowest-1)
	return i, x - float64(i)
}
