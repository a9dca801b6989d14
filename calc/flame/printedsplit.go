package flame

import (
	"strconv"

	"torchside/calc/gas"
	"torchside/calc/words"
)

// PrintedSplit is the heat of a fuel as handbooks split it, in Btu/ft³ at 60 °F, gross: Primary in the inner cone, Secondary in
// the envelope.
type PrintedSplit struct {
	Primary, Secondary float64
	Source             string
	FromMemory         bool
}

// printedSplits are the primary and secondary heats of the fuel gas comparison table printed in welding handbooks. From memory:
// they stand beside the computed heats and decide nothing.
var printedSplits = map[gas.Gas]PrintedSplit{
	gas.Acetylene:       {507, 963, fromMemorySource, true},
	gas.Propane:         {255, 2243, fromMemorySource, true},
	gas.Propylene:       {433, 1938, fromMemorySource, true},
	gas.Methylacetylene: {517, 1889, words.S("%s, for methylacetylene-propadiene mixtures", fromMemorySource), true},
	gas.Propadiene:      {517, 1889, words.S("%s, for methylacetylene-propadiene mixtures", fromMemorySource), true},
	gas.Methane:         {11, 989, words.S("%s, for natural gas", fromMemorySource), true},
}

// PrintedHeatSplit returns how handbooks split the heat of a fuel; ok is false where none is known.
func PrintedHeatSplit(fuel gas.Gas) (s PrintedSplit, ok bool) {
	s, ok = printedSplits[fuel]
	return s, ok
}

// Share is the part of all the heat that is printed for the inner cone.
func (s PrintedSplit) Share() float64 { return s.Primary / (s.Primary + s.Secondary) }

// Against says in one sentence how the printed split compares with what the torch oxygen can release at a ratio, and why both
// differ: the handbooks count the first stage of burning alone, to CO and H2.
func (s PrintedSplit) Against(fuel gas.Gas, ratio float64) string {
	stage := NeutralRatio(fuel).Primary
	text := words.F("Handbooks print %.0f %% in the inner cone of %s (%s): they count burning to CO and H₂ alone, for which %s of oxygen to 1 are enough; ",
		100*s.Share(), fuel.Name(), s.Source, ratioDigits(stage))
	if ratio > stage {
		return words.S("%sthis flame gets %s, and its oxygen goes on to burn CO and H₂.", text, ratioDigits(ratio))
	}
	return words.S("%sthis flame gets %s.", text, ratioDigits(ratio))
}

// ratioDigits writes a ratio with at most two decimals.
func ratioDigits(ratio float64) string {
	short, err := strconv.ParseFloat(strconv.FormatFloat(ratio, 'f', 2, 64), 64)
	if err != nil {
		return strconv.FormatFloat(ratio, 'g', -1, 64)
	}
	return strconv.FormatFloat(short, 'f', -1, 64)
}
