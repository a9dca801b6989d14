package vent

import (
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Place is where the work is done.
type Place string

// The places. A confined space is one that is hard to leave and airs badly: a tank, a pit, the inside of a vessel.
const (
	Room     Place = "room"
	Confined Place = "confined"
	OpenAir  Place = "open_air"
)

// Places returns the words of a place.
func Places() []Place { return []Place{Room, Confined, OpenAir} }

// Input is a question.
type Input struct {
	Place      Place
	Volume     units.Volume // of the room, m³; not asked in the open air
	Ceiling    units.Length // its height, m; not asked in the open air
	Welders    int          // who work at once
	Obstructed bool         // partitions, balconies or other barriers stop air from crossing
	Materials  []Material   // what is in base metal, coating, filler or flux
}

// Result is the answer. Reasons, Measures and Notes each name their source.
type Result struct {
	Mechanical bool // ventilation by a fan is required
	Natural    bool // the rule takes natural ventilation for sufficient
	// Flow is the least rate of a fan for everybody who works, m³/s of air as it is; 0 where none is required.
	Flow       float64
	AirChanges float64      // of Flow in the room, per hour; 0 where none is required
	PerWelder  units.Volume // room for each, m³; 0 in the open air
	Reasons    []Note       // why a fan is required, or not
	Measures   []Note       // what a metal or place asks besides, what stops first
	Notes      []Note
}

// Limits of 29 CFR 1910.252(c)(2). The rule prints feet and metres, which differ in the last digit: the larger figure holds here.
const (
	LeastVolume  units.Volume = 284                              // m³ per welder; (i)(A) prints 10,000 cubic feet (284 m³)
	LeastCeiling units.Length = 5                                // m; (i)(B) prints 16 feet (5 m)
	PerWelder                 = 2000 * units.CubicFoot / 60      // m³/s; (ii) prints 2,000 cubic feet (57 m³) per minute
	printedFeet               = 10000 * float64(units.CubicFoot) // m³
	printedHigh               = 16 * float64(units.Foot)         // m
)

// Limits of what is asked, ours: a shop is neither smaller than a cupboard nor larger than a shipyard hall.
const (
	smallest, largest = 0.5, 1e6
	lowest, highest   = 0.3, 100
	mostWelders       = 100
)

const whyRoom = "rooms people work in lie in this range"

// Check says what of a question cannot be: a *gas.RangeError or a *WordError, with the field as the command line writes it.
func (in Input) Check() error {
	if !known(in.Place, Places()) {
		return &WordError{"place", string(in.Place), joined(Places())}
	}
	for _, m := range in.Materials {
		if !known(m, Materials()) {
			return &WordError{"materials", string(m), joined(Materials())}
		}
	}
	if err := gas.InRange("welders", float64(in.Welders), 1, mostWelders, "", "somebody works, and all at once"); err != nil {
		return err
	}
	if in.Place == OpenAir {
		return nil
	}
	if err := gas.InRange("room_volume_m3", float64(in.Volume), smallest, largest, "m3", whyRoom); err != nil {
		return err
	}
	return gas.InRange("ceiling_height_m", float64(in.Ceiling), lowest, highest, "m", whyRoom)
}

// Compute answers a question; the error is that of Check.
func Compute(in Input) (Result, error) {
	if err := in.Check(); err != nil {
		return Result{}, err
	}
	r := Result{Measures: in.measures()}
	if in.Place != OpenAir {
		r.PerWelder = units.Volume(float64(in.Volume) / float64(in.Welders))
	}
	r.Reasons = in.reasons(r.PerWelder)
	r.Mechanical = len(r.Reasons) > 0
	if r.Mechanical {
		r.Flow = PerWelder * float64(in.Welders)
		r.AirChanges = r.Flow * units.Hour / float64(in.Volume)
	} else {
		r.Natural = len(in.Materials) == 0
		r.Reasons = []Note{in.none()}
	}
	r.Notes = in.notes(r)
	return r, nil
}

// reasons are the conditions of the rule that hold.
func (in Input) reasons(perWelder units.Volume) []Note {
	var list []Note
	add := func(when bool, n Note) {
		if when {
			list = append(list, n)
		}
	}
	add(in.Place == Confined, noteConfined)
	if in.Place != OpenAir {
		add(perWelder < LeastVolume, noteVolume(perWelder))
		add(in.Ceiling < LeastCeiling, noteCeiling(in.Ceiling))
		add(in.Obstructed, noteObstructed)
	}
	return list
}

// none says why no fan is required.
func (in Input) none() Note {
	switch {
	case in.Place == OpenAir:
		return noteOpenAir
	case len(in.Materials) > 0:
		return noteOnlyMaterials
	}
	return noteNatural
}

// WordError is a word that is none of those allowed.
type WordError struct{ Field, Read, Allowed string }

// Error gives the field, what was read and what is allowed.
func (e *WordError) Error() string {
	return words.F("%s: read %q; allowed is one of %s", e.Field, e.Read, e.Allowed)
}

func known[T comparable](word T, list []T) bool {
	for _, w := range list {
		if w == word {
			return true
		}
	}
	return false
}

func joined[T ~string](list []T) string {
	said := make([]string, len(list))
	for i, w := range list {
		said[i] = string(w)
	}
	return words.Join(said, ", ")
}
