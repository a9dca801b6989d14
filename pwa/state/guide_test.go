package state

import (
	"testing"

	"torchside/calc/units"
)

// The first steps begin with the notice where they are asked for, go on where they were after a reload, and end for good.
func TestGuide_goesThroughItsScreensAndEnds(t *testing.T) {
	w := newWorld(t)
	screen := func(want int) {
		t.Helper()
		if got := w.app.Prefs.Guide; got != want {
			t.Fatalf("screen %d, want %d", got, want)
		}
	}
	w.post(NoticeAccepted{Guide: true})
	screen(GuideUnits)
	if !w.app.Prefs.NoticeSeen {
		t.Error("the notice is not noted")
	}
	w.post(UnitsChosen{System: units.US()})
	w.post(GuideWent{Screen: GuideRig})
	w.post(SampleAdded{})
	w.post(GuideAsked{})
	screen(GuideCard)
	if c := w.app.Setup.Card; c == nil || w.app.Setup.Typed["thickness"] != "1/8 in" {
		t.Errorf("no card of 1/8 in: %+v", w.app.Setup.Refusal)
	}
	w.post(GuideWent{Screen: GuideLeak})
	w.post(GuideWent{})
	screen(0)
	for _, other := range []int{-1, 1, 6, 99} {
		w.post(GuideWent{Screen: other})
		screen(0)
	}
}

// A device that joins a shop, or comes by a link to another page, is not led around.
func TestGuide_doesNotBeginWhereItIsNotWanted(t *testing.T) {
	w := newWorld(t)
	w.post(NoticeAccepted{})
	if w.app.Prefs.Guide != 0 {
		t.Error("it begins unasked")
	}
	w = newWorld(t)
	w.post(SampleAdded{})
	w.post(NoticeAccepted{Guide: true})
	if w.app.Prefs.Guide != 0 {
		t.Error("it begins over a rig that is there")
	}
}
