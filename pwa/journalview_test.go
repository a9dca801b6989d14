package pwa

import (
	"net/url"
	"testing"

	"torchside/calc/journal"
	"torchside/pwa/state"
)

// Every view of the journal, and every choice of its filter, has an address that opens the same again.
func TestJournal_views_and_filters_have_an_address(t *testing.T) {
	for _, m := range []state.JournalAsked{
		{View: state.ViewDrills}, {View: state.ViewDrills, Drill: "corner"}, {View: state.ViewTrends}, {View: state.ViewTrends, Measure: journal.ByGas, Series: "weld/1-2"},
		{View: state.ViewCompare}, {View: state.ViewCompare, A: "a1"}, {View: state.ViewCompare, A: "a1", B: "b2"}, {Search: "größer 🔥 & gate=1"},
		{Filter: journal.Filter{Work: "weld", Metal: "copper", Joint: "tee", Position: "flat", Class: "1-2", Tip: "no 2", Drill: "tee", Score: "3", Month: "2026-05", Test: "pass",
			Photo: true, Draft: true, Sample: true}},
	} {
		a, _ := state.Reduce(state.New(), state.Loaded{})
		a, _ = state.Reduce(a, m)
		want := overlay("/journal", a)
		at, err := url.Parse("/journal?" + want)
		if err != nil || want == "" {
			t.Fatalf("%+v has the address %q, %v", m, want, err)
		}
		if asked(at) != want {
			t.Errorf("%q is read as %q", want, asked(at))
		}
		b, _ := state.Reduce(state.New(), state.Loaded{})
		b, _ = state.Reduce(b, linked(at))
		if got := overlay("/journal", b); got != want {
			t.Errorf("%q opens %q", want, got)
		}
		for range 3 { // from an open drill: the drills, then the list
			a, _ = state.Reduce(a, leaving("/journal", a))
		}
		if got := overlay("/journal", a); got != "" {
			t.Errorf("going back from %q ends at %q", want, got)
		}
	}
	if at, _ := url.Parse("/journal?utm=1"); linked(at) != nil || asked(at) != "" {
		t.Error("something that is nothing of ours is followed")
	}
}
