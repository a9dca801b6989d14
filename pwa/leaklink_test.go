package pwa

import (
	"net/url"
	"testing"

	"torchside/pwa/state"
)

// Every stage of a test that is prepared has an address that opens it again with its text, and the way back leads to the stage before.
func TestLeak_stages_have_addresses_and_the_way_back_goes_through_them(t *testing.T) {
	prepared := reduced(state.New(), nil, state.Loaded{}, state.LeakBegun{Section: "whole_rig", Line: state.LineOxygen})
	reading := reduced(prepared, nil, state.LeakPrepared{}, state.LeakTyped{Key: "gauge", Text: "25 psi"})
	for name, a := range map[string]state.App{"prepared": prepared, "reading": reading} {
		query := overlay("/leak", a)
		at, err := url.Parse("/leak?" + query)
		if err != nil || query == "" || asked(at) != query {
			t.Fatalf("%s: %v asks for %q, open is %q", name, at, asked(at), query)
		}
		left := reduced(a, nil, leaving("/leak", a))
		if depth(overlay("/leak", left)) != depth(query)-1 {
			t.Errorf("%s: the way back leads to %q", name, overlay("/leak", left))
		}
		again := reduced(left, nil, linked(at))
		if overlay("/leak", again) != query {
			t.Errorf("%s: %v opens %q", name, at, overlay("/leak", again))
		}
	}
	if depth(overlay("/leak", reading)) != 2 || depth(overlay("/leak", prepared)) != 1 {
		t.Errorf("reading lies at %q, preparing at %q", overlay("/leak", reading), overlay("/leak", prepared))
	}
}

// Nobody comes to the readings past the preparation: an address of readings alone opens the preparation.
func TestLeak_address_of_readings_alone_opens_the_preparation(t *testing.T) {
	at := &url.URL{Path: "/leak", RawQuery: "section=oxygen_delivery&stage=readings"}
	a := reduced(state.New(), nil, state.Loaded{})
	if !isOver(at, a) {
		t.Error("nothing was prepared, and it counts as going on")
	}
	if a = reduced(a, nil, linked(at)); a.Leak.Stage != state.LeakPrepare {
		t.Errorf("opens at %q", a.Leak.Stage)
	}
	if isOver(at, a) {
		t.Error("it is being prepared, and it counts as over")
	}
}

// The form of a new part can be gone on with while its text is kept, and not once it is put away.
func TestIsOver_tells_a_form_that_is_kept_from_one_put_away(t *testing.T) {
	a := reduced(state.New(), nil, state.Loaded{}, state.PartAdded{Kind: state.KindTip}, state.FormTyped{Key: "name", Text: "7"})
	at := &url.URL{Path: "/rig", RawQuery: overlay("/rig", a)}
	if left := reduced(a, nil, state.FormLeft{}); isOver(at, left) {
		t.Error("a form whose text is kept counts as over")
	}
	if gone := reduced(a, nil, state.FormCancelled{}); !isOver(at, gone) {
		t.Error("a form that was put away can be gone on with")
	}
}
