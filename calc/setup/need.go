package setup

import (
	"math"

	"torchside/calc/braze"
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// point is one row of a table over thickness.
type point struct{ thickness, value float64 }

// handbookFlow is acetylene flow per thickness of steel, m → m³/s: nozzle selection table of an Indian ITI welder trade text
// (read, a weak copy). That the nozzle number is ft³/h of each gas, here 28.3 L/h, is the British convention, from memory.
var handbookFlow = []point{
	{0, 0}, {0.0008, 28}, {0.0012, 57}, {0.0016, 85}, {0.0024, 142}, {0.0040, 283}, {0.0050, 368}, {0.0060, 510},
	{0.010, 991}, {0.012, 1274}, {0.019, 1557}, {0.025, 1982},
}

const (
	sourceHandbookFlow = "ITI welder trade text, nozzle selection table (the nozzle number read as ft³/h of each gas is from memory)"
	sourceRuleOfThumb  = "about 100 L/h of acetylene per mm of steel, 75 to 125 (common practice, from memory)"
)

// ruleOfThumb is litres of acetylene an hour and millimetre of steel: low, usual, high. Common practice, from memory.
var ruleOfThumb = [3]float64{75, 100, 125}

// interpolate reads a table linearly; beyond its ends the end value holds.
func interpolate(table []point, x float64) float64 {
	for i := 1; i < len(table); i++ {
		if x <= table[i].thickness {
			a, b := table[i-1], table[i]
			return a.value + (b.value-a.value)*(x-a.thickness)/(b.thickness-a.thickness)
		}
	}
	return table[len(table)-1].value
}

// jointFactor is the share of a butt joint's flow that a joint takes. Common practice, from memory: a lap or tee draws the
// heat away on three sides, an edge or outside corner keeps it.
func jointFactor(w Work, j Joint) float64 {
	if w != Weld {
		return 1
	}
	switch j {
	case Lap, Tee:
		return 1.25
	case Edge:
		return 0.85
	}
	return 1
}

// workFactor is the share of the flow for welding steel that another work or metal takes. Common practice, from memory:
// brazing needs the joint dull red and not molten, a braze weld as much as a weld, soldering far less; copper carries the heat away;
// heating a zone takes a larger flame.
func workFactor(in Input) float64 {
	factor := map[Work]float64{Weld: 1, Braze: 0.8, Heat: 1.5, Bend: 1.5}[in.Work]
	switch in.Process {
	case braze.BrazeWeld:
		factor = 1
	case braze.Solder:
		factor = 0.3
	}
	return factor * max(metalFactor(in.Metal), metalFactor(in.OtherMetal))
}

// metalFactor is how much more a metal takes than steel, because it leads the heat away. Common practice, from memory.
func metalFactor(m Metal) float64 {
	switch m {
	case Copper:
		return 2
	case Brass, Aluminium:
		return 1.3
	}
	return 1
}

// fuelNeed is the fuel flow the work wants, as a standard flow.
func fuelNeed(in Input) estimate {
	if in.Work == Cut {
		return usualPreheat()
	}
	mm := in.ThicknessM * 1000
	factor := jointFactor(in.Work, in.Joint) * workFactor(in)
	book := interpolate(handbookFlow, in.ThicknessM)
	low, high := min(book, ruleOfThumb[0]*mm), max(book, ruleOfThumb[2]*mm)
	e := newEstimate(Handbook, sourceHandbookFlow, true, book, low, high, "handbook and rule of thumb differ; the band spans both")
	e = e.over(newEstimate(CommonPractice, sourceRuleOfThumb, true, ruleOfThumb[1]*mm, 0, 0, ""))
	if factor != 1 {
		e.prov.Kind, e.prov.Source = Computed, words.S("a share of the flow for a butt weld in steel: %s", sourceHandbookFlow)
		e.prov.Reason += words.S("; work, metal and joint change it by × %s (common practice, from memory)", number(factor))
	}
	return forFuel(e, in.Rig.FuelCylinder.Fuel).scaledAll(factor*litresPerHour).withFormula("flow per thickness × joint and metal factor",
		NamedValue{Name: "thickness", Quantity: "length", SI: in.ThicknessM}, NamedValue{Name: "factor", Quantity: "number", SI: factor})
}

// scaledAll multiplies value, band and alternatives.
func (e estimate) scaledAll(by float64) estimate {
	e = e.scaled(by)
	others := append([]Alternative{}, e.prov.Others...)
	for i := range others {
		others[i].Value *= by
	}
	e.prov.Others = others
	return e
}

// envelopeShare is how much more heat another fuel may have to free than acetylene for the same work, because it frees more of it in
// the envelope. From memory.
const envelopeShare = 1.5

// forFuel turns a flow of acetylene into the flow of another fuel that does the same work: that of the same heat at least, and
// envelopeShare of it at most. The value is the middle of the two (root of the product).
func forFuel(e estimate, fuel gas.Gas) estimate {
	if fuel == gas.Acetylene {
		return e
	}
	same := heatPerVolume(gas.Acetylene) / heatPerVolume(fuel)
	low, high := e.prov.Low*same, e.prov.High*same*envelopeShare
	e = e.scaledAll(same * math.Sqrt(envelopeShare))
	e.prov.Kind, e.prov.FromMemory = Computed, true
	e.prov.Low, e.prov.High = low, high
	e.prov.Source = words.S("the heat of acetylene, and up to half as much again as more of it goes into the envelope (from memory); acetylene flow from %s", e.prov.Source)
	return e
}

// heatPerVolume is the lower heating value per standard volume, J/m³.
func heatPerVolume(fuel gas.Gas) float64 {
	return flame.HeatingValue(fuel).PerVolume(fuel).Lower
}

// molesPerVolume is the amount in one cubic metre at the standard state, mol/m³, of the real gas.
func molesPerVolume(g gas.Gas) float64 { return float64(g.StandardDensity()) / g.MolarMass() }

// oxygenFlow is the oxygen flow that goes with a fuel flow at a molar ratio.
func oxygenFlow(fuel gas.Gas, fuelFlow, ratio float64) float64 {
	return fuelFlow * ratio * molesPerVolume(fuel) / molesPerVolume(gas.Oxygen)
}

// mixture is what leaves the tip.
func mixture(fuel gas.Gas, ratio float64) gas.Mixture {
	return gas.Mixture{fuel: 1 / (1 + ratio), gas.Oxygen: ratio / (1 + ratio)}
}

// mixedFlow is the standard flow of the mixture.
func mixedFlow(fuel gas.Gas, fuelFlow, ratio float64) units.StandardFlow {
	m := mixture(fuel, ratio)
	moles := fuelFlow * molesPerVolume(fuel) * (1 + ratio)
	return units.StandardFlow(moles * m.MolarMass() / float64(m.StandardDensity()))
}
