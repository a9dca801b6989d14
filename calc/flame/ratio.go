package flame

import (
	"torchside/calc/gas"
	"torchside/calc/units"
)

// Class says what the flame does to the puddle.
type Class string

// Flame classes. The empty Class is the answer for what is no fuel or no ratio.
const (
	// Carburizing flames have fuel left over: carbon goes into the puddle, and a feather shows beyond the inner cone.
	Carburizing Class = "carburizing"
	// Neutral flames leave CO and H2 around the puddle, which shield it.
	Neutral Class = "neutral"
	// Oxidizing flames carry free oxygen, which burns the puddle.
	Oxidizing Class = "oxidizing"
)

// Ratios are the volumes of torch oxygen to one volume of fuel that mark the flames of one fuel.
type Ratios struct {
	Complete float64 // to CO2 and H2O, air included
	Primary  float64 // to CO and H2, the chemical torch-neutral ratio; for hydrogen the same as Complete
	// Neutral is the range in which the flame is called neutral at the torch; its Value is the usual setting. The range lies above
	// Primary, because some oxygen is left as CO2, H2O and broken molecules at flame temperature.
	Neutral units.Band
	Source  string // of Neutral
	// FromMemory tells that no source of Neutral was read; show it with the number.
	FromMemory bool
}

// neutral holds the practical ranges. Where a source prints one figure only, singleFigure widens it to a range.
type neutral struct {
	usual, low, high float64
	source           string
	fromMemory       bool
	reason           string
}

const (
	// singleFigure is half the width of acetylene's printed range, 1.04–1.14, over its middle. Our assumption for a fuel with
	// only one printed figure.
	singleFigure       = 0.05
	singleFigureReason = "one printed figure, widened by 5 % as acetylene's printed range is wide"
	mpsSource          = "university course notes, figure for methylacetylene-propadiene mixtures"
	fromMemorySource   = "fuel gas comparison table of welding handbooks, from memory"
)

var neutrals = map[gas.Gas]neutral{
	// Army Ordnance OD0017 prints 1.04–1.14 for the neutral flame. Manly (1916) prints 1.125–1.25: the newer and lower range is
	// the safer one, it calls a flame oxidizing sooner. The usual setting 1.1 is from memory and lies inside.
	gas.Acetylene: {1.1, 1.04, 1.14, "Army Ordnance OD0017, neutral flame 1.04 to 1.14", false,
		"the range printed for a neutral flame; an older book (Manly 1916) prints 1.125 to 1.25"},
	gas.Methylacetylene: oneFigure(2.5, mpsSource, false),
	gas.Propadiene:      oneFigure(2.5, mpsSource, false),
	gas.Propane:         oneFigure(4.3, fromMemorySource, true),
	gas.Propylene:       oneFigure(2.6, fromMemorySource, true),
	gas.Methane: {1.5, 1.5, 1.8, "university course notes, figure for natural gas; other tables print 1.8", false,
		"printed figures run from 1.5 to 1.8"},
	// Above 0.5 hydrogen leaves free oxygen whatever a table prints, so the range ends there.
	gas.Hydrogen: {0.5, 0.5 * (1 - singleFigure), 0.5, fromMemorySource, true,
		"one printed figure, equal to complete burning: above it oxygen is left over"},
}

func oneFigure(ratio float64, source string, fromMemory bool) neutral {
	return neutral{ratio, ratio * (1 - singleFigure), ratio * (1 + singleFigure), source, fromMemory, singleFigureReason}
}

// NeutralRatio returns the ratios of a fuel: Complete and Primary from its balanced equations, Neutral from the source named.
// For a gas that is no fuel it returns the zero Ratios; ask gas.IsFuel first.
func NeutralRatio(fuel gas.Gas) Ratios {
	n, ok := neutrals[fuel]
	if !ok {
		return Ratios{}
	}
	equations := balance(fuel)
	return Ratios{
		Complete:   equations.Complete.oxygenRatio(fuel),
		Primary:    equations.TorchNeutral.oxygenRatio(fuel),
		Neutral:    units.Band{Value: n.usual, Low: n.low, High: n.high, Reason: n.reason},
		Source:     n.source,
		FromMemory: n.fromMemory,
	}
}

func (e Equation) oxygenRatio(fuel gas.Gas) float64 {
	return float64(e.Coefficient("O2")) / float64(e.Coefficient(fuel.Formula()))
}

// Classify returns the class of a flame by the practical neutral range: below it carburizing, above it oxidizing, the ends are
// neutral. Sources leave a gap between carburizing and neutral (acetylene: OD0017 ends carburizing at 0.95, begins neutral at
// 1.04); the gap is called carburizing, since a feather still shows there and its carbon reaches the puddle. It returns the
// empty Class for a gas that is no fuel and for a ratio that is negative or not a number.
func Classify(fuel gas.Gas, ratio float64) Class {
	n, ok := neutrals[fuel]
	switch {
	case !ok || !(ratio >= 0):
		return ""
	case ratio < n.low:
		return Carburizing
	case ratio <= n.high:
		return Neutral
	}
	return Oxidizing
}
