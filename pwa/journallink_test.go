package pwa

import (
	"net/url"
	"testing"

	"torchside/calc/journal"
	"torchside/pwa/state"
	"torchside/storage"
)

// reduced is an app after messages, with sheets read from what is stored here.
func reduced(a state.App, stored map[storage.ID]storage.Record, list ...state.Msg) state.App {
	for _, m := range list {
		var effects []state.Effect
		a, effects = state.Reduce(a, m)
		for _, e := range effects {
			if q, ok := e.(state.ReadRecord); ok {
				a, _ = state.Reduce(a, state.RecordRead{Token: q.Token, ID: q.ID, Record: stored[q.ID]})
			}
		}
	}
	return a
}

// A sheet that is read, changed or written has an address that opens it again after it was left, and closes by the way back.
func TestJournal_addresses_open_the_same_sheet_again(t *testing.T) {
	op := storage.Op{ID: "o1", Rec: "s1", Kind: journal.Kind, Schema: 1, Body: []byte(`{"work":"weld","note":"x"}`)}
	stored := map[storage.ID]storage.Record{"s1": storage.NewRecord([]storage.Op{op})}
	start := reduced(state.New(), stored, state.ClockRead{Wall: 1780000000000}, state.Loaded{})
	for name, list := range map[string][]state.Msg{
		"reading": {state.SheetOpened{ID: "s1"}},
		"changed": {state.SheetEdited{ID: "s1"}, state.SheetTyped{Key: "note", Text: "half"}},
		"new":     {state.SheetBegun{}, state.SheetTyped{Key: "note", Text: "half"}},
	} {
		a := reduced(start, stored, list...)
		query := overlay("/journal", a)
		at, err := url.Parse("/journal?" + query)
		if err != nil || query == "" || asked(at) != query {
			t.Fatalf("%s: %v asks for %q, open is %q", name, at, asked(at), query)
		}
		left := reduced(a, stored, leaving("/journal", a))
		if got := overlay("/journal", left); got != "" {
			t.Errorf("%s: left, %q is open", name, got)
		}
		again := reduced(left, stored, linked(at))
		if got := overlay("/journal", again); got != query {
			t.Errorf("%s: %v opens %q", name, at, got)
		}
		if f := again.Journal.Editor; name != "reading" && (f == nil || !f.Restored) {
			t.Errorf("%s: what was typed is not back: %+v", name, f)
		}
	}
}

// While a sheet is being read its address stands already, so that it is not taken for closed.
func TestJournal_address_stands_while_the_sheet_is_read(t *testing.T) {
	for address, m := range map[string]state.Msg{"sheet=s1": state.SheetOpened{ID: "s1"}, "edit=s1": state.SheetEdited{ID: "s1"}} {
		a, _ := state.Reduce(state.New(), m)
		if got := overlay("/journal", a); got != address {
			t.Errorf("%q while %q is read", got, address)
		}
	}
}

func TestJournal_address_begins_a_new_sheet_once(t *testing.T) {
	at := &url.URL{Path: "/journal", RawQuery: "new"}
	if asked(at) != "new=" || linked(at) != (state.SheetBegun{}) {
		t.Errorf("%q %#v", asked(at), linked(at))
	}
	if got := linked(&url.URL{Path: "/journal", RawQuery: "new=corner"}); got != (state.SheetBegun{Drill: "corner"}) {
		t.Errorf("%#v", got)
	}
	if got := linked(&url.URL{Path: "/journal"}); got != nil {
		t.Errorf("the bare page asks for %#v", got)
	}
}
