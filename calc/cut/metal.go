package cut

import (
	"fmt"

	"torchside/calc/words"
)

// Metal is what is to be cut.
type Metal string

// The metals, in the words of the settings card. The first three can be cut.
const (
	MildSteel         Metal = "mild_steel"
	MediumCarbonSteel Metal = "medium_carbon_steel"
	GalvanisedSteel   Metal = "galvanised_steel"
	StainlessSteel    Metal = "stainless_steel"
	CastIron          Metal = "cast_iron"
	Copper            Metal = "copper"
	Brass             Metal = "brass"
	Aluminium         Metal = "aluminium"
)

// Metals returns every metal in the order a list shows them.
func Metals() []Metal {
	return []Metal{MildSteel, MediumCarbonSteel, GalvanisedSteel, StainlessSteel, CastIron, Copper, Brass, Aluminium}
}

// Melting points in °C: CRC Handbook, physical constants of inorganic compounds; those of cast iron from the vehicle-fire reference
// page (ASM and Marks values), its lowest.
const (
	ironMelts      = 1538
	ironOxideMelts = 1377 // FeO
	copperMelts    = 1084.6
	aluminiumMelts = 660.3
	castIronMelts  = 1177
)

// kindling is where steel takes fire in oxygen, °C: TC 9-237, at least 1600 °F. NAVEDTRA 14250 gives 1400 to 1600 °F; the higher is
// the one that surely burns.
const kindling = (1600 - 32) / 1.8

// MetalError says why oxygen does not cut a metal.
type MetalError struct {
	Read   string
	Why    string
	Source string
}

// Error returns one readable line with what was read, what is allowed and why.
func (e *MetalError) Error() string {
	return words.F("metal is %q, allowed is mild_steel, medium_carbon_steel or galvanised_steel: %s (%s)", e.Read, e.Why, e.Source)
}

const sourceMelting = "melting points: CRC Handbook"

// CheckMetal returns nil for a metal that oxygen cuts, and a *MetalError with the reason for any other word.
func CheckMetal(m Metal) error {
	switch m {
	case MildSteel, MediumCarbonSteel, GalvanisedSteel:
		return nil
	case StainlessSteel:
		return &MetalError{string(m), "its chromium oxide melts near 2300 °C (4200 °F), long after the steel: a solid skin keeps the oxygen off", "chromium oxide from memory"}
	case CastIron:
		return &MetalError{string(m), words.F("it melts at %s, below its oxide at %s, and its graphite and silica choke the jet: it melts away raggedly instead of burning", temperature(castIronMelts), temperature(ironOxideMelts)), "melting of cast iron: ASM and Marks values; graphite and silica from memory"}
	case Copper, Brass:
		return &MetalError{string(m), words.F("it gives too little heat when it burns and leads it away too fast: copper melts at %s before it takes fire", temperature(copperMelts)), words.S("%s; heat from memory", sourceMelting)}
	case Aluminium:
		return &MetalError{string(m), words.F("it melts at %s, its oxide near 2050 °C (3720 °F): a solid skin keeps the oxygen off", temperature(aluminiumMelts)), words.S("%s; oxide from memory", sourceMelting)}
	}
	return &MetalError{string(m), "no such metal is known here", words.S("the list is %s", sentence(Metals()))}
}

func sentence(metals []Metal) string {
	names := make([]string, len(metals))
	for i, m := range metals {
		names[i] = string(m)
	}
	return words.Join(names, ", ")
}

// temperature writes °C in both scales.
func temperature(celsius float64) string {
	return fmt.Sprintf("%.0f °C (%.0f °F)", celsius, celsius*1.8+32)
}
