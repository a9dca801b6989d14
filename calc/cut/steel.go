package cut

// steelDensity in kg/m³: EN 1993-1-2.
const steelDensity = 7850

// specificHeat of carbon steel in J/(kg K) at °C: EN 1993-1-2 clause 3.4.1.2, to 1200 °C; the end value holds beyond it.
func specificHeat(c float64) float64 {
	switch {
	case c < 600:
		return 425 + c*(0.773+c*(-1.69e-3+c*2.22e-6))
	case c < 735:
		return 666 + 13002/(738-c)
	case c < 900:
		return 545 + 17820/(c-731)
	}
	return 650
}

// conductivity of carbon steel in W/(m K) at °C: EN 1993-1-2 clause 3.4.1.3.
func conductivity(c float64) float64 {
	if c < 800 {
		return 54 - 3.33e-2*c
	}
	return 27.3
}

// steps of the sums below: finer than the peak of the specific heat at 735 °C is wide.
const steps = 1000

// heatContent is what a kilogram of solid steel takes up from one temperature to another, in J, and conductance the integral of
// the conductivity, in W/m; temperatures in °C.
func heatContent(from, to float64) float64 { return integral(specificHeat, from, to) }
func conductance(from, to float64) float64 { return integral(conductivity, from, to) }

// integral sums the middles of equal steps.
func integral(f func(float64) float64, from, to float64) float64 {
	sum, step := 0.0, (to-from)/steps
	for i := range steps {
		sum += f(from + (float64(i)+0.5)*step)
	}
	return sum * step
}
