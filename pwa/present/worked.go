package present

import (
	"strconv"

	"torchside/calc/journal"
	"torchside/calc/units"
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
		v.Head = strconv.Itoa(w.Sheets) + " of " + strconv.Itoa(journal.NeedSheets) + " sheets"
		return v
	}
	v.Words += " The middle value of each, with the lowest and the highest. They are notes: but for acetylene over its limit, which is left out, nothing of them was checked against your rig or a limit. The card above was."
	if w.Sample {
		v.Words = "Invented sample sheets, not yours. " + v.Words
	}
	v.Head = "your best " + strconv.Itoa(w.Used) + " of " + strconv.Itoa(w.Sheets) + " sheets"
	if w.Sample {
		v.Head = "SAMPLE: the best " + strconv.Itoa(w.Used) + " of " + strconv.Itoa(w.Sheets) + " invented sheets"
	}
	common := func(name string, c journal.Common, words func(string) string) {
		if c.N > 0 {
			v.Facts = append(v.Facts, Fact{Name: name, Value: words(c.Value) + " (" + strconv.Itoa(c.N) + " of " + strconv.Itoa(c.Of) + ")"})
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
