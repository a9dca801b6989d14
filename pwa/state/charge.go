package state

import (
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// chargeOptions are the ways to tell the full charge of an acetylene cylinder: it is sold by the volume of its gas, and weighed.
var chargeOptions = []Option{
	{Value: "", Label: "Its weight", Note: "9.8 lb, 4.5 kg"}, {Value: sizeAsSold, Label: "Size as sold", Note: "145 ft³, 4 m³ of gas"},
}

// isCharged tells a weighed gas whose full charge is given in this way; all but acetylene are sold by weight.
func isCharged(by string) func(fill) bool {
	return func(f fill) bool {
		way := ""
		if gas.Gas(f.choices["gas"]) == gas.Acetylene {
			way = f.choices["full_as"]
		}
		return isWeighed(f) && way == by
	}
}

// readCharge weighs a full charge of acetylene that is given as it is sold, and says what was understood.
func (a App) readCharge(f *Form, p *Part, fields []FormField) {
	if p.Kind != KindCylinder || !isCharged(sizeAsSold)(fill{choices: p.Choices}) {
		return
	}
	delete(p.Values, "full_mass") // an earlier one is not that of this size
	charge, ok := p.Values["full_charge"]
	if !ok || !(charge.SI > 0) {
		return
	}
	unit := f.units.Unit(units.QuantityMass)
	kg := charge.SI * float64(gas.Acetylene.StandardDensity())
	text := units.Format(units.QuantityMass, kg, unit, 0)
	p.Values["full_mass"] = Value{SI: kg, Typed: text, Unit: unit.Symbol()}
	understood(fields, "full_charge", words.S("%s of gas, by the real density of acetylene", text))
}
