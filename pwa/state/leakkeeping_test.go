package state

import (
	"strings"
	"testing"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/storage"
)

// A store that refuses leaves the form as it was, and trying again starts the test.
func TestLeak_start_that_cannot_be_saved_is_kept_and_tried_again(t *testing.T) {
	w := leakWorld(t)
	w.plan("oxygen_delivery", "oxygen", "division", "0.02", "gauge", "1.7")
	w.fail = errNoDisk
	w.post(LeakStarted{})
	if w.app.Leak.Shown != nil || w.leakField("gauge").Text != "1.7" || w.app.Saved.State != SaveFailed {
		t.Error("it looks as if it ran")
	}
	w.fail = nil
	w.post(RetryRequested{})
	if w.app.Leak.Shown == nil || len(w.app.Timers.Running) != 1 {
		t.Error("trying again did not start it")
	}
}

// Taking back, ending and deleting can all be undone.
func TestLeak_ways_out_can_be_undone(t *testing.T) {
	w := leakWorld(t)
	w.plan("oxygen_delivery", "oxygen", "division", "0.02", "gauge", "1.7")
	id := w.start()
	w.at(600)
	w.note(id, "gauge", "1.7")
	w.post(ReadingDropped{ID: id})
	if n := len(w.app.Leak.Shown.Test.Readings); n != 1 {
		t.Fatalf("%d readings", n)
	}
	w.post(UndoRequested{})
	w.post(LeakEnded{ID: id})
	w.post(UndoRequested{})
	if v := w.app.Leak.Shown; v.Test.Ended != 0 || len(v.Test.Readings) != 2 || len(w.app.Timers.Running) != 1 {
		t.Error("the test does not run again")
	}
	w.post(LeakDropped{ID: id})
	if len(w.app.Leak.Running)+len(w.app.Timers.Running) != 0 {
		t.Error("something is left of the deleted test")
	}
	w.post(UndoRequested{})
	if len(w.app.Leak.Running) != 1 || len(w.app.Timers.Running) != 1 {
		t.Error("the test is not back")
	}
}

// A record that is no test is told of and kept, never shown as one.
func TestLeak_records_that_cannot_be_read_are_told_of(t *testing.T) {
	w := newWorld(t)
	for kind, body := range map[string]string{KindLeakTest: `{"section":"oxygen_delivery","gas":"acetylene","readings":[]}`, KindTimer: `{"start_ms":"soon"}`} {
		if _, err := w.author.Write(t.Context(), storage.Draft{Kind: kind, Schema: 1, Body: []byte(body)}); err != nil {
			t.Fatal(err)
		}
	}
	w.restart()
	if len(w.app.Leak.tests)+len(w.app.Timers.list) != 0 || len(w.app.Notices) != 1 || w.app.Notices[0].Code != NoticeDamaged {
		t.Errorf("%+v", w.app.Notices)
	}
}

// No fuel is tested above 15 psi; only acetylene's limit is the law's, and up high it is lower still.
func TestLeak_start_of_a_fuel_test_ends_at_fifteen_psi(t *testing.T) {
	const sea, mountain = 101325, 70e3
	for _, c := range []struct {
		gas      gas.Gas
		delivery bool
		ambient  units.AbsolutePressure
		want     float64 // Pa
		says     string
	}{
		{gas.Acetylene, true, sea, 15 * units.PSI, "29 CFR 1910.253(a)(2)"},
		{gas.Acetylene, true, 120e3, 30*units.PSI - 120e3, "29 CFR 1910.253(a)(2)"},
		{gas.Propane, true, mountain, 15 * units.PSI, "no test of a fuel needs more"},
		{gas.Oxygen, true, sea, 10 * barPa, "scale"},
		{gas.Acetylene, false, sea, 10 * barPa, "scale"},
	} {
		s := gaugeSpec(leakGauge, "gauge", c.gas, c.delivery, true, 10*barPa, c.ambient)
		if !sameSI(s.Field.Max, c.want) || !strings.Contains(s.Field.Why, c.says) {
			t.Errorf("%s, delivery %v: up to %.0f Pa, %q", c.gas, c.delivery, s.Field.Max, s.Field.Why)
		}
	}
}
