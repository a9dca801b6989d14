package heat

import (
	"fmt"

	"torchside/calc/words"
)

// Note is one thing to know beside a number.
type Note struct {
	Code       string // stable name
	Text       string // for a person
	Source     string
	FromMemory bool
	Stop       bool // true: read before anything else is done
}

const commonPractice = "common practice, no source"

// noteNoColour stands before any number for a metal that gives no warning.
func noteNoColour(p Properties) Note {
	return Note{Code: "no_colour", Stop: true, Source: "CRC Handbook, melting point of aluminium; glow starts near 525 °C and shows on a dark surface only (from memory)", FromMemory: true,
		Text: words.F("No colour warning before it melts: aluminium looks the same until it collapses at %s, alloys earlier. Measure with a crayon or a thermometer, never judge by eye.", text(p.Melts.Low))}
}

var (
	noteAlloy = Note{Code: "alloy_melts_earlier", Stop: true, Source: "solidus of common alloys (from memory)", FromMemory: true,
		Text: "Aluminium alloys begin to melt from about 500 to 640 °C (930 to 1180 °F), by alloy: look yours up before you heat past 450 °C (840 °F)."}
	noteZinc = Note{Code: "galvanised", Stop: true, Source: "29 CFR 1910.252(c)(6) (zinc)", FromMemory: true,
		Text: "Zinc burns off the coating as white smoke that makes you ill: take the coating off first, and ventilate."}
	noteClosed = Note{Code: "closed_tube", Stop: true, Source: "29 CFR 1910.252(a)(3) (hollow parts are vented)", FromMemory: true,
		Text: "Vent the tube before you heat it: closed at both ends, or with water, oil or paint inside, it can burst."}
	noteCastIron = Note{Code: "cast_iron", Source: commonPractice,
		Text: "Cast iron cracks when it is heated unevenly or fast: bring the whole piece up slowly, and let it cool as slowly."}
	noteBrass = Note{Code: "brass_zinc", Source: commonPractice,
		Text: "Hot brass gives off zinc: ventilate. It is brittle between about 300 and 600 °C (570 and 1110 °F)."}
)

// notes collects what there is to know, what stops first.
func (in Input) notes(p Properties, r Result) []Note {
	var notes []Note
	add := func(when bool, n Note) {
		if when {
			notes = append(notes, n)
		}
	}
	add(!p.Glows, noteNoColour(p))
	add(in.Metal == Aluminium && in.Target > 450+zeroCelsius, noteAlloy)
	add(in.Metal == GalvanisedSteel, noteZinc)
	add(in.Piece.Shape == Tube, noteClosed)
	add(float64(r.Middle) > p.Melts.Low, noteMelts(in, p, r))
	add(in.Metal == CastIron, noteCastIron)
	add(in.Metal == Brass, noteBrass)
	lag := in.lag(p)
	add(lag > 50, noteLag(lag))
	add(r.NeverHigh, noteWeak())
	add(p.FromMemory, Note{Code: "properties_from_memory", Source: p.Source, FromMemory: true,
		Text: words.S("Part of the heat data of %s is from memory: take the time as a rough guide.", in.Metal.Name())})
	return notes
}

func noteMelts(in Input, p Properties, r Result) Note {
	return Note{Code: "middle_melts", Stop: true, Source: p.Source,
		Text: words.F("The middle of the zone would be at %s when its mean is at the target, and %s starts to melt at %s: heat a shorter zone or move the flame.", text(float64(r.Middle)), in.Metal.Name(), text(p.Melts.Low))}
}

func noteLag(lag float64) Note {
	return Note{Code: "core_lags", Source: "one-dimensional conduction, even flux at the surface",
		Text: words.F("The skin runs about %.0f °C (%.0f °F) ahead of the core while the flame is on: go round the bar, and let it even out before you judge.", lag, lag*1.8)}
}

func noteWeak() Note {
	return Note{Code: "may_never_reach", Source: reasonBand,
		Text: "At the low end of the efficiency the flame never gets there: a larger tip or a shorter zone is surer."}
}

// lag is how much hotter the surface is than the middle, K: flux × path / (2 k) of a slab heated evenly from its surface, which is
// also that of a round bar over its radius.
func (in Input) lag(p Properties) float64 {
	s := in.Piece.section()
	flux := float64(in.Power) * in.Efficiency / (s.perimeter * float64(in.Zone))
	return flux * s.path / (2 * p.Conductivity(in.Target))
}

// text writes a temperature in both scales.
func text(k float64) string {
	return fmt.Sprintf("%.0f °C (%.0f °F)", k-zeroCelsius, (k-zeroCelsius)*1.8+32)
}
