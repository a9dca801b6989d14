package gas

import "torchside/calc/units"

// The bounds of the one NASA-9 interval used here, in K. Beyond, the nearest end is
// used: a torch draws its gases from a cylinder, hot gas belongs to the flame calculation.
const (
	heatCapacityMinimum = 200.0
	heatCapacityMaximum = 1000.0
)

// nasa9 are the seven heat capacity coefficients a1…a7 of the 200–1000 K interval:
// cp/R = a1 T⁻² + a2 T⁻¹ + a3 + a4 T + a5 T² + a6 T³ + a7 T⁴.
// Source: McBride, Zehe and Gordon, NASA/TP-2002-211556, appendix D (thermo.inp of NASA CEA).
var nasa9 = map[Gas][7]float64{
	Oxygen:          {-3.425563420e+04, 4.847000970e+02, 1.119010961e+00, 4.293889240e-03, -6.836300520e-07, -2.023372700e-09, 1.039040018e-12},
	Nitrogen:        {2.210371497e+04, -3.818461820e+02, 6.082738360e+00, -8.530914410e-03, 1.384646189e-05, -9.625793620e-09, 2.519705809e-12},
	Argon:           {0, 0, 2.5, 0, 0, 0, 0},
	Acetylene:       {1.598112089e+05, -2.216644118e+03, 1.265707813e+01, -7.979651080e-03, 8.054992750e-06, -2.433307673e-09, -7.529233180e-14},
	Propane:         {-2.433144337e+05, 4.656270810e+03, -2.939466091e+01, 1.188952745e-01, -1.376308269e-04, 8.814823910e-08, -2.342987994e-11},
	Propylene:       {-1.912462174e+05, 3.542074240e+03, -2.114878626e+01, 8.901484790e-02, -1.001429154e-04, 6.267959390e-08, -1.637870781e-11},
	Methylacetylene: {-3.563884400e+04, 8.328139100e+02, -4.073759440e+00, 4.113929610e-02, -4.470444950e-05, 2.847458197e-08, -7.695298240e-12},
	Propadiene:      {-1.645155745e+04, 9.629457810e+02, -7.532326680e+00, 5.518219110e-02, -6.733585120e-05, 4.532709050e-08, -1.251837614e-11},
	Methane:         {-1.766850998e+05, 2.786181020e+03, -1.202577850e+01, 3.917619290e-02, -3.619054430e-05, 2.026853043e-08, -4.976705490e-12},
	Hydrogen:        {4.078323210e+04, -8.009186040e+02, 8.214702010e+00, -1.269714457e-02, 1.753605076e-05, -1.202860270e-08, 3.368093490e-12},
}

// MolarHeatCapacity returns the ideal-gas heat capacity cp0 in J/(mol K) at t, held at its ends outside 200–1000 K.
func (g Gas) MolarHeatCapacity(t units.Temperature) float64 {
	if g == Air {
		return airMean(func(part Gas) float64 { return part.MolarHeatCapacity(t) })
	}
	T := min(max(float64(t), heatCapacityMinimum), heatCapacityMaximum)
	a := nasa9[g]
	return R * (a[0]/(T*T) + a[1]/T + a[2] + T*(a[3]+T*(a[4]+T*(a[5]+T*a[6]))))
}

// HeatCapacityRatio returns the ideal-gas ratio cp/cv at t.
func (g Gas) HeatCapacityRatio(t units.Temperature) float64 {
	cp := g.MolarHeatCapacity(t)
	return cp / (cp - R)
}

// airMean returns the mole-average of a property over airComposition.
func airMean(property func(Gas) float64) float64 {
	mean := 0.0
	for _, part := range airComposition {
		mean += part.fraction * property(part.gas)
	}
	return mean
}
