package state

import (
	"strconv"

	"torchside/calc/leak"
	"torchside/calc/units"
	"torchside/calc/words"
)

// LeakOffer is one test that can be begun.
type LeakOffer struct{ Section, Label, Note string }

// LeakOffers are the tests of a line in the order they are offered.
func LeakOffers(line string) []LeakOffer {
	delivery, supply := leak.OxygenDelivery, leak.OxygenSupply
	if line == LineFuel {
		delivery, supply = leak.FuelDelivery, leak.FuelSupply
	}
	return []LeakOffer{
		{string(delivery), "Delivery side", "regulator, hose, up to the torch valve"},
		{string(supply), "Supply side", "cylinder valve to regulator seat"},
		{string(leak.WholeRig), "Whole line", "both gauges together"},
		{string(leak.RegulatorCreep), "Regulator creep", "does the delivery gauge rise with the torch shut?"},
	}
}

// FuelName is the JSON name of the fuel in use, acetylene when there is none.
func (a App) FuelName() string { return string(a.leakGas(LineFuel)) }

// LineGas names the gas of a line for a person.
func (a App) LineGas(line string) string { return a.leakGas(line).Name() }

// Line is the line of the rig the history is of.
func (h LeakHistory) Line() string { return lineOf(h.Gas) }

// SectionName names the section being prepared.
func (l Leak) SectionName() string { return sectionName(l.Section, l.Gas) }

// Sized reports whether there is a rate.
func (o LeakAnswer) Sized() bool { return o.Leak != units.Band{} }

// ReadingLine is one reading in words.
type ReadingLine struct{ At, Text string }

// Readings writes the readings in the owner's units: how long after the start, and what was read.
func (v LeakView) Readings(system units.System) []ReadingLine {
	t := v.Test
	main, other := gaugeNames(t.Section)
	names := []struct {
		key, name string
		quantity  units.Quantity
	}{{leakGauge, main, units.QuantityPressure}, {leakOther, other, units.QuantityPressure}, {leakTemperature, "thermometer", units.QuantityTemperature}}
	list := make([]ReadingLine, 0, len(t.Readings))
	for i, r := range t.Readings {
		line := ReadingLine{At: "Start"}
		if i > 0 {
			line.At = words.S("After %s", spanWords(r.At-t.Start))
		}
		for _, n := range names {
			v, ok := r.Values[n.key]
			if !ok {
				continue
			}
			if line.Text != "" {
				line.Text += ", "
			}
			line.Text += words.S("%s %s", n.name, asRead(n.quantity, v, system))
		}
		list = append(list, line)
	}
	return list
}

// asRead writes a number in the owner's unit, and as it was typed besides when that was another: rounding would hide half a division.
func asRead(q units.Quantity, v Value, system units.System) string {
	u := system.Unit(q)
	typed := v.Typed
	if _, err := strconv.ParseFloat(typed, 64); err == nil {
		typed += " " + v.Unit
	}
	if v.Unit == u.Symbol() {
		return typed
	}
	return units.Format(q, v.SI, u, 0) + " (" + typed + ")"
}
