package flame

import "torchside/calc/gas"

// formation are the heats of formation at 298.15 K of the ideal gas, in J/mol. Elements in their standard state have none.
// Source: McBride, Zehe and Gordon, NASA/TP-2002-211556 (thermo.inp of NASA CEA).
var formation = map[string]float64{
	"O2": 0, "H2": 0,
	"CO":  -110535.196,
	"CO2": -393510,
	"H2O": -241826,
}

// fuelFormation is kept by gas, because methylacetylene and propadiene share a formula. Source as formation. The CRC Handbook
// has −103.8 kJ/mol for propane, 227.4 for acetylene and 190.5 for propadiene: 0.05 % of the heat of burning at most.
var fuelFormation = map[gas.Gas]float64{
	gas.Acetylene:       228200,
	gas.Propane:         -104680,
	gas.Propylene:       20000,
	gas.Methylacetylene: 184900,
	gas.Propadiene:      190920,
	gas.Methane:         -74600,
	gas.Hydrogen:        0,
}

// liquidWaterFormation is the heat of formation of liquid water at 298.15 K in J/mol. Source as formation, record H2O(L).
const liquidWaterFormation = -285830

// Heats are the heats that one mole of a fuel gives, in J/mol at 298.15 K; HeatsPerVolume are the same per standard volume.
type Heats struct {
	Lower  float64 // to CO2 and water vapour: what a torch can use (LHV, net)
	Higher float64 // to CO2 and liquid water: what is sold (HHV, gross)
	// Primary is what the TorchNeutral equation gives, to CO and H2, which handbooks print for the inner cone; Secondary is what
	// burning CO and H2 adds; together Lower. What the torch oxygen can release at a ratio is HeatsAt.
	Primary, Secondary float64
}

// HeatingValue returns the heats of a fuel by Hess's law from the heats of formation and the balanced equations. For a gas that
// is no fuel it returns the zero Heats; ask gas.IsFuel first.
func HeatingValue(fuel gas.Gas) Heats {
	if !fuel.IsFuel() {
		return Heats{}
	}
	equations := balance(fuel)
	lower := equations.Complete.heat(fuel)
	water := float64(equations.Complete.Coefficient("H2O")) / equations.Complete.fuelCount(fuel)
	primary := equations.TorchNeutral.heat(fuel)
	return Heats{
		Lower:     lower,
		Higher:    lower + water*(formation["H2O"]-liquidWaterFormation),
		Primary:   primary,
		Secondary: lower - primary,
	}
}

// PerVolume returns the heats in J per m³ of fuel at 15 °C and 101.325 kPa, with the real density of the gas there.
func (h Heats) PerVolume(fuel gas.Gas) Heats {
	moles := float64(fuel.StandardDensity()) / fuel.MolarMass() // mol/m³
	return Heats{h.Lower * moles, h.Higher * moles, h.Primary * moles, h.Secondary * moles}
}

func (e Equation) fuelCount(fuel gas.Gas) float64 {
	return float64(-e.Coefficient(fuel.Formula()))
}

// heat is the heat given per mole of fuel in J/mol: what the left side holds more than the right.
func (e Equation) heat(fuel gas.Gas) float64 {
	given := 0.0
	for _, t := range e.Right {
		given -= float64(t.Coefficient) * formation[t.Species]
	}
	return given/e.fuelCount(fuel) + fuelFormation[fuel]
}
