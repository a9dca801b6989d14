package state

import (
	"strings"

	"torchside/calc/braze"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Keys of what brazing asks besides, in Setup.Typed. The first three are choices.
const (
	keyProcess = "process"
	keyOther   = "other_metal"
	keyFiller  = "filler"
	keySeam    = "seam"
	keyTube    = "tube"
	keyOverlap = "overlap"
	keyGap     = "gap"
	keyLeg     = "leg"
	keyJoints  = "joints"
	keyWeld    = "weld_length"
)

const whyJoint = "torch joints lie in this range"

// jointSpecs are the typed fields of a joint. What is left empty is not worked out, or takes what the help says.
var jointSpecs = []Spec{
	numberSpec(keySeam, "Length of the joint", "Along the seam. With it the card says how much rod and flux it takes.", units.QuantityThickness, 0.001, 20, whyJoint),
	numberSpec(keyTube, "Tube, outside diameter", "Of a tube in a cup; it then needs no length. Empty for a flat lap.", units.QuantityThickness, 0.003, 0.4, whyJoint),
	numberSpec(keyOverlap, "Overlap", "How far the parts lie over each other. Empty takes three times the thickness.", units.QuantityThickness, 0.0002, 0.15, "filler is not drawn in farther"),
	numberSpec(keyGap, "Gap between the parts", "Cold, on one side. Empty takes what the filler wants.", units.QuantityThickness, 0.00001, 0.001, "no filler is drawn into a wider gap: close it, or braze-weld"),
	numberSpec(keyLeg, "Leg of the fillet", "Empty takes the thickness.", units.QuantityThickness, 0.0005, 0.05, whyJoint),
	numberSpec(keyWeld, "Length of the weld", "For time, gas and cost. May stay empty.", units.QuantityThickness, 0.001, 100, "the length of a weld"),
	numberSpec(keyJoints, "Joints alike", "Empty takes one.", units.QuantityNumber, 1, 10000, "joints are counted from one").whole(),
}

var processOptions = []Option{
	{Value: string(braze.Braze), Label: "Braze", Note: "drawn into a close gap"},
	{Value: string(braze.BrazeWeld), Label: "Braze weld", Note: "built up"},
	{Value: string(braze.Solder), Label: "Solder", Note: "drawn in, soft"},
}

// joins tells whether the work is brazing in one of its ways.
func (s Setup) joins() bool { return s.Work == string(setup.Braze) }

func (s Setup) process() braze.Process {
	if word := s.Typed[keyProcess]; word != "" {
		return braze.Process(word)
	}
	return braze.Braze
}

// otherMetal is what the other part is of.
func (s Setup) otherMetal() string {
	if word := s.Typed[keyOther]; word != "" {
		return word
	}
	return s.Metal
}

// fillersFor are those that suit; none where the pair is refused.
func (s Setup) fillersFor() []braze.Filler {
	c, err := braze.Choose(s.process(), braze.Metal(s.Metal), braze.Metal(s.otherMetal()))
	if err != nil {
		return nil
	}
	return c.Fillers
}

// filler is the one chosen by hand while it suits; else "", the best.
func (s Setup) filler() string {
	for _, f := range s.fillersFor() {
		if f.Class == s.Typed[keyFiller] {
			return f.Class
		}
	}
	return ""
}

// asksJoint tells whether a field belongs to the joint as chosen so far.
func (s Setup) asksJoint(key string) bool {
	close := s.process() != braze.BrazeWeld
	lap := s.Joint == string(setup.Lap)
	switch key {
	case keyTube:
		return close && lap
	case keyOverlap:
		return close && (lap || s.Joint == string(setup.Edge))
	case keyGap:
		return close
	case keyLeg:
		return !close && s.Joint != string(setup.Butt)
	}
	return true
}

// jointFields are the fields of the joint, ready to show, in the order they are entered.
func (s Setup) jointFields() []FormField {
	var fillers, metals []Option
	for _, m := range setup.Metals() {
		name := strings.ReplaceAll(string(m), "_", " ")
		metals = append(metals, Option{Value: string(m), Label: words.Capital(name)})
	}
	for i, f := range s.fillersFor() {
		note := string(f.Family)
		if i == 0 {
			note += words.T(", the best")
		}
		fillers = append(fillers, Option{Value: f.Class, Label: f.Class, Note: note})
	}
	list := []FormField{
		{Key: keyProcess, Label: "How?", Type: TypeChoice, Text: string(s.process()), Options: processOptions},
		{Key: keyOther, Label: "The other part is of", Type: TypeChoice, Text: s.otherMetal(), Options: metals},
	}
	if len(fillers) > 0 {
		chosen := s.filler()
		if chosen == "" {
			chosen = fillers[0].Value
		}
		list = append(list, FormField{Key: keyFiller, Label: "Filler", Type: TypeChoice, Text: chosen, Options: fillers})
	}
	for _, spec := range jointSpecs {
		if s.asks(spec.Key) {
			list = append(list, s.Fields[spec.Key])
		}
	}
	return list
}

// withJoint puts what brazing asks besides into the question.
func (s Setup) withJoint(in setup.Input) setup.Input {
	if !s.joins() {
		return in
	}
	in.Process, in.Filler = s.process(), s.filler()
	if other := s.otherMetal(); other != s.Metal {
		in.OtherMetal = setup.Metal(other)
	}
	return in
}

// jointed asks a card what its weld takes, or what rod and flux its brazed joint.
func (s Setup) jointed(card setup.Card, in setup.Input, si map[string]float64) (setup.Card, error) {
	if length := si[keyWeld]; length > 0 {
		return card.WithWeld(in, length)
	}
	if !s.joins() {
		return card, nil
	}
	return card.WithJoint(in, setup.JointQuestion{SeamM: si[keySeam], DiameterM: si[keyTube], OverlapM: si[keyOverlap], ClearanceM: si[keyGap],
		LegM: si[keyLeg], Count: int(si[keyJoints])})
}

// subject names work and metal of a question for a person: brazing by its way and both its metals.
func subject(work, metal string, texts map[string]string) (string, string) {
	if work != string(setup.Braze) {
		return work, metal
	}
	if p := texts[keyProcess]; p != "" {
		work = p
	}
	if other := texts[keyOther]; other != "" && other != metal {
		metal += words.S(" to %s", other)
	}
	return work, metal
}

// Subject names the work and the metal typed now.
func (s Setup) Subject() (work, metal string) { return subject(s.Work, s.Metal, s.Typed) }

// Subject names the work and the metal that were asked.
func (q Asked) Subject() (work, metal string) { return subject(q.Work, q.Metal, q.texts) }
