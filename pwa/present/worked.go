package present

import (
	"strconv"

	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Worked is what worked before, ready to show.
type Worked struct {
	Head  string // in a few words
	Facts []Fact
	Words string // from how many sheets, and what it does not say
}

// NewWorked writes what worked before for a person.
func NewWorked(w journal.Worked, o Options) Worked {
	v := Worked{Words: finished(w.Words)}
	if !w.Enough {
		v.Head = words.S("%s of %s sheets", strconv.Itoa(w.Sheets), strconv.Itoa(journal.NeedSheets))
		return v
	}
	v.Words += words.T(" The middle value of each, with the lowest and the highest. They are notes: but for acetylene over its limit, which is left out, nothing of them was checked against your rig or a limit. The card above was.")
	if w.Sample {
		v.Words = words.S("Invented sample sheets, not yours. %s", v.Words)
	}
	v.Head = words.S("your best %s of %s sheets", strconv.Itoa(w.Used), strconv.Itoa(w.Sheets))
	if w.Sample {
		v.Head = words.S("SAMPLE: the best %s of %s invented sheets", strconv.Itoa(w.Used), strconv.Itoa(w.Sheets))
	}
	common := func(name string, c journal.Common, said func(string) string) {
		if c.N > 0 {
			v.Facts = append(v.Facts, Fact{Name: name, Value: words.S("%s (%s of %s)", said(c.Value), strconv.Itoa(c.N), strconv.Itoa(c.Of))})
		}
	}
	spread := func(name string, s journal.Spread, of scale) {
		if s.N == 0 {
			return
		}
		text := of.text(s.Median)
		if band := of.band(s.Low, s.High); band != "" {
			text += " (" + band + ")"
		}
		v.Facts = append(v.Facts, Fact{Name: name, Value: text})
	}
	same := func(s string) string { return s }
	common("Tip", w.Tip, same)
	spread("Oxygen at the regulator", w.OxygenPa, workedScale("oxygen_gauge_pa", o))
	spread("Fuel at the regulator", w.FuelPa, workedScale("fuel_gauge_pa", o))
	spread("Oxygen to fuel", w.Ratio, workedScale("ratio", o))
	common("Flame, by eye", w.Flame, journal.Name)
	common("Rod", w.Filler, same)
	spread("Rod diameter", w.FillerD, workedScale("filler_diameter_m", o))
	spread("Travel speed", w.Speed, scale{quantity: units.QuantitySpeed, unit: o.Units.Unit(units.QuantitySpeed)})
	spread("Overall score", w.Score, scale{quantity: units.QuantityNumber, unit: o.Units.Unit(units.QuantityNumber)})
	return v
}

func workedScale(field string, o Options) scale {
	q, u := sheetUnit(field, o)
	return scale{quantity: q, unit: u}
}
