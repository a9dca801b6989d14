package setup

import (
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// netShare is the share of all the heat of a fuel that ends in the work: low and high. From memory (welding texts); it falls with
// thickness of flame over work, with distance and with a draught, and nothing was read that would narrow it.
var netShare = [2]float64{0.2, 0.6}

const (
	sourceEquilibrium = "chemical equilibrium at constant enthalpy and pressure (NASA RP-1311, data of NASA/TP-2002-211556)"
	reasonEquilibrium = "an upper bound: no heat lost, no air mixed in; a real flame is cooler, and hottest just off the cone"
	reasonRich        = "no heat lost, no air mixed in; a rich flame may be hotter than its equilibrium for some centimetres, by up to 300 °C (540 °F) in computed flames"
	sourceHeatSplit   = "heats of formation, NASA/TP-2002-211556; lower heat at 25 °C"
	sourceNetHeat     = "share of the heat that reaches the work, welding texts (from memory)"
	reasonNetHeat     = "from memory: 20 % of the least heat to 60 % of the most; the rest passes by, and how much depends on thickness, distance and draught"
)

// heat fills temperature and powers at the ratio of the card. The ratio, temperature and pressure were checked; a flame that does
// not converge leaves the fields empty rather than the card.
func (b *builder) heat(fuel gas.Gas) {
	mixture := gas.Pure(fuel)
	reactants := flame.Reactants{Fuel: mixture, Oxidizer: gas.Oxygen, Ratio: b.card.Ratio, Purity: 1,
		Temperature: units.Temperature(b.in.TemperatureK), Pressure: units.AbsolutePressure(b.in.AmbientAbsPa), Graphite: true}
	e, err := flame.Solve(reactants)
	if err != nil {
		return
	}
	t := b.put("flame_temperature_k", b.temperature(float64(e.Temperature)))
	b.card.FlameTemperatureK = &t
	b.card.PrintedTemperature = printedAgainst(fuel, b.card.FlameClass, e.Temperature)
	h, err := flame.HeatsAt(mixture, b.card.Ratio)
	if err != nil {
		return
	}
	b.split(h.Primary / h.Total)
	b.card.PrintedHeatSplit = splitAgainst(fuel, b.card.Ratio)
}

func (b *builder) temperature(k float64) estimate {
	reason := reasonEquilibrium
	if b.card.FlameClass == flame.Carburizing {
		reason = reasonRich
	}
	return exact(Computed, sourceEquilibrium, k, reason).withFormula("all gases and graphite in balance at the heat content of the cold gases",
		NamedValue{Name: "oxygen to fuel", Quantity: "number", SI: b.card.Ratio},
		NamedValue{Name: "gas before burning", Quantity: "temperature", SI: b.in.TemperatureK})
}

// split shares the power by where its oxygen comes from, torch or air, and bounds what reaches the work. The ends of the flow's band
// and of the share's band are multiplied: nothing tells that they offset each other, and the wider band is the safer.
func (b *builder) split(primaryShare float64) {
	all := estimate{b.card.PowerW, b.card.Provenance["power_w"]}
	part := func(share float64, source, reason string) estimate {
		e := all.scaled(share)
		return newEstimate(Computed, source, all.prov.FromMemory, e.value, e.prov.Low, e.prov.High, reason)
	}
	b.card.PrimaryPowerW = b.put("primary_power_w", part(primaryShare, sourceHeatSplit, "what the torch oxygen can release; the band of the fuel flow"))
	b.card.EnvelopePowerW = b.put("envelope_power_w", part(1-primaryShare, sourceHeatSplit, "what the air adds; the band of the fuel flow"))
	b.card.NetHeatW = Range{all.prov.Low * netShare[0], all.prov.High * netShare[1]}
	b.card.Provenance["net_heat_w"] = Provenance{Kind: CommonPractice, Source: sourceNetHeat, FromMemory: true, Formula: "heat of the fuel × share",
		Inputs: []NamedValue{{Name: "heat of the fuel", Quantity: "power", SI: all.value}}, Low: b.card.NetHeatW.Low, High: b.card.NetHeatW.High, Reason: reasonNetHeat}
}

// printedAgainst is one sentence on what handbooks print for the class, with both numbers; empty when nothing was read.
func printedAgainst(fuel gas.Gas, class flame.Class, equilibrium units.Temperature) string {
	for _, p := range flame.PrintedTemperatures(fuel) {
		if p.Class == class {
			return p.Against(equilibrium)
		}
	}
	return ""
}

// splitAgainst is one sentence on how handbooks split the heat of a fuel; empty where no split is known.
func splitAgainst(fuel gas.Gas, ratio float64) string {
	s, ok := flame.PrintedHeatSplit(fuel)
	if !ok {
		return ""
	}
	return s.Against(fuel, ratio)
}
