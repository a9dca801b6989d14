package gas

import "math"

// Equations of state of GERG-2008: Kunz and Wagner, J. Chem. Eng. Data 57 (2012) 3032, tables A2–A8, with the digits of the
// public-domain AGA 8 part 2 code of NIST (Lemmon, 2017). Densities in mol/m³, temperatures in K.

// gergShortForm are exponents t, d, l of the twelve-term form of oxygen, argon, propane (GERG-2008, table A4).
var gergShortForm = [12]term{
	{t: 0.25, d: 1}, {t: 1.125, d: 1}, {t: 1.5, d: 1}, {t: 1.375, d: 2}, {t: 0.25, d: 3}, {t: 0.875, d: 7},
	{t: 0.625, d: 2, l: 1}, {t: 1.75, d: 5, l: 1}, {t: 3.625, d: 1, l: 2}, {t: 3.625, d: 4, l: 2}, {t: 14.5, d: 3, l: 3}, {t: 12, d: 4, l: 3},
}

// gergLongForm are exponents t, d, l of the 24-term form of methane and nitrogen (GERG-2008, table A2).
var gergLongForm = [24]term{
	{t: 0.125, d: 1}, {t: 1.125, d: 1}, {t: 0.375, d: 2}, {t: 1.125, d: 2}, {t: 0.625, d: 4}, {t: 1.5, d: 4},
	{t: 0.625, d: 1, l: 1}, {t: 2.625, d: 1, l: 1}, {t: 2.75, d: 1, l: 1}, {t: 2.125, d: 2, l: 1}, {t: 2, d: 3, l: 1}, {t: 1.75, d: 6, l: 1},
	{t: 4.5, d: 2, l: 2}, {t: 4.75, d: 3, l: 2}, {t: 5, d: 3, l: 2}, {t: 4, d: 4, l: 2}, {t: 4.5, d: 4, l: 2},
	{t: 7.5, d: 2, l: 3}, {t: 14, d: 3, l: 3}, {t: 11.5, d: 4, l: 3},
	{t: 26, d: 5, l: 6}, {t: 28, d: 6, l: 6}, {t: 30, d: 6, l: 6}, {t: 16, d: 7, l: 6},
}

// withCoefficients puts the coefficients n of one gas into a form.
func withCoefficients(form []term, n ...float64) []term {
	terms := make([]term, len(form))
	for i, k := range form {
		k.n = n[i]
		terms[i] = k
	}
	return terms
}

// gergOxygen is used in air only; pure oxygen has the reference equation in reference.go.
var gergOxygen = helmholtz{density: 13630, temperature: 154.595, terms: withCoefficients(gergShortForm[:],
	0.88878286369701, -2.4879433312148, 0.59750190775886, 9.6501817061881e-3, 0.07197042871277, 2.2337443000195e-4,
	0.18558686391474, -0.03812936803576, -0.15352245383006, -0.026726814910919, -0.025675298677127, 9.5714302123668e-3)}

var gergArgon = helmholtz{density: 13407.429659, temperature: 150.687, terms: withCoefficients(gergShortForm[:],
	0.85095714803969, -2.400322294348, 0.54127841476466, 0.016919770692538, 0.068825965019035, 2.1428032815338e-4,
	0.17429895321992, -0.033654495604194, -0.13526799857691, -0.016387350791552, -0.024987666851475, 8.8769204815709e-3)}

var gergPropane = helmholtz{density: 5000.043088, temperature: 369.825, terms: withCoefficients(gergShortForm[:],
	1.0403973107358, -2.8318404081403, 0.84393809606294, -0.076559591850023, 0.09469737305728, 2.4796475497006e-4,
	0.2774376042287, -0.043846000648377, -0.2699106478435, -0.06931341308986, -0.029632145981653, 0.01404012675138)}

var gergNitrogen = helmholtz{density: 11183.9, temperature: 126.192, terms: withCoefficients(gergLongForm[:],
	0.59889711801201, -1.6941557480731, 0.24579736191718, -0.23722456755175, 0.017954918715141, 0.014592875720215,
	0.10008065936206, 0.73157115385532, -0.88372272336366, 0.31887660246708, 0.20766491728799, -0.019379315454158,
	-0.16936641554983, 0.13546846041701, -0.033066712095307, -0.060690817018557, 0.012797548292871,
	5.8743664107299e-3, -0.018451951971969, 4.7226622042472e-3,
	-5.2024079680599e-3, 0.043563505956635, -0.036251690750939, -2.8974026866543e-3)}

