package state

import (
	"slices"
	"testing"
)

// brazing is a world with the sample rig, asked for a steel bracket on copper.
func brazing(t *testing.T) *world {
	w := newWorld(t)
	w.post(SampleAdded{})
	w.post(SetupChosen{Field: "work", Value: "braze"})
	w.post(SetupChosen{Field: "joint", Value: "lap"})
	w.post(SetupTyped{Field: "thickness", Text: "3 mm"})
	w.post(SetupTyped{Field: keyOther, Text: "copper"})
	w.post(SetupTyped{Field: keySeam, Text: "40 mm"})
	return w
}

func (s Setup) pieceKeys() []string {
	var keys []string
	for _, f := range s.Piece {
		keys = append(keys, f.Key)
	}
	return keys
}

// The fields follow the process and the joint; the card has the rod of what was typed; a reload asks it again.
func TestSetup_brazingAsksForTheJoint(t *testing.T) {
	w := brazing(t)
	s := w.app.Setup
	if want := []string{keyProcess, keyOther, keyFiller, keySeam, keyTube, keyOverlap, keyGap, keyJoints}; !slices.Equal(s.pieceKeys(), want) {
		t.Errorf("%v", s.pieceKeys())
	}
	if s.Card == nil || s.Stale || s.Card.Joining == nil || s.Card.Joining.Used == nil || s.Card.Filler.Classes[0] != "BAg-7" || s.Card.Metal != "mild_steel" {
		t.Fatalf("%+v %+v", s.Refusal, s.Errors)
	}
	if work, metal := s.Subject(); work != "braze" || metal != "mild_steel to copper" {
		t.Errorf("%s, %s", work, metal)
	}
	rod := s.Card.Joining.Used.Rod.Value
	w.reloaded()
	if c := w.app.Setup.Card; c == nil || c.Joining.Used.Rod.Value != rod {
		t.Errorf("after a reload %+v", c)
	}
	w.post(SetupTyped{Field: keyJoints, Text: "2"})
	if twice := w.app.Setup.Card.Joining.Used.Rod.Value; twice < 1.999*rod || twice > 2.001*rod {
		t.Errorf("%v for two joints, %v for one", twice, rod)
	}
	w.post(SetupTyped{Field: keyProcess, Text: "braze_weld"})
	if keys := w.app.Setup.pieceKeys(); !slices.Contains(keys, keyLeg) || slices.Contains(keys, keyGap) || w.app.Setup.Card.Filler.Classes[0] != "RBCuZn-A" {
		t.Errorf("%v", keys)
	}
	w.post(SetupChosen{Field: "work", Value: "weld"})
	if w.app.Setup.Refusal != nil || len(w.app.Setup.Piece) != 1 || w.app.Setup.Piece[0].Key != keyWeld || w.app.Setup.Card.Joining != nil {
		t.Errorf("what was chosen for brazing follows into welding: %+v", w.app.Setup.Refusal)
	}
}

// A filler chosen by hand is taken while it suits, and given up with the pair it was for; one that cannot be is never offered.
func TestSetup_fillerFollowsThePair(t *testing.T) {
	w := brazing(t)
	w.post(SetupTyped{Field: keyFiller, Text: "RBCuZn-A"})
	if c := w.app.Setup.Card; c.Filler.Classes[0] != "RBCuZn-A" {
		t.Errorf("%+v", c.Filler)
	}
	w.post(SetupTyped{Field: keyOther, Text: "brass"})
	s := w.app.Setup
	if s.Stale || s.Card.Filler.Classes[0] != "BAg-7" {
		t.Errorf("%+v, refused %+v", s.Card.Filler, s.Refusal)
	}
	for _, f := range s.Piece {
		for _, o := range f.Options {
			if f.Key == keyFiller && (o.Value == "BCuP-5" || o.Value == "RBCuZn-A" || o.Value == "BAg-1") {
				t.Errorf("%s is offered for steel to brass", o.Value)
			}
		}
	}
}

// Bad sizes say why and keep what was typed; a pair that cannot be brazed is refused with the fields still there.
func TestSetup_brazingRefusesReadably(t *testing.T) {
	w := brazing(t)
	w.post(SetupTyped{Field: keyGap, Text: "3 mm"})
	if s := w.app.Setup; s.Errors[keyGap] == "" || s.Typed[keyGap] != "3 mm" || !s.Stale {
		t.Errorf("%+v", s.Errors)
	}
	w.post(SetupTyped{Field: keyGap, Text: ""})
	w.post(SetupTyped{Field: keyOther, Text: "aluminium"})
	if s := w.app.Setup; s.Refusal == nil || s.Refusal.Code != "aluminium_to_other" || slices.Contains(s.pieceKeys(), keyFiller) || !slices.Contains(s.pieceKeys(), keyOther) {
		t.Errorf("%+v, %v", s.Refusal, s.pieceKeys())
	}
	w.post(SetupTyped{Field: keyJoints, Text: "1.5"})
	if w.app.Setup.Errors[keyJoints] == "" {
		t.Error("one and a half joints are taken")
	}
}
