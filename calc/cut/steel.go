package cut

import "math"

// steelDensity in kg/m³: EN 1993-1-2.
const steelDensity = 7850

// heatContent is what a kilogram of solid steel takes up from one temperature to another, in J, and conductance the integral of
// the conductivity, in W/m; temperatures in °C. Both are exact integrals of the formulas of EN 1993-1-2, clauses 3.4.1.2 and 3.4.1.3, for
// carbon steel to 1200 °C; the end value holds beyond.
func heatContent(from, to float64) float64 { return integral(heatTo, steelRanges, from, to) }
func conductance(from, to float64) float64 { return integral(conductedTo, []float64{800}, from, to) }

// steelRanges are where the formula of the specific heat changes.
var steelRanges = []float64{600, 735, 900}

// heatTo is an antiderivative of the specific heat in J/(kg K) in the range that middle lies in.
func heatTo(c, middle float64) float64 {
	switch {
	case middle < 600:
		return c * (425 + c*(0.773/2+c*(-1.69e-3/3+c*2.22e-6/4)))
	case middle < 735:
		return 666*c - 13002*math.Log(738-c)
	case middle < 900:
		return 545*c + 17820*math.Log(c-731)
	}
	return 650 * c
}

// conductedTo is an antiderivative of the conductivity in W/(m K) in the range that middle lies in.
func conductedTo(c, middle float64) float64 {
	if middle < 800 {
		return c * (54 - 3.33e-2/2*c)
	}
	return 27.3 * c
}

// integral adds up the ranges between two temperatures.
func integral(to func(c, middle float64) float64, ranges []float64, low, high float64) float64 {
	if low > high {
		return -integral(to, ranges, high, low)
	}
	sum := 0.0
	for _, r := range append(ranges[:len(ranges):len(ranges)], math.Inf(1)) {
		if end := min(r, high); end > low {
			middle := (low + end) / 2
			sum += to(end, middle) - to(low, middle)
			low = end
		}
	}
	return sum
}
