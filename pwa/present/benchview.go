package present

import (
	"fmt"

	"torchside/calc/heat"
	"torchside/calc/units"
	"torchside/calc/vent"
	"torchside/calc/words"
)

// BenchAnswer is the answer of a Bench page: what warns, then the word and the number, then facts.
type BenchAnswer struct {
	Warnings []Warning
	Word     string // "A fan is required"
	Number   string // the main number, "2000 ft³/min"; may be empty
	Under    string // what stands under it: where the number comes from
	Facts    []Fact
	Reasons  []Warning
}

// airFlow writes a flow of air as it is; it is no gas at a standard state.
func airFlow(m3s float64, o Options) string {
	if o.Units.IsUS() {
		return fmt.Sprintf("%.0f ft³/min", m3s*units.Minute/units.CubicFoot)
	}
	return fmt.Sprintf("%.1f m³/min", m3s*units.Minute)
}

func size(m units.Length, o Options) string {
	return words.Number(units.Format(units.QuantityThickness, float64(m), o.Units.Unit(units.QuantityThickness), 0))
}

// NewAir writes the answer about a room.
func NewAir(r vent.Result, o Options) BenchAnswer {
	a := BenchAnswer{Warnings: ventWarnings(r.Measures, o), Reasons: ventWarnings(append(append([]vent.Note(nil), r.Reasons...), r.Notes...), o), Word: "The rule asks for no fan"}
	switch {
	case r.Mechanical:
		a.Word, a.Number = "A fan is required", airFlow(r.Flow, o)
		a.Under = "at least, for all who work. 2000 ft³/min (57 m³/min) for each: 29 CFR 1910.252(c)(2)(ii)"
		a.Facts = append(a.Facts, Fact{"Air changes an hour", fmt.Sprintf("%.0f", r.AirChanges), "air.changes"})
	case len(r.Measures) > 0:
		a.Word = "The room asks for no fan, the metal does ask for more"
	}
	if r.PerWelder > 0 {
		text := fmt.Sprintf("%.0f m³", r.PerWelder)
		if o.Units.IsUS() {
			text = fmt.Sprintf("%.0f ft³", float64(r.PerWelder)/units.CubicFoot)
		}
		a.Facts = append(a.Facts, Fact{"Room for each who works", text, "air.room"})
	}
	return a
}

// AirHoods are the facts of hoods, by distance from the work.
func AirHoods(o Options) []Fact {
	var list []Fact
	for _, h := range vent.Hoods() {
		list = append(list, Fact{Name: words.S("Hood %s to %s from the work", size(h.Near, o), size(h.Far, o)), Value: words.S("%s through a %s duct", airFlow(h.Flow, o), size(h.Duct, o))})
	}
	return list
}

// AirHoodsSource is where they come from.
func AirHoodsSource() string { return vent.SourceHoods }

func ventWarnings(list []vent.Note, o Options) []Warning {
	var out []Warning
	for _, n := range list {
		w := Warning{Code: n.Code, Level: "note", Word: "Note", Text: o.Units.Say(n.Text), Source: n.Source}
		if n.Stop {
			w.Level, w.Word = "caution", "Caution"
		}
		out = append(out, w)
	}
	return out
}

// NewPreheat writes the answer about a steel.
func NewPreheat(p heat.Preheat, o Options) BenchAnswer {
	a := BenchAnswer{Word: "No preheat is asked for", Under: words.S("Source: %s", p.Source)}
	if p.Lowest > 0 {
		a.Word = "Preheat, and between passes never below"
		a.Number = words.Number(units.Format(units.QuantityTemperature, float64(p.Lowest), o.Units.Unit(units.QuantityTemperature), 0))
	}
	if p.FromMemory {
		a.Under = words.S("From memory, not checked; it only makes the table stricter. %s", a.Under)
	}
	for _, n := range p.Notes {
		source := n.Source
		if n.FromMemory {
			source += words.T(" (from memory)")
		}
		a.Warnings = append(a.Warnings, Warning{Code: n.Code, Level: "caution", Word: "Caution", Text: o.Units.Say(n.Text), Source: source})
	}
	e := p.Equivalent
	a.Facts = []Fact{
		{"Carbon equivalent, IIW", words.F("%.3f: %s to weld", e.IIW, e.Weldability()), "preheat.iiw"},
		{"The same with silicon, AWS D1.1", fmt.Sprintf("%.3f", e.D11), "preheat.d11"},
		{"Pcm, for carbon up to 0.12 %", fmt.Sprintf("%.3f", e.Pcm), "preheat.pcm"},
	}
	return a
}
