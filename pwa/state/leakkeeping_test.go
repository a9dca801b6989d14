package state

import (
	"slices"
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

// What a store refused of a test is written on top of what was stored since: the test stays one record in one version, with every
// reading and mark in it.
func TestLeak_changes_tried_again_do_not_split_the_test(t *testing.T) {
	w := leakWorld(t)
	w.plan("oxygen_delivery", "oxygen", "division", "0.02", "gauge", "1.7")
	id := w.start()
	w.fail = errNoDisk
	w.at(600)
	w.note(id, "gauge", "1.68")
	w.post(JointMarked{ID: id, Joint: "hose_torch", State: "soaped"})
	w.at(900)
	w.note(id, "gauge", "1.66")
	w.fail = nil
	w.at(1200)
	w.note(id, "gauge", "1.64") // stored before the three others
	w.post(RetryRequested{})
	w.wantOneTest(id, 4, "soaped")
	if len(w.app.unsaved) != 0 || w.app.Saved.State != SaveDone {
		t.Errorf("unsaved %d, %+v", len(w.app.unsaved), w.app.Saved)
	}
	w.restart()
	w.wantOneTest(id, 4, "soaped")
}

// A change whose answer was lost on the way is stored already: trying it again adds nothing.
func TestLeak_change_that_is_stored_already_is_not_written_twice(t *testing.T) {
	w := leakWorld(t)
	w.plan("oxygen_delivery", "oxygen", "division", "0.02", "gauge", "1.7")
	id := w.start()
	w.hold = true
	w.at(600)
	w.note(id, "gauge", "1.68")
	lost := w.held[0]
	w.hold, w.held = false, nil
	if _, err := w.author.Write(t.Context(), lost.Drafts...); err != nil {
		t.Fatal(err)
	}
	w.post(WriteFailed{Token: lost.Token, Err: storage.ErrLost})
	w.run([]Effect{Reload{}})
	w.post(RetryRequested{})
	w.wantOneTest(id, 2, "")
	if len(w.app.unsaved) != 0 || w.app.Saved.State != SaveDone || len(w.app.Leak.readings) != 0 {
		t.Errorf("unsaved %d, %+v, typed %v", len(w.app.unsaved), w.app.Saved, w.app.Leak.readings)
	}
}

// While another change of the test is being written, the refused one waits: nobody knows yet what to put it on.
func TestLeak_refused_change_waits_for_one_under_way(t *testing.T) {
	w := leakWorld(t)
	w.plan("oxygen_delivery", "oxygen", "division", "0.02", "gauge", "1.7")
	id := w.start()
	w.fail = errNoDisk
	w.at(600)
	w.note(id, "gauge", "1.68")
	w.fail, w.hold = nil, true
	w.at(900)
	w.note(id, "gauge", "1.66")
	w.post(RetryRequested{})
	if len(w.held) != 1 {
		t.Fatalf("%d writes under way, want the one", len(w.held))
	}
	w.release()
	w.post(RetryRequested{})
	w.wantOneTest(id, 3, "")
}

// An end and a reading taken back are kept when they are put on top of something newer.
func TestLeak_test_merges_what_was_done_on_both_sides(t *testing.T) {
	at := func(seconds ...int64) (list []LeakReading) {
		for _, s := range seconds {
			list = append(list, LeakReading{At: s * 1000})
		}
		return list
	}
	base := LeakTest{Readings: at(0, 600), Joints: map[string]string{"a": "soaped"}}
	earlier := LeakTest{Readings: at(0, 300), Ended: 700_000, Outcome: &LeakOutcome{}, Joints: map[string]string{"a": "fixed", "b": "soaped"}}
	later := LeakTest{Readings: at(0, 600, 900), Joints: map[string]string{"a": "bubbles"}}
	got := later.withEarlier(base, earlier)
	var instants []int64
	for _, r := range got.Readings {
		instants = append(instants, r.At/1000)
	}
	if !slices.Equal(instants, []int64{0, 300, 900}) || got.Ended != 900_000 || got.Outcome == nil || got.Joints["a"] != "bubbles" || got.Joints["b"] != "soaped" {
		t.Errorf("%v, ended %d, joints %v", instants, got.Ended, got.Joints)
	}
	if len(later.Readings) != 3 || later.Joints["b"] != "" {
		t.Error("the later one was changed in place")
	}
}

// wantOneTest looks at the stored test: its readings, one version, and the mark of the joint at the torch.
func (w *world) wantOneTest(id string, readings int, mark string) {
	w.t.Helper()
	test := w.app.Leak.tests[id]
	stored, err := w.store.Get(w.t.Context(), storage.ID(id))
	if err != nil || len(stored.Heads) != 1 || len(test.record.Heads) != 1 {
		w.t.Errorf("%d versions stored, %d shown, %v", len(stored.Heads), len(test.record.Heads), err)
	}
	if len(test.Readings) != readings || test.Joints["hose_torch"] != mark {
		w.t.Errorf("%d readings, want %d; joints %v", len(test.Readings), readings, test.Joints)
	}
	for _, timer := range w.app.Timers.list {
		if len(timer.record.Heads) != 1 {
			w.t.Errorf("the timer is in %d versions", len(timer.record.Heads))
		}
	}
}
