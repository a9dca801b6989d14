package heat

// steelSpecificHeat is that of carbon steel, J/(kg K), EN 1993-1-2 clause 3.4.1.2, with the peak of the transformation at 735 °C. The
// standard covers 20 to 1200 °C; beyond it the end value holds.
func steelSpecificHeat(c float64) float64 {
	switch c = max(c, 20); {
	case c < 600:
		return 425 + c*(0.773+c*(-1.69e-3+c*2.22e-6))
	case c < 735:
		return 666 + 13002/(738-c)
	case c < 900:
		return 545 + 17820/(c-731)
	}
	return 650
}

// steelConductivity is that of carbon steel, W/(m K), EN 1993-1-2 clause 3.4.1.3. Below 20 °C the value there holds.
func steelConductivity(c float64) float64 {
	if c = max(c, 20); c < 800 {
		return 54 - 3.33e-2*c
	}
	return 27.3
}

// table is a property printed at some temperatures: °C and value.
type table [][2]float64

// at reads the table linearly; beyond its ends the end value holds.
func (t table) at(c float64) float64 {
	for i := 1; i < len(t); i++ {
		if a, b := t[i-1], t[i]; c <= b[0] {
			return a[1] + (b[1]-a[1])*max(0, (c-a[0])/(b[0]-a[0]))
		}
	}
	return t[len(t)-1][1]
}
