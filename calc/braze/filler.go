package braze

import "torchside/calc/heat"

// Metal is a base metal, in the words of calc/heat.
type Metal = heat.Metal

// Family is a group of filler metals that are used alike.
type Family string

// The families.
const (
	Silver           Family = "silver"
	CopperPhosphorus Family = "copper-phosphorus"
	CopperZinc       Family = "copper-zinc"
	AluminiumSilicon Family = "aluminium-silicon"
	Copper           Family = "copper"
	TinLead          Family = "tin-lead"
	TinAntimony      Family = "tin-antimony"
)

// Filler is one filler metal. Temperatures are in °F, as the source prints them; of a solder BrazeLow and BrazeHigh are 0.
type Filler struct {
	Class                                  string // AWS class, or a solder's tin and lead or antimony in per cent
	Family                                 Family
	Solidus, Liquidus, BrazeLow, BrazeHigh float64
	Zinc, Cadmium, Lead                    bool // zinc is also set where the composition was not read
	FromMemory                             bool
}

const (
	sourceA58    = "AWS A5.8-1981 as tabled in Machinery's Handbook, 31st edition"
	sourceSolder = "tin-lead diagram"
	sourceTin    = "solder handbooks"
	commonly     = "common practice, no source"
)

// Source names where the row was read.
func (f Filler) Source() string {
	switch f.Family {
	case TinLead:
		return sourceSolder
	case TinAntimony:
		return sourceTin
	}
	return sourceA58
}

// fahrenheit turns °F into K.
func fahrenheit(f float64) float64 { return (f-32)/1.8 + zeroCelsius }

// zeroCelsius is 273.15 K, exact (BIPM SI brochure, 9th edition).
const zeroCelsius = 273.15

// Melts is the melting range, solidus to liquidus, K.
func (f Filler) Melts() heat.Range {
	return heat.Range{Low: fahrenheit(f.Solidus), High: fahrenheit(f.Liquidus)}
}

// hottestSolder is 600 °F: the upper end of what most soldering is done at (Copper Tube Handbook, soldered joints).
const hottestSolder = 600

// Works is the range of temperature at which the filler is used, K.
func (f Filler) Works() heat.Range {
	if f.BrazeLow == 0 {
		return heat.Range{Low: fahrenheit(f.Liquidus), High: fahrenheit(hottestSolder)}
	}
	return heat.Range{Low: fahrenheit(f.BrazeLow), High: fahrenheit(f.BrazeHigh)}
}

// soft reports whether the filler is a solder.
func (f Filler) soft() bool { return f.Family == TinLead || f.Family == TinAntimony }

// ByClass finds a filler by its class.
func ByClass(class string) (Filler, bool) {
	for _, f := range fillers {
		if f.Class == class {
			return f, true
		}
	}
	return Filler{}, false
}

// Fillers returns the table in its order.
func Fillers() []Filler { return append([]Filler{}, fillers...) }

// suits lists the metals for which a source names a family: the use notes of AWS A5.8-1981 as tabled in Machinery's Handbook, 31st
// edition. Solders: copper alloys by the Copper Tube Handbook; steel, tinned and galvanised sheet by metal-workers' textbooks; stainless
// steel from memory.
var suits = map[Family][]Metal{
	Silver:           {heat.MildSteel, heat.MediumCarbonSteel, heat.GalvanisedSteel, heat.StainlessSteel, heat.CastIron, heat.Copper, heat.Brass},
	CopperPhosphorus: {heat.Copper, heat.Brass},
	CopperZinc:       {heat.MildSteel, heat.MediumCarbonSteel, heat.GalvanisedSteel, heat.CastIron, heat.Copper},
	AluminiumSilicon: {heat.Aluminium},
	TinLead:          {heat.MildSteel, heat.MediumCarbonSteel, heat.GalvanisedSteel, heat.StainlessSteel, heat.Copper, heat.Brass},
	TinAntimony:      {heat.MildSteel, heat.MediumCarbonSteel, heat.GalvanisedSteel, heat.StainlessSteel, heat.Copper, heat.Brass},
}

// densities are in kg/m³. The ends span the rule of mixtures over the compositions read (densities of the elements: CRC Handbook) and
// figures for the alloys from memory; of copper-phosphorus also 1090 in of 1/16 in wire to the pound (Copper Tube Handbook, table 14.11).
var densities = map[Family]heat.Range{
	Silver:           {Low: 8700, High: 9900},
	CopperPhosphorus: {Low: 8000, High: 8500},
	CopperZinc:       {Low: 8050, High: 8500},
	AluminiumSilicon: {Low: 2600, High: 2750},
	Copper:           {Low: 8900, High: 8960},
	TinLead:          {Low: 8300, High: 9300},
	TinAntimony:      {Low: 7200, High: 7350},
}
