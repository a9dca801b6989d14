package heat

import (
	"torchside/calc/units"
	"torchside/calc/words"
)

// Working is the range in which a metal is bent or forged hot.
type Working struct {
	Range      Range // K
	Source     string
	FromMemory bool
	Warning    string // what goes wrong outside; empty where nothing is known
}

const (
	sourceForging = "forging temperatures, chemical encyclopedia (read, one list)"
	blueBrittle   = "Do not bend steel at a blue heat, about 200 to 400 °C (390 to 750 °F): it is brittle there. Stop when it no longer glows."
)

// working are the ranges. The high ends were read in one list of forging temperatures, that of mild steel's low end (red for bending)
// in a blacksmithing page; other low ends are from memory.
var working = map[Metal]Working{
	MildSteel:         {celsius(870, 1230), words.S("%s; low end: blacksmithing page, red for bending, 870 °C", sourceForging), false, blueBrittle},
	GalvanisedSteel:   {celsius(870, 1230), words.S("%s; low end: blacksmithing page, red for bending, 870 °C", sourceForging), false, blueBrittle},
	MediumCarbonSteel: {celsius(800, 1150), "forging practice", true, words.S("%s Let it cool slowly: quenched, it hardens and cracks.", blueBrittle)},
	StainlessSteel:    {celsius(925, 1150), words.S("%s; low end from memory", sourceForging), true, "Between about 500 and 800 °C (930 and 1470 °F) it loses its resistance to rust: be quick through it."},
	Copper:            {celsius(500, 900), words.S("%s; low end from memory", sourceForging), true, "Anneal it at a dull red instead, and bend it cold."},
	Brass:             {celsius(620, 815), words.S("%s; low end from memory", sourceForging), true, "Brittle between about 300 and 600 °C (570 and 1110 °F), and it melts soon after it glows."},
	Aluminium:         {celsius(300, 450), "bending practice; the list of forging temperatures has 540 °C, above where some alloys start to melt", true, "Heat-treated alloys lose their strength for good."},
}

// WorkingRange returns the range in which a metal is bent or forged hot; ok is false for one that is not: cast iron breaks.
func WorkingRange(m Metal) (w Working, ok bool) {
	w, ok = working[m]
	return w, ok
}

// BendingHeat is the temperature to which a zone is heated for bending when the owner says nothing: the middle of the lower half of
// the working range, so that there is time to bend before it is too cold. The choice is ours, no source.
func (w Working) BendingHeat() units.Temperature {
	return units.Temperature(w.Range.Low + (w.Range.High-w.Range.Low)/4)
}