var gergMethane = helmholtz{density: 10139.342719, temperature: 190.564, terms: withCoefficients(gergLongForm[:],
	0.57335704239162, -1.676068752373, 0.23405291834916, -0.21947376343441, 0.016369201404128, 0.01500440638928,
	0.098990489492918, 0.58382770929055, -0.7478686756039, 0.30033302857974, 0.20985543806568, -0.018590151133061,
	-0.15782558339049, 0.12716735220791, -0.032019743894346, -0.068049729364536, 0.024291412853736,
	5.1440451639444e-3, -0.019084949733532, 5.5229677241291e-3,
	-4.4197392976085e-3, 0.040061416708429, -0.033752085907575, -2.5127658213357e-3)}

// gergHydrogen has its own exponents (GERG-2008, table A6).
var gergHydrogen = helmholtz{density: 14940, temperature: 33.19, terms: []term{
	{5.3579928451252, 0.5, 1, 0}, {-6.2050252530595, 0.625, 1, 0}, {0.13830241327086, 0.375, 2, 0},
	{-0.071397954896129, 0.625, 2, 0}, {0.015474053959733, 1.125, 4, 0}, {-0.14976806405771, 2.625, 1, 1},
	{-0.026368723988451, 0, 5, 1}, {0.056681303156066, 0.25, 5, 1}, {-0.060063958030436, 1.375, 5, 1},
	{-0.45043942027132, 4, 1, 2}, {0.424788402445, 4.25, 1, 2}, {-0.021997640827139, 5, 2, 3},
	{-0.01049952137453, 8, 5, 3}, {-2.8955902866816e-3, 8, 1, 5},
}}

// pair are the four parameters of two gases in the reducing functions of GERG-2008 (table A8).
type pair struct{ betaV, gammaV, betaT, gammaT float64 }

var (
	nitrogenOxygen = pair{0.99952177, 0.997082328, 0.997190589, 0.995157044}
	nitrogenArgon  = pair{1.004166412, 1.002212182, 0.999069843, 0.990034831}
	oxygenArgon    = pair{0.999746847, 0.993907223, 1.000023103, 0.990430423}
)

// gergAir is dry air as a GERG-2008 mixture. Nitrogen, oxygen and argon have no departure functions there, so the residual
// energy is the mole-average of the pure ones at the reducing state of the mixture.
var gergAir = mixAir()

// mixAir combines the parts of airComposition, in its order, by GERG-2008 equations (14) to (17).
func mixAir() helmholtz {
	parts := []helmholtz{gergNitrogen, gergOxygen, gergArgon}
	pairs := map[[2]int]pair{{0, 1}: nitrogenOxygen, {0, 2}: nitrogenArgon, {1, 2}: oxygenArgon}
	var air helmholtz
	volume := 0.0
	for i, part := range parts {
		x := airComposition[i].fraction
		volume += x * x / part.density
		air.temperature += x * x * part.temperature
		for _, k := range part.terms {
			k.n *= x
			air.terms = append(air.terms, k)
		}
		for j := i + 1; j < len(parts); j++ {
			v, t := pairs[[2]int{i, j}].reducing(x, airComposition[j].fraction, part, parts[j])
			volume += v
			air.temperature += t
		}
	}
	air.density = 1 / volume
	return air
}

// reducing returns what one pair adds to the reducing molar volume and to the reducing temperature.
func (p pair) reducing(x, y float64, a, b helmholtz) (volume, temperature float64) {
	cube := math.Pow(math.Cbrt(1/a.density)+math.Cbrt(1/b.density), 3) / 8
	volume = 2 * x * y * p.betaV * p.gammaV * (x + y) / (p.betaV*p.betaV*x + y) * cube
	temperature = 2 * x * y * p.betaT * p.gammaT * (x + y) / (p.betaT*p.betaT*x + y) * math.Sqrt(a.temperature*b.temperature)
	return volume, temperature
}
