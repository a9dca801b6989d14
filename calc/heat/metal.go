package heat

import (
	"strings"

	"torchside/calc/units"
	"torchside/calc/words"
)

// Metal is what the bar is made of.
type Metal string

// The metals, in the words of calc/setup where it has them.
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

// Name is the metal in plain words.
func (m Metal) Name() string { return strings.ReplaceAll(string(m), "_", " ") }

// Properties are what is known of a metal. The curves take °C, as the standards print them.
type Properties struct {
	Density float64 // kg/m³ when cold
	Melts   Range   // solidus to liquidus, K; the lowest of the sources first
	// Emissivity is that of the hot, oxidised surface.
	Emissivity float64
	// Source names what was read; FromMemory is true when some part was not read in a source.
	Source     string
	FromMemory bool
	// Glows is false for a metal that melts before it shows a colour.
	Glows bool

	specificHeat, conductivity func(celsius float64) float64
}

// zeroCelsius is 273.15 K, exact (BIPM SI brochure, 9th edition).
const zeroCelsius = 273.15

// SpecificHeat returns the specific heat at a temperature, J/(kg K).
func (p Properties) SpecificHeat(t units.Temperature) float64 {
	return p.specificHeat(float64(t) - zeroCelsius)
}

// Conductivity returns the thermal conductivity at a temperature, W/(m K).
func (p Properties) Conductivity(t units.Temperature) float64 {
	return p.conductivity(float64(t) - zeroCelsius)
}

const (
	sourceSteel     = "EN 1993-1-2, clauses 3.4.1.2 and 3.4.1.3"
	sourceMills     = "Mills, Recommended Values of Thermophysical Properties for Selected Commercial Alloys, 316, as the MOOSE solid properties documentation fits it"
	sourceKutz      = "Mechanical Engineers' Handbook (Kutz), volume 4, heat-transfer fundamentals, table 1"
	sourceIncropera = "Incropera, Fundamentals of Heat and Mass Transfer, table A.1"
	sourceDataBook  = "Heat and Mass Transfer Data Book, property values of metals"
)

// properties are the metals. Emissivities of carbon steel and stainless steel: EN 1993-1-2, clause 2.2, from memory; of the others
// oxidised surfaces, from memory. They only change the loss, a part of the band.
var properties = map[Metal]Properties{
	MildSteel:         carbonSteel(sourceSteel, false),
	MediumCarbonSteel: carbonSteel(words.S("%s, taken for more carbon too (from memory)", sourceSteel), true),
	GalvanisedSteel:   carbonSteel(sourceSteel, false),
	StainlessSteel: {Density: 7956, // Mills, 316 at 300 K
		Melts: celsius(1400, 1450), Emissivity: 0.4, Source: words.S("%s; melting range from memory", sourceMills), FromMemory: true, Glows: true,
		// Mills, in K, from 25 to 1300 °C.
		specificHeat: func(c float64) float64 { return 428.46 + 0.1816*(c+zeroCelsius) },
		conductivity: func(c float64) float64 { k := c + zeroCelsius; return 6.308 + 0.02716*k - 7.301e-6*k*k }},
	CastIron: {Density: 7272, Melts: celsius(1127, 1260), // foundry table 2060 °F; vehicle-fire reference page 2300 °F
		Emissivity: 0.7, Source: words.S("%s; that its heat content and the fall of its conductivity follow steel is from memory", sourceDataBook), FromMemory: true, Glows: true,
		specificHeat: steelSpecificHeat,
		conductivity: func(c float64) float64 { return 52 * steelConductivity(c) / steelConductivity(20) }},
	Copper: {Density: 8933, Melts: celsius(1084.6, 1084.6), // CRC Handbook
		Emissivity: 0.7, Source: sourceKutz, Glows: true,
		specificHeat: table{{26.85, 385}, {326.85, 417}, {926.85, 480}}.at,
		conductivity: table{{26.85, 401}, {326.85, 379}, {926.85, 339}}.at},
	Brass: {Density: 8522, Melts: celsius(888, 1010), // solidus of leaded brass CW610N, supplier's data 1630 °F; reference page 1850 °F
		Emissivity: 0.6, Source: words.S("%s for density; %s, cartridge brass (from memory)", sourceDataBook, sourceIncropera), FromMemory: true, Glows: true,
		specificHeat: table{{26.85, 380}, {126.85, 395}, {326.85, 425}}.at,
		conductivity: table{{26.85, 110}, {126.85, 137}, {326.85, 149}}.at},
	Aluminium: {Density: 2702, Melts: celsius(660.3, 660.3), // CRC Handbook; alloys begin to melt below, see noteAlloy
		Emissivity: 0.3, Source: sourceIncropera,
		specificHeat: table{{26.85, 903}, {126.85, 949}, {326.85, 1033}, {526.85, 1146}}.at,
		conductivity: table{{26.85, 237}, {126.85, 240}, {326.85, 231}, {526.85, 218}}.at},
}

// carbonSteel is structural steel. Melting from 2600 °F to 2750 °F: vehicle-fire reference page after ASM and Marks.
func carbonSteel(source string, memory bool) Properties {
	return Properties{Density: 7850, Melts: celsius(1427, 1510), Emissivity: 0.7, Source: source, FromMemory: memory, Glows: true,
		specificHeat: steelSpecificHeat, conductivity: steelConductivity}
}

func celsius(low, high float64) Range {
	return Range{Low: low + zeroCelsius, High: high + zeroCelsius}
}

// PropertiesOf returns what is known of a metal; the error of an unknown one names those allowed.
func PropertiesOf(m Metal) (Properties, error) {
	p, ok := properties[m]
	if !ok {
		return p, &WordError{"metal", string(m), joined(Metals())}
	}
	return p, nil
}

// WordError is a word that is none of those allowed.
type WordError struct{ Field, Read, Allowed string }

// Error gives the field, what was read and what is allowed.
func (e *WordError) Error() string {
	return words.F("%s: read %q; allowed is one of %s", e.Field, e.Read, e.Allowed)
}

func joined[T ~string](list []T) string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return words.Join(out, ", ")
}
