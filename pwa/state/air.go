package state

import (
	"torchside/calc/units"
	"torchside/calc/vent"
)

// Air is the page that tells whether a room needs a fan.
type Air struct {
	Worksheet
	Answer  *vent.Result // nil while the question is not complete
	Problem string       // why there is no answer to a complete question
	Metals  []Option     // the materials that ask for more, each yes or no
	Chosen  map[string]bool
}

const whyRoom = "rooms people work in lie in this range"

// airSpecs are the fields; the materials are buttons beside them, under keys that begin with airMetal.
var airSpecs = []Spec{
	{Key: "place", Label: "Where is the work?", Type: TypeChoice, Default: string(vent.Room), Options: []Option{
		{Value: string(vent.Room), Label: "In a room"}, {Value: string(vent.Confined), Label: "Confined space", Note: "tank, pit, vessel"}, {Value: string(vent.OpenAir), Label: "In the open"}}},
	numberSpec("length", "Length of the room", "", units.QuantityLength, 0.3, 1000, whyRoom).need().only(indoors),
	numberSpec("width", "Width of the room", "", units.QuantityLength, 0.3, 1000, whyRoom).need().only(indoors),
	numberSpec("ceiling", "Height of the ceiling", "The lowest part over the work.", units.QuantityLength, 0.3, 100, whyRoom).need().only(indoors),
	numberSpec("welders", "How many work at once?", "Empty takes one.", units.QuantityNumber, 1, 100, "somebody works").whole(),
	{Key: "obstructed", Label: "Do partitions, balconies or stacks stop the air from crossing?", Type: TypeChoice, Default: "no", shown: indoors,
		Options: []Option{{Value: "no", Label: "No"}, {Value: "yes", Label: "Yes"}}},
}

func indoors(f fill) bool { return f.choices["place"] != string(vent.OpenAir) }

// airMetal begins the key of a material on the worksheet.
const airMetal = "has_"

// airAnswered asks package vent.
func (a App) airAnswered() App {
	r := &a.Air
	r.Answer, r.Problem, r.Metals, r.Chosen = nil, "", nil, map[string]bool{}
	in := vent.Input{Place: vent.Place(r.choice(airSpecs[0])), Welders: 1, Obstructed: r.Texts["obstructed"] == "yes"}
	for _, m := range vent.Materials() {
		r.Metals = append(r.Metals, Option{Value: airMetal + string(m), Label: m.Name()})
		if r.Texts[airMetal+string(m)] == "yes" {
			in.Materials = append(in.Materials, m)
			r.Chosen[airMetal+string(m)] = true
		}
	}
	if !r.complete {
		return a
	}
	if n, ok := r.si["welders"]; ok {
		in.Welders = int(n)
	}
	in.Ceiling = units.Length(r.si["ceiling"])
	in.Volume = units.Volume(r.si["length"] * r.si["width"] * r.si["ceiling"])
	answer, err := vent.Compute(in)
	if err != nil {
		r.Problem = err.Error()
		return a
	}
	r.Answer = &answer
	return a
}
