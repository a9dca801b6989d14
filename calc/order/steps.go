package order

import (
	"fmt"
	"maps"
	"slices"

	"torchside/calc/words"
)

// Facts are what is known of a rig, by name; a name that is missing is not known.
type Facts map[string]string

// The names and values of facts. A choice of the book is a fact too, by its id.
const (
	FactMixing = "mixing" // MixingEqual or MixingInjector
	FactFuel   = "fuel"   // FuelAcetylene or FuelOther
	FactHead   = "head"   // HeadFlame or HeadCutting

	MixingEqual    = "equal_pressure"
	MixingInjector = "injector"
	FuelAcetylene  = "acetylene"
	FuelOther      = "other"
	HeadFlame      = "flame"
	HeadCutting    = "cutting"
)

// factWords say for whom a step is when a fact is not known.
var factWords = map[string]map[string]string{
	FactMixing: {MixingEqual: "Equal-pressure torch only", MixingInjector: "Injector torch only"},
	FactFuel:   {FuelAcetylene: "Acetylene only", FuelOther: "Other fuel gases only"},
	FactHead:   {HeadFlame: "Welding or heating tip only", HeadCutting: "Cutting head only"},
}

// Steps are the steps of an order for a rig. Of a choice that was not made the default holds. A step whose fact is not known
// stays, and Only says for whom it is: nothing is left out by guessing. An unknown order is an error.
func (b Book) Steps(id string, known Facts) ([]Step, error) {
	o, ok := b.Order(id)
	if !ok {
		return nil, fmt.Errorf(words.T("there is no order of work %q"), id)
	}
	facts := Facts{}
	for _, c := range b.Choices {
		facts[c.ID] = c.Default
		if v := known[c.ID]; slices.ContainsFunc(c.Options, func(o Option) bool { return o.Value == v }) {
			facts[c.ID] = v
		}
	}
	for name, values := range factWords {
		if v := known[name]; values[v] != "" {
			facts[name] = v
		}
	}
	maps.Copy(facts, o.Given)
	var steps []Step
	for _, s := range o.Steps {
		if only, fits := s.fits(facts); fits {
			s.Only = only
			steps = append(steps, s)
		}
	}
	return steps, nil
}

// fits tells whether a step is for these facts, and for whom it is where they do not say.
func (s Step) fits(facts Facts) (only string, ok bool) {
	for _, name := range slices.Sorted(maps.Keys(s.When)) {
		switch want := s.When[name]; facts[name] {
		case want:
		case "":
			only = factWords[name][want]
		default:
			return "", false
		}
	}
	return only, true
}
