package setup

import (
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// AcetylenePressureWarnings cautions where acetylene stands above 15 psi gauge or 30 psi absolute (29 CFR 1910.253(a)(2)). The
// pressure is absolute; gauge is counted from standard air, 101.325 kPa, because a line by itself knows no barometer. concerns is
// the field of the pressure. The list is empty, never nil, for a lower pressure or another gas.
func AcetylenePressureWarnings(m gas.Mixture, absolute units.AbsolutePressure, concerns string) []Warning {
	const slack = 1 + 1e-9 // a limit typed in psi must not fail on its last digit
	abs, gauge := float64(absolute), float64(absolute-units.StandardAtmosphere)
	if !(m[gas.Acetylene] > 0) || gauge <= maxAcetyleneGaugePa*slack && abs <= maxAcetyleneAbsPa*slack {
		return []Warning{}
	}
	return []Warning{{"acetylene_pressure", Caution, words.S("Acetylene at %s gauge, %s absolute: never above %s gauge or %s absolute, where it can decompose by itself. Lower the pressure, or use a wider or shorter hose.", pressureText(gauge), pressureText(abs), pressureText(maxAcetyleneGaugePa), pressureText(maxAcetyleneAbsPa)), sourceAcetylenePressure, concerns}}
}
