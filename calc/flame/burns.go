package flame

import (
	"strings"

	"torchside/calc/gas"
	"torchside/calc/words"
)

// Flammability says whether a mixture of fuel and oxidizer at rest, at room temperature and 1 atm, lies within published limits.
type Flammability struct {
	// Burns is false only outside the limits. It says nothing of safety: limits widen with heat and pressure, and a mixture that
	// is too rich burns where it meets air.
	Burns bool
	// Share is the mole fraction of fuel in all of the mixture; Low and High are the limits of it. Both are 0 where none are known,
	// and Burns is true then.
	Share, Low, High float64
	Source           string
	// FromMemory tells that no source of the limits was read; show it with the answer.
	FromMemory bool
}

// limits are mole fractions of fuel in the mixture.
type limits struct{ low, high float64 }

// airLimits are the widest of the limits in air read: those of IEC 60079-20-1:2010, which also reach as far as those of NFPA 497
// (2008) on both sides. Propadiene is not in either; its limits are those of US Bureau of Mines Bulletin 627 (1965).
var airLimits = map[gas.Gas]limits{
	gas.Acetylene: {0.023, 1}, gas.Hydrogen: {0.04, 0.77}, gas.Methane: {0.044, 0.17}, gas.Propane: {0.017, 0.109},
	gas.Propylene: {0.02, 0.111}, gas.Methylacetylene: {0.017, 0.168}, gas.Propadiene: {0.015, 0.115},
}

// oxygenUpper are upper limits in oxygen, all from memory (Bureau of Mines Bulletin 627). Acetylene is remembered as 93 % and
// more, and decomposes alone, so that it has none. Lower limits in oxygen are taken as those in air: remembered ones are the
// same or higher.
var oxygenUpper = map[gas.Gas]float64{
	gas.Acetylene: 1, gas.Hydrogen: 0.94, gas.Methane: 0.61, gas.Propane: 0.55, gas.Propylene: 0.53,
}

const (
	airLimitsSource    = "limits in air, IEC 60079-20-1:2010"
	bulletinSource     = "limits in air, US Bureau of Mines Bulletin 627 (1965)"
	oxygenLimitsSource = "limits in oxygen, US Bureau of Mines Bulletin 627, from memory; the lower one in air"
	noOxygenLimits     = "no limits with oxygen known; taken as burning"
	mixedLimits        = ", mixed by Le Chatelier's rule"
)

// Burns reports whether a mixture lies within the published limits, where sources disagree within the widest. Limits of a
// mixture of fuels are mixed by Le Chatelier's rule: shares over limits add up to one over the limit. With argon in the oxygen
// the limits in pure oxygen are used, which are wider.
//
// Errors: those of NewSolver, and *gas.RangeError for oxidizer_fuel_ratio.
func Burns(r Reactants) (Flammability, error) {
	if err := r.check(); err != nil {
		return Flammability{}, err
	}
	if err := checkRatio(r.Ratio); err != nil {
		return Flammability{}, err
	}
	oxygenShare := min(r.Purity, 1)
	if r.Oxidizer == gas.Air {
		oxygenShare = airOxygen
	}
	f := Flammability{Share: 1 / (1 + r.Ratio/oxygenShare), Burns: true}
	known := f.setLimits(r.Fuel, r.Oxidizer)
	if known {
		f.Burns = f.Share >= f.Low && f.Share <= f.High
	}
	return f, nil
}

// setLimits mixes the limits of the fuels and names their source; it returns false when one fuel has none.
func (f *Flammability) setLimits(fuel gas.Mixture, oxidizer gas.Gas) bool {
	low, high, parts := 0.0, 0.0, 0
	f.Source = airLimitsSource
	for _, g := range gas.Fuels() {
		share := fuel[g]
		if share == 0 {
			continue
		}
		parts++
		l := airLimits[g]
		if oxidizer == gas.Oxygen {
			upper, ok := oxygenUpper[g]
			if !ok {
				f.Source = noOxygenLimits
				return false
			}
			l.high, f.Source, f.FromMemory = upper, oxygenLimitsSource, true
		} else if g == gas.Propadiene {
			f.Source = bulletinSource
		}
		low += share / l.low
		high += share / l.high
	}
	f.Low, f.High = 1/low, 1/high
	if parts > 1 {
		f.Source += mixedLimits
	}
	return true
}

// String says in one sentence whether the mixture burns and by which limits.
func (f Flammability) String() string {
	if f.High == 0 {
		return words.F("%.3g %% fuel: %s.", 100*f.Share, f.Source)
	}
	verb := "burns"
	if !f.Burns {
		verb = "does not burn by itself"
	}
	return words.F("%.3g %% fuel %s: the limits are %.3g to %.3g %% (%s).", 100*f.Share, verb, 100*f.Low, 100*f.High, strings.TrimSpace(f.Source))
}
