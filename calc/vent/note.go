package vent

import (
	"torchside/calc/units"
	"torchside/calc/words"
)

// Note is one thing to know beside the answer.
type Note struct {
	Code   string // stable name
	Text   string // for a person
	Source string
	Stop   bool // read before anything else is done
}

const sourceRule = "29 CFR 1910.252(c)(2)"

var (
	noteConfined = Note{Code: "confined", Stop: true, Source: sourceRule + "(i)(C); " + sourceConfined + "(2)",
		Text: "A confined space: nothing is heated in it without ventilation by a fan or local exhaust."}
	noteObstructed = Note{Code: "obstructed", Source: sourceRule + "(i)(C)",
		Text: "Partitions, balconies or other barriers stop the air from crossing the room."}
	noteNatural = Note{Code: "natural_suffices", Source: sourceRule + "(ii)",
		Text: "Room, ceiling and free crossing of the air are enough: the rule takes natural ventilation for sufficient."}
	noteOnlyMaterials = Note{Code: "room_suffices", Source: sourceRule + "(i)",
		Text: "The room by itself asks for no fan, but the rule for rooms does not cover these materials: what they ask stands above."}
	noteOpenAir = Note{Code: "open_air", Source: sourceRule,
		Text: "In the open the rule for rooms asks for nothing. Work with the wind at your side, the smoke going away from your face."}
	noteNoOxygen = Note{Code: "never_oxygen", Stop: true, Source: sourceConfined + "(1)(f)",
		Text: "Never let oxygen out to freshen the air or to cool off: clothes and hair then burn like a torch."}
	noteWatch = Note{Code: "person_outside", Stop: true, Source: words.S("%s(2)(b); 29 CFR 1910.146(b)", sourceConfined),
		Text: "Measure the air before going in: oxygen 19.5 to 23.5 %, fuel gas under 10 % of its lower limit. Leave cylinders outside, and a person there who does nothing but watch."}
	noteFace = Note{Code: "head_out_of_smoke", Source: "common practice, no source",
		Text: "Keep your head out of the rising smoke whatever the fan does."}
	noteSolvent = Note{Code: "no_solvents", Stop: true, Source: "29 CFR 1910.252(c)(11) (from memory)",
		Text: "No chlorinated cleaner near the flame: its vapour turns into poisonous gas."}
)

func noteVolume(v units.Volume) Note {
	n := Note{Code: "small_room", Source: sourceRule + "(i)(A)",
		Text: words.F("Each welder has %.0f m³ (%.0f ft³) of room; the rule asks for a fan below 284 m³ (10\u00a0000 ft³).", v, float64(v)/units.CubicFoot)}
	if float64(v) >= printedFeet {
		n.Text += words.T(" The feet of the rule alone would let it pass, its metres do not: the stricter holds.")
	}
	return n
}

func noteCeiling(h units.Length) Note {
	n := Note{Code: "low_ceiling", Source: sourceRule + "(i)(B)",
		Text: words.F("The ceiling is at %.2f m (%.1f ft); the rule asks for a fan below 5 m (16 ft).", h, float64(h)/units.Foot)}
	if float64(h) >= printedHigh {
		n.Text += words.T(" The feet of the rule alone would let it pass, its metres do not: the stricter holds.")
	}
	return n
}

// notes are what is good to know beside the answer.
func (in Input) notes(r Result) []Note {
	list := []Note{noteSolvent}
	if r.Mechanical {
		list = append(list, Note{Code: "hood_instead", Source: words.S("%s(ii), (c)(3)", sourceRule),
			Text: "A hood close to the work that draws 100 ft/min (30 m/min) of air past it does instead, or an airline respirator."})
	}
	return append(list, noteFace)
}

// Hood is how much a hood must draw by its distance from the work: a flanged opening 3 in wide.
type Hood struct {
	Near, Far units.Length // distance from the work, m
	Flow      float64      // m³/s of air
	Duct      units.Length // diameter, m
}

// SourceHoods is where Hoods comes from.
const SourceHoods = "29 CFR 1910.252(c)(3)(i); with cadmium more may be required (its footnote)"

// Hoods returns the rates of the rule, the nearest first.
func Hoods() []Hood {
	row := func(near, far, cubicFeetAMinute, duct float64) Hood {
		return Hood{units.Length(near * units.Inch), units.Length(far * units.Inch), cubicFeetAMinute * units.CubicFoot / units.Minute, units.Length(duct * units.Inch)}
	}
	return []Hood{row(4, 6, 150, 3), row(6, 8, 275, 3.5), row(8, 10, 425, 4.5), row(10, 12, 600, 5.5)}
}
