package present

import (
	"strings"

	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/units"
)

// acetyleneLimit is the highest gauge pressure acetylene is used at: 15 psi. Source: 29 CFR 1910.253(a)(2). Here it marks the
// dial and keeps rounding below it; refusing is the business of calc.
const acetyleneLimit = 15 * 6894.757293168 // Pa; psi: NIST SP 811 (2008), appendix B.8

// scaler knows in which unit each field of a card is shown.
type scaler struct {
	units  units.System
	oxygen units.StandardRatio
	fuel   units.StandardRatio
	limit  float64 // of the fuel's pressures; 0 means none
}

func newScaler(o Options, fuel gas.Gas) scaler {
	s := scaler{units: o.Units, oxygen: gas.Oxygen.StandardRatio()}
	if fuel != "" {
		s.fuel = fuel.StandardRatio()
	}
	if fuel == gas.Acetylene {
		s.limit = acetyleneLimit
	}
	return s
}

// fieldQuantities are the quantities of a card's fields by the end of their key.
var fieldQuantities = []struct {
	suffix   string
	quantity units.Quantity
}{
	{"_gauge_pa", units.QuantityPressure},
	{"_flow_std_m3_s", units.QuantityStandardFlow},
	{"flow_std_m3_s", units.QuantityStandardFlow},
	{"_std_m3", units.QuantityStandardVolume},
	{"orifice_diameter_m", units.QuantityBore},
	{"diameter_m", units.QuantityLength},
	{"speed_m_s", units.QuantitySpeed},
	{"exit_velocity_m_s", units.QuantitySpeed},
	{"endurance_s", units.QuantityDuration},
	{"power_w", units.QuantityPower},
	{"net_heat_w", units.QuantityPower},
	{"_k", units.QuantityTemperature},
}

// of returns how the field with this key is written; a field that is not known is a plain number.
func (s scaler) of(key string) scale {
	q := units.QuantityNumber
	for _, f := range fieldQuantities {
		if strings.HasSuffix(key, f.suffix) {
			q = f.quantity
			break
		}
	}
	sc := scale{quantity: q, unit: s.units.Unit(q), ratio: s.fuel}
	if strings.HasPrefix(key, "oxygen.") {
		sc.ratio = s.oxygen
	}
	if strings.HasPrefix(key, "fuel.") && q == units.QuantityPressure {
		sc.limit = s.limit
	}
	if key == keyVelocity {
		sc.unit = s.jet()
	}
	return sc.checked()
}

// jet is the unit of a gas velocity: nobody reads one in mm/min.
func (s scaler) jet() units.Unit {
	symbol := "m/s"
	if s.units.IsUS() {
		symbol = "ft/s"
	}
	u, _ := units.UnitBySymbol(units.QuantitySpeed, symbol)
	return u
}

// checked falls back to the metric unit where cubic feet have no gas to be stated for.
func (s scale) checked() scale {
	if s.unit.NeedsGas() && s.ratio == 0 {
		s.unit = units.Metric().Unit(s.quantity)
	}
	return s
}

// inputQuantities are the names a provenance gives to the quantities of its inputs.
var inputQuantities = map[string]units.Quantity{
	"pressure": units.QuantityPressure, "temperature": units.QuantityTemperature, "length": units.QuantityLength,
	"thickness": units.QuantityThickness, "bore": units.QuantityBore, "volume": units.QuantityVolume,
	"standard_volume": units.QuantityStandardVolume, "standard_flow": units.QuantityStandardFlow,
	"mass": units.QuantityMass, "duration": units.QuantityDuration, "speed": units.QuantitySpeed,
	"power": units.QuantityPower, "number": units.QuantityNumber, "money_per_volume": units.QuantityMoneyPerVolume,
}

// input returns how an input of a formula is written.
func (s scaler) input(v setup.NamedValue) scale {
	q, ok := inputQuantities[v.Quantity]
	if !ok {
		q = units.QuantityNumber
	}
	sc := scale{quantity: q, unit: s.units.Unit(q)}
	switch {
	case q == units.QuantitySpeed:
		sc.unit = s.jet()
	case q == units.QuantityLength && v.SI < 0.3:
		sc.unit = s.units.Unit(units.QuantityThickness)
	}
	if g, err := gas.Parse(v.Gas); v.Gas != "" && err == nil {
		sc.ratio = g.StandardRatio()
	}
	return sc.checked()
}
