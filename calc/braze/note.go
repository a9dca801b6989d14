package braze

import (
	"torchside/calc/heat"
	"torchside/calc/words"
)

// Note is one thing to know.
type Note struct {
	Code       string // stable name
	Text       string // for a person
	Source     string
	FromMemory bool
	Stop       bool // true: read before anything else is done
}

// Sources of the rules on fume. 8 CCR 1536(b) was read: in an enclosed space local exhaust for cadmium, fluorides, lead and zinc. The
// paragraphs of 29 CFR 1910.252 on cadmium and zinc are from memory, that on fluorides was read in training material.
const (
	sourceExhaust = "8 CCR 1536(b)(1), local exhaust in enclosed spaces"
	sourceCadmium = "AWS A5.8 compositions; " + sourceExhaust + "; that it can kill: from memory"
)

var (
	noteZinc = Note{Code: "zinc_in_rod", Stop: true, Source: words.S("%s; 29 CFR 1910.252(c)(6), from memory", sourceExhaust),
		Text: "The filler holds zinc, or may: white fume means too hot, and it makes ill. Draw it away."}
	noteCadmiumChosen = Note{Code: "cadmium_chosen", Stop: true, Source: sourceCadmium,
		Text: "This filler holds cadmium: its fume cannot be seen to be poison, and can kill. Use one without; if it must be, only under strong exhaust and with an air-line mask."}
	noteLead = Note{Code: "lead", Stop: true, Source: words.S("old plumbing solder, not for drinking water (tin-lead diagram page); %s", sourceExhaust),
		Text: "This solder holds lead: not for drinking water or food. Wash your hands."}
	noteFluoride = Note{Code: "fluoride_flux", Stop: true, Source: words.S("29 CFR 1910.252(c)(5), read in training material; %s", sourceExhaust),
		Text: "The flux holds fluoride, or may: its smoke hurts eyes, nose and throat. Keep out of it, off your skin, and wash before eating."}
	noteAcid = Note{Code: "acid_flux", Stop: true, Source: commonly,
		Text: "The flux is acid: cover your eyes, keep it off your skin, and do not breathe its smoke."}
	noteGalvanisedSolder = Note{Code: "zinc_coating", Stop: true, Source: "melting point of zinc: CRC Handbook; 29 CFR 1910.252(c)(6), from memory",
		Text: words.S("Galvanised: keep it at soldering heat. Zinc melts at %s and smokes when hotter: the fume makes ill.", celsius(419.5))}
	noteAluminium = Note{Code: "aluminium_no_glow", Stop: true, Source: "melting point: CRC Handbook; alloys from memory", FromMemory: true,
		Text: words.S("Aluminium shows no colour before it collapses at %s, many alloys from about %s. Those that hold much magnesium or copper cannot be brazed: look yours up.", celsius(660.3), celsius(560))}
	noteTrapped = Note{Code: "closed_vessel", Stop: true, Source: "29 CFR 1910.252(a)(3)", FromMemory: true,
		Text: "Never heat a closed vessel or tube, or one that held what burns: vent it first."}
	noteButt = Note{Code: "butt_is_weak", Source: sourceTube,
		Text: "A butt is only as strong as its film of filler. A lap of three times the thinner part is as strong as the parts."}
	noteInox     = Note{Code: "stainless_crevice", Source: commonly, Text: "Silver joints in stainless may rust open in wet service: ask for a nickel-bearing class, and keep it out of water."}
	noteWarmIron = Note{Code: "cast_iron_warm", Source: commonly, Text: "Warm the whole casting before and cool it slowly after: cast iron cracks from uneven heat."}
)

// notes collects what there is to know, what stops first.
func (in Input) notes(r Result) []Note {
	var list []Note
	add := func(when bool, n Note) {
		if when {
			list = append(list, n)
		}
	}
	either := func(m Metal) bool { return in.Metal == m || in.Other == m }
	f, flux := r.Filler, r.Flux
	add(f.Cadmium, noteCadmiumChosen)
	add(!f.Cadmium && len(r.Cadmium) > 0, noteCadmium(r.Cadmium))
	add(f.Zinc, noteZinc)
	add(f.Lead, noteLead)
	add(flux.Fluoride, noteFluoride)
	add(flux.Acid, noteAcid)
	add(either(heat.GalvanisedSteel), noteGalvanisedSolder)
	add(either(heat.Aluminium), noteAluminium)
	add(true, noteTrapped)
	add(in.Process == Braze && (in.Joint == Butt || in.Joint == Tee || in.Joint == Corner), noteButt)
	add(in.Process == Braze && either(heat.StainlessSteel), noteInox)
	add(in.Process != Solder && either(heat.CastIron), noteWarmIron)
	return append(list, in.notesOfFit(r)...)
}

func noteCadmium(classes []string) Note {
	return Note{Code: "cadmium", Stop: true, Source: sourceCadmium,
		Text: words.S("Of the silver fillers %s hold cadmium, as do BAg-1a and BAg-2: the fume can kill. Use one without; an old rod nobody knows counts as one with.", words.Join(classes, ", "))}
}

// notesOfFit tells of gap and overlap.
func (in Input) notesOfFit(r Result) []Note {
	var list []Note
	if in.Process == BrazeWeld {
		return nil
	}
	source := r.GapSource
	switch g := r.Gap; {
	case in.Gap == 0:
	case float64(in.Gap) > g.High*1.001:
		list = append(list, Note{Code: "gap_wide", Source: source, FromMemory: r.GapFromMemory, Text: words.S("A gap of %s is wider than %s: the filler may not be drawn through, and the joint is weaker. Close it up, or braze-weld.", size(float64(in.Gap)), size(g.High))})
	case float64(in.Gap) < g.Low*0.999:
		list = append(list, Note{Code: "gap_tight", Source: source, FromMemory: r.GapFromMemory, Text: words.S("A gap of %s is tighter than %s: flux stays in it and keeps the filler out.", size(float64(in.Gap)), size(g.Low))})
	}
	if in.overlaps() && float64(in.Overlap) < overlapRatio*float64(in.Thinner)*0.999 {
		list = append(list, Note{Code: "overlap_short", Source: sourceTube, Text: words.S("An overlap of %s is less than three times the thinner part, %s: the joint is weaker than the parts.", size(float64(in.Overlap)), size(overlapRatio*float64(in.Thinner)))})
	}
	if closes := r.Closes; closes > 0.05*r.Gap.Value {
		list = append(list, Note{Code: "gap_when_hot", Source: sourceExpansion, FromMemory: true, Text: words.S("Hot, the gap is %s tighter with the %s inside, and as much wider with it outside. Allow for it when you fit the parts.", size(closes), in.wider().Name())})
	}
	return list
}
