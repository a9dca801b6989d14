package cut

import (
	"torchside/calc/words"
)

// Note is one thing to know before a number.
type Note struct {
	Code       string // stable name
	Text       string // for a person
	Source     string
	FromMemory bool
	Stop       bool // true: read before anything else is done
}

const commonPractice = "common practice, no source"

var (
	noteZinc = Note{Code: "zinc_coating", Stop: true, Source: "29 CFR 1910.252(c)(6)", FromMemory: true,
		Text: "Galvanised: zinc fume makes ill. Take the zinc off well beyond the cut, and draw the fume away."}
	notePaint = Note{Code: "coating", Stop: true, Source: "29 CFR 1910.252(c)(7), lead; paint in general", FromMemory: true,
		Text: "Painted: the coating burns to smoke that may be poison, and old paint may hold lead. Take it off well beyond the cut, and ventilate."}
	noteClosed = Note{Code: "closed_vessel", Stop: true, Source: "29 CFR 1910.252(a)(3)", FromMemory: true,
		Text: "Never cut a closed or used container before it is cleaned and vented: it can burst."}
	noteSparks = Note{Code: "sparks", Stop: true, Source: "29 CFR 1910.252(a)(2)", FromMemory: true,
		Text: "Sparks and slag fly further than from welding: clear what burns within 11 m (35 ft), and watch for fire afterwards."}
	notePierce = Note{Code: "pierce", Source: commonPractice,
		Text: "Piercing: heat the spot bright, lift the torch, open the oxygen slowly and lean away from the blow-back. Start from an edge or a drilled hole where you can."}
	noteHardened = Note{Code: "hardened_edge", Source: commonPractice,
		Text: "Steel with more carbon hardens and may crack at the cut edge: preheat it, and let it cool slowly."}
)

// notes collects what there is to know, what stops first.
func (in Input) notes(r Result, j jet) []Note {
	var notes []Note
	add := func(when bool, n Note) {
		if when {
			notes = append(notes, n)
		}
	}
	add(in.Metal == GalvanisedSteel, noteZinc)
	add(in.Painted, notePaint)
	add(true, noteSparks)
	add(true, noteClosed)
	add(in.Start == Pierce, notePierce)
	add(in.Metal == MediumCarbonSteel, noteHardened)
	add(in.Purity < UsualPurity, notePurity(r.Purity))
	add(r.FromMemory, Note{Code: "settings_from_memory", Source: "handbook ranges", FromMemory: true,
		Text: "Below 6 mm (0.24 in) and above 100 mm (3.9 in) orifice, pressure and speed are from memory: try on scrap first."})
	add(j.flow.Value > 1.2*j.chosenFlow, Note{Code: "wide_orifice", Source: "choked flow through the orifice",
		Text: words.F("The orifice is wider than this thickness needs: it uses %.1f times the oxygen and leaves a wide kerf.", j.flow.Value/j.chosenFlow)})
	return notes
}

func notePurity(i Impurity) Note {
	n := Note{Code: "impure_oxygen", Source: "course notes on oxygen cutting, 98.5 against 99.5 %",
		Text: words.F("Oxygen this impure leaves %.0f %% of the speed and uses %.0f %% more oxygen for the same cut.", i.Speed*100, (i.Use-1)*100)}
	if i.Extrapolated {
		n.Text += words.T(" Below 98.5 % that is an extrapolation.")
	}
	return n
}
