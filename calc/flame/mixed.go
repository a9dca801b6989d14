package flame

import (
	"torchside/calc/gas"
	"torchside/calc/units"
)

// NeutralRange is the practical neutral range of a mixture of fuels.
type NeutralRange struct {
	Ratio      units.Band // mol of torch oxygen to one mol of fuel
	Source     string
	FromMemory bool // some part of it is
}

const mixedRangeReason = "ranges of the parts weighted by mole"

// MixedNeutral returns the practical neutral range of a mixture of fuels: the ranges of its parts weighted by mole, because every
// molecule takes the oxygen it would take alone. That is our rule; no source prints ranges of mixtures. Of a pure fuel it is the
// Neutral of NeutralRatio.
//
// Errors: gas.ErrUnknown and gas.ErrMixture for what is no fuel.
func MixedNeutral(fuel gas.Mixture) (NeutralRange, error) {
	if err := checkFuel(fuel); err != nil {
		return NeutralRange{}, err
	}
	var r NeutralRange
	sum := 0.0
	for _, g := range gas.Fuels() {
		x := fuel[g]
		if x == 0 {
			continue
		}
		n := NeutralRatio(g)
		if r.Source != "" {
			r.Source += "; "
			r.Ratio.Reason = mixedRangeReason
		} else {
			r.Ratio.Reason = n.Neutral.Reason
		}
		r.Source += n.Source
		r.FromMemory = r.FromMemory || n.FromMemory
		r.Ratio.Value += x * n.Neutral.Value
		r.Ratio.Low += x * n.Neutral.Low
		r.Ratio.High += x * n.Neutral.High
		sum += x
	}
	r.Ratio.Value, r.Ratio.Low, r.Ratio.High = r.Ratio.Value/sum, r.Ratio.Low/sum, r.Ratio.High/sum
	return r, nil
}

// Class returns the class of a flame at a ratio, as Classify does for one fuel.
func (r NeutralRange) Class(ratio float64) Class {
	switch {
	case !(ratio >= 0):
		return ""
	case ratio < r.Ratio.Low:
		return Carburizing
	case ratio <= r.Ratio.High:
		return Neutral
	}
	return Oxidizing
}
