package flame

import (
	"fmt"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// PrintedTemperature is a flame temperature as a handbook prints it.
type PrintedTemperature struct {
	Class       Class
	Temperature units.Temperature
	Source      string
}

// printedTemperatures are the handbook figures with a class to them that were read. The hottest of a class comes first. An old
// encyclopaedia prints 4000 °C for acetylene with oxygen without a class; it is left out as impossible.
var printedTemperatures = map[gas.Gas][]PrintedTemperature{
	gas.Acetylene: {
		{Neutral, 3250 + zeroCelsius, "Carvill, Mechanical Engineer's Data Handbook, read second-hand"}, // trust B
		{Neutral, fahrenheit(5850), "Army Ordnance OD0017; NAVEDTRA 14315"},
		{Oxidizing, fahrenheit(6300), "Army Ordnance OD0017"},
	},
	gas.Methylacetylene: {{Neutral, fahrenheit(5300), mpsPrinted}},
	gas.Propadiene:      {{Neutral, fahrenheit(5300), mpsPrinted}},
}

// fahrenheit turns a figure printed in °F into K, so that it reads as it was printed.
func fahrenheit(f float64) units.Temperature { return units.Temperature((f-32)/1.8 + zeroCelsius) }

const (
	zeroCelsius = 273.15 // K, exact, BIPM SI brochure, 9th edition
	mpsPrinted  = "NAVEDTRA 14250, for methylacetylene-propadiene mixtures"
)

// PrintedTemperatures returns what handbooks print for the flames of a fuel with oxygen, the hottest of each class first; nothing
// for a fuel no figure was read of.
func PrintedTemperatures(fuel gas.Gas) []PrintedTemperature {
	return append([]PrintedTemperature(nil), printedTemperatures[fuel]...)
}

// exceedMargin in K is the rounding of a printed figure, to 50 °F, that is not called a disagreement.
const exceedMargin = 14

// Exceeds reports whether the printed temperature is above an equilibrium by more than its rounding.
func (p PrintedTemperature) Exceeds(equilibrium units.Temperature) bool {
	return float64(p.Temperature-equilibrium) > exceedMargin
}

// Against says in one sentence, with both numbers, how the printed temperature compares with an equilibrium at a ratio of its
// class. An equilibrium has no losses, so that a printed temperature above it is no better than the lower one.
func (p PrintedTemperature) Against(equilibrium units.Temperature) string {
	printed, computed := degrees(p.Temperature), degrees(equilibrium)
	if p.Exceeds(equilibrium) {
		return words.F("Handbooks print %s for the %s flame (%s), more than chemical equilibrium allows: %s, without any loss of heat.",
			printed, p.Class, p.Source, computed)
	}
	return words.F("Handbooks print %s for the %s flame (%s); chemical equilibrium allows up to %s, without any loss of heat.",
		printed, p.Class, p.Source, computed)
}

// degrees writes a temperature in both scales, to whole degrees.
func degrees(t units.Temperature) string {
	c := float64(t) - zeroCelsius
	return fmt.Sprintf("%.0f °C (%.0f °F)", c, c*1.8+32)
}
