package state

import (
	"torchside/calc/cut"
	"torchside/calc/setup"
	"torchside/calc/units"
)

// Keys of what cutting asks besides thickness, in Setup.Typed. Start is a word of calc/cut, coating "" or "painted".
const (
	keyStart   = "start"
	keyCoating = "coating"
	keyPurity  = "purity"
)

const coatPainted = "painted"

// cutSpecs are the typed fields of cutting.
var cutSpecs = []Spec{
	numberSpec(keyPurity, "Oxygen purity", "As 99.5 %. Empty takes oxygen as delivered, 99.5 %.", units.QuantityNumber, cut.PoorestOxygen, 1,
		"below 95 % no cut is possible (course notes on oxygen cutting), and nothing is purer than 100 %"),
}

// startOptions and coatingOptions are the choices of cutting.
var (
	startOptions   = []Option{{Value: string(cut.Edge), Label: "At an edge"}, {Value: string(cut.Pierce), Label: "Pierce", Note: "in the middle of the plate"}}
	coatingOptions = []Option{{Value: "", Label: "Bare"}, {Value: coatPainted, Label: "Painted", Note: "or greased, or unknown"}}
)

// cuts tells whether the work is cutting.
func (s Setup) cuts() bool { return s.Work == string(setup.Cut) }

// start is where the cut begins, as chosen.
func (s Setup) start() cut.Start {
	if word := s.Typed[keyStart]; word != "" {
		return cut.Start(word)
	}
	return cut.Edge
}

// cutFields are what cutting asks besides, ready to show.
func (s Setup) cutFields() []FormField {
	return []FormField{
		{Key: keyStart, Label: "Where does the cut start?", Type: TypeChoice, Text: string(s.start()), Options: startOptions},
		{Key: keyCoating, Label: "What is on the plate?", Type: TypeChoice, Text: s.Typed[keyCoating], Options: coatingOptions},
		s.Fields[keyPurity],
	}
}

// cutQuestion is what cutting is asked besides; nil for other works.
func (s Setup) cutQuestion(si map[string]float64) *setup.CutQuestion {
	if !s.cuts() {
		return nil
	}
	return &setup.CutQuestion{OxygenPurity: si[keyPurity], Start: s.start(), Painted: s.Typed[keyCoating] == coatPainted}
}
