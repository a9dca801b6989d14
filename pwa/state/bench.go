package state

import (
	"maps"
	"slices"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// prefSpecs are the typed preferences. Empty is always an answer: the default holds.
var prefSpecs = slices.Concat(leakPrefSpecs, []Spec{
	numberSpec(PrefTemperature, "Usual shop temperature", "Empty: 20 °C, 68 °F.", units.QuantityTemperature, 253.15, 323.15,
		"hoses and gas data hold from −20 to 50 °C").steps(stepsWarmth),
	numberSpec(PrefAltitude, "Altitude", "Thin air changes what a gauge means. Empty: sea level.", units.QuantityLength, -400, 4000,
		"people weld between the Dead Sea's shore and a high mountain").steps(stepsHeight),
	numberSpec(PrefOxygenReserve, "Leave in the oxygen cylinder", "The gauge reading at which you change cylinders. Empty: a cautious default.", units.QuantityPressure, 0, maxCylinderPa,
		"cylinders are filled to at most 300 bar").steps(stepsCylinder),
	numberSpec(PrefFuelReserve, "Leave in the fuel cylinder, share of full", "0.1 or 10 %. Empty: a cautious default.", units.QuantityNumber, 0, 0.9,
		"what is left is a share of a full cylinder"),
	numberSpec(PrefOxygenPrice, "Price of oxygen", "For the cost of a job.", units.QuantityMoneyPerVolume, 0, 1e6, "a price is not negative").of(LineOxygen),
	numberSpec(PrefFuelPrice, "Price of fuel gas", "For the cost of a job.", units.QuantityMoneyPerVolume, 0, 1e6, "a price is not negative").of(LineFuel),
}, pricePrefSpecs)

// maxCurrency is the longest sign of a currency: "CHF " has four letters.
const maxCurrency = 8

// prefRatio is that of the gas a price is of; fuel prices are of acetylene, the fuel they are asked for.
func prefRatio(s Spec) units.StandardRatio {
	switch s.PerGas {
	case LineOxygen:
		return gas.Oxygen.StandardRatio()
	case LineFuel:
		return gas.Acetylene.StandardRatio()
	}
	return 0
}

// prefField is a typed preference as it is read now.
func (a App) prefField(s Spec) units.Field {
	f := s.Field
	f.Unit, f.Standard = s.unit(a.Prefs.Units), prefRatio(s)
	return f
}

// refreshBench reads the typed preferences again.
func (a App) refreshBench() App {
	b := &a.Bench
	b.Forms, b.Errors = nil, map[string]string{}
	for _, s := range prefSpecs {
		field, text := a.prefField(s), a.Prefs.Texts[s.Key]
		r := readField(s, field, text)
		put(b.Errors, s.Key, r.err)
		b.Forms = append(b.Forms, formField(s, field, text, r))
	}
	return a.refreshWorksheets()
}

// prefTyped takes a typed preference: what is understood holds and is saved, what is not keeps the old one in force.
func (a App) prefTyped(m PrefTyped) (App, []Effect) {
	for _, s := range prefSpecs {
		if s.Key != m.Key {
			continue
		}
		r := readField(s, a.prefField(s), m.Text)
		p := a.Prefs
		p.Texts, p.si = maps.Clone(p.Texts), maps.Clone(p.si)
		p.Texts[s.Key] = m.Text
		a.Prefs = p
		if r.err != "" {
			return a.refreshBench(), nil
		}
		return a.prefUnderstood(s, m.Text, r)
	}
	return a, nil
}

func (a App) prefUnderstood(s Spec, text string, r reading) (App, []Effect) {
	var typed *Value
	if r.given {
		typed = &Value{SI: r.si, Typed: text, Unit: r.unit.Symbol()}
		a.Prefs.si[s.Key] = r.si
	} else {
		a.Prefs.forget(s.Key)
	}
	a, effects := a.writePref(s.Key, "", typed)
	return a.refreshBench().recomputed(), effects
}

func (a App) currencyTyped(text string) (App, []Effect) {
	if len(text) > maxCurrency {
		a.Bench.CurrencyError = words.S("Sign of your money: “%s” is too long; allowed: up to 8 letters, as $ or CHF; it stands before every price.", text)
		return a, nil
	}
	a.Bench.CurrencyError = ""
	return a.chosen(prefCurrency, text)
}
