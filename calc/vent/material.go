package vent

import (
	"slices"

	"torchside/calc/words"
)

// Material is what makes a fume poisonous, in base metal, coating, filler or flux.
type Material string

// The materials, the most poisonous first.
const (
	Beryllium Material = "beryllium"
	Cadmium   Material = "cadmium"
	Lead      Material = "lead"
	Mercury   Material = "mercury"
	Chromium  Material = "chromium"
	Zinc      Material = "zinc"
	Fluoride  Material = "fluoride"
)

// Materials returns the words, the most poisonous first.
func Materials() []Material {
	return []Material{Beryllium, Cadmium, Lead, Mercury, Chromium, Zinc, Fluoride}
}

// Name is the material in trade words, with where it hides.
func (m Material) Name() string { return materialFacts[m].name }

// fact is where a material hides, and what it does.
type fact struct{ name, where, harm string }

// materialFacts: what it does is common practice, no source.
var materialFacts = map[Material]fact{
	Beryllium: {"Beryllium", "beryllium copper: springs, non-sparking tools", "A trace of its fume can ruin the lungs for life."},
	Cadmium:   {"Cadmium", "golden or grey plating on old bolts; silver fillers BAg-1, 1a, 2, 2a and 3", "Its fume kills without a smell or a warning: the lungs fill hours later."},
	Lead:      {"Lead", "old paint, lead solder, terne plate, free-cutting brass and steel", "It stays in the body and harms nerves and blood; it goes home on clothes."},
	Mercury:   {"Mercury", "coatings and old instruments", "It is a vapour long before it glows."},
	Chromium:  {"Chromium", "stainless steel, hard chrome plating, chromate paint", "Hot it can become hexavalent chromium, which causes cancer."},
	Zinc:      {"Zinc", "galvanised steel, brass, bronze and brazing rods, zinc-rich primer", "White smoke that gives chills and fever the same night. Take the coating off first."},
	Fluoride:  {"Fluoride", "white and black silver-brazing flux, aluminium flux", "Its smoke burns eyes, nose and lungs."},
}

const (
	sourceCalifornia = "8 CCR 1536 (California)"
	sourceMichigan   = "Michigan R 325.62108"
	sourceFederal    = "29 CFR 1910.252(c)(5) to (c)(12) has a paragraph for each of these materials"
	sourceConfined   = "WAC 296-155-415 (Washington)"
)

// measures are what materials and place ask besides, what stops first.
func (in Input) measures() []Note {
	var list []Note
	if in.Place == Confined {
		list = append(list, noteNoOxygen, noteWatch)
	}
	for _, m := range Materials() {
		if slices.Contains(in.Materials, m) {
			list = append(list, in.measure(m))
		}
	}
	return list
}

// measure is what a material asks at the place.
func (in Input) measure(m Material) Note {
	f := materialFacts[m]
	n := Note{Code: "has_" + string(m), Stop: true}
	before := words.S("%s (%s). %s ", f.name, f.where, f.harm)
	switch {
	case m == Beryllium && in.Place == OpenAir:
		n.Text, n.Source = words.S("%sOnly a supplied-air respirator will do, in the open too.", before), sourceCalifornia+" (c)(1); "+sourceMichigan+"(3)"
	case m == Beryllium:
		n.Text, n.Source = words.S("%sIt asks for local exhaust and a supplied-air respirator, both.", before), sourceMichigan+"(2)(d)"
	case in.Place == OpenAir:
		n.Text, n.Source = words.S("%sIn the open wear a respirator for this fume, and stand upwind.", before), sourceCalifornia+" (c); "+sourceMichigan+"(3)"
	default:
		n.Text, n.Source = words.S("%sIndoors it asks for exhaust at the work itself; where that does not work, for a supplied-air respirator. Airing the room is not enough.", before),
			sourceCalifornia+" (b)"
		if m == Zinc || m == Chromium {
			n.Source += words.S("; %s(1) would take general ventilation: the stricter one is shown", sourceMichigan)
		}
	}
	n.Source += words.S("; %s", sourceFederal)
	return n
}
