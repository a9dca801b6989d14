package state

import (
	"context"
	"errors"
	"strings"
	"testing"

	"torchside/calc/journal"
	"torchside/storage"
)

// passes moves both clocks forward by ms.
func (w *world) passes(ms int64) {
	w.t.Helper()
	w.post(ClockRead{Wall: w.app.Clock.Wall + ms, Steady: w.app.Clock.Steady + ms})
}

func TestWatch_gives_the_travel_speed_of_the_length_typed(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	w.post(SheetWatchPressed{})
	if !w.app.Watching() {
		t.Fatal("the watch does not run")
	}
	w.passes(30000)
	w.post(SheetWatchPressed{})
	w.types("travel_length_m", "100 mm")
	f := w.app.Journal.Editor
	// 100 mm in 30 s are 200 mm in a minute.
	if got := w.sheetField("travel_s").Text; got != "30.0 s" || f.Speed != "200 mm/min" || w.app.Watching() {
		t.Errorf("time %q, speed %q", got, f.Speed)
	}
}

// The watch goes by the steady clock while the page stays, and by the time of day over a reload.
func TestWatch_survives_a_reload_and_a_clock_that_is_set(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	w.post(SheetWatchPressed{})
	w.post(ClockRead{Wall: w.app.Clock.Wall - 3600e3, Steady: w.app.Clock.Steady + 5000}) // set back by an hour
	if got := w.app.Journal.Editor.Watch.Elapsed(w.app.Clock); got != 5000 {
		t.Errorf("%d ms after 5 s", got)
	}
	start := w.app.Journal.Editor.Watch.Start
	w.restart()
	w.post(ClockRead{Wall: start + 90000, Steady: 100})
	f := w.app.Journal.Editor
	if f == nil || !f.Watch.Runs() || f.Watch.Elapsed(w.app.Clock) != 90000 {
		t.Fatalf("after a reload: %+v", f)
	}
	w.post(SheetWatchPressed{})
	if got := w.sheetField("travel_s").Text; got != "90.0 s" {
		t.Errorf("noted %q", got)
	}
	if (Watch{Start: start + 1}).Elapsed(Clock{Wall: start}) != 0 {
		t.Error("a clock set back gives a time below nothing")
	}
}

func TestSheet_moment_keeps_the_offset_of_the_place(t *testing.T) {
	const noted = "2026-05-17T14:30:12+02:00"
	for _, tt := range []struct{ typed, want string }{
		{"2026-05-17T14:30", noted}, {"2026-05-18T09:05", "2026-05-18T09:05:00+02:00"}, {"", ""}, {"soon", "soon"},
	} {
		if got := momentOf(tt.typed, noted); got != tt.want {
			t.Errorf("%q gives %q, want %q", tt.typed, got, tt.want)
		}
	}
	if localMoment(noted) != "2026-05-17T14:30" || localMoment("soon") != "soon" {
		t.Error(localMoment(noted))
	}
}

// A date in the future is said and refuses nothing.
func TestSheet_in_the_future_is_flagged_and_saved(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	w.types("at", "2126-05-17T14:30")
	f := w.app.Journal.Editor
	if len(f.Flags) != 1 || f.Flags[0].Field != "at" {
		t.Fatalf("%+v", f.Flags)
	}
	w.post(SheetSaved{Finish: true})
	if v := w.app.Journal.Shown; v == nil || len(v.Flags) != 1 || !strings.HasPrefix(v.Sheet.At, "2126-05-17T14:30") {
		t.Errorf("%+v", v)
	}
}

// A correction is a new version: the one before comes back with Undo, also when the page was reloaded while it was typed.
func TestSheet_correction_can_be_undone(t *testing.T) {
	w := journalWorld(t)
	id := w.sheet(3, "note", "first")
	w.post(SheetEdited{ID: id})
	w.types("note", "second")
	w.restart()
	w.post(SheetResumed{Key: draftSheet + id})
	if f := w.app.Journal.Editor; f == nil || f.sheet.Note != "second" {
		t.Fatalf("%+v", f)
	}
	w.post(SheetSaved{Finish: true})
	if v := w.app.Journal.Shown; v == nil || v.Sheet.Note != "second" || w.app.Undo == nil {
		t.Fatalf("%+v, undo %+v", v, w.app.Undo)
	}
	w.post(UndoRequested{})
	if v := w.app.Journal.Shown; v == nil || v.Sheet.Note != "first" {
		t.Errorf("%+v", v)
	}
	r, err := w.store.Get(context.Background(), storage.ID(id))
	if err != nil || r.Conflict != storage.ConflictNone || !strings.Contains(string(r.Body), "first") {
		t.Errorf("%+v %v", r, err)
	}
}

// Corrections of one sheet typed in two windows lie side by side: each is opened as it was typed, by its own key.
func TestSheet_corrections_of_two_windows_are_both_opened(t *testing.T) {
	w := journalWorld(t)
	id := w.sheet(3, "note", "first")
	w.post(SheetEdited{ID: id})
	w.types("note", "here")
	w.drafts[draftSheet+id+"#2"] = w.drafts[draftSheet+id] // as another window left it
	w.types("note", "and on")
	w.restart()
	for key, note := range map[string]string{draftSheet + id: "and on", draftSheet + id + "#2": "here"} {
		w.post(SheetResumed{Key: key})
		if f := w.app.Journal.Editor; f == nil || f.sheet.Note != note || f.ID != id || f.Key != key {
			t.Fatalf("%s: %+v", key, f)
		}
		w.post(SheetLeft{})
	}
	w.post(SheetResumed{Key: draftSheet + id + "#2"})
	w.post(SheetSaved{Finish: true})
	if v := w.app.Journal.Shown; v == nil || v.Sheet.Note != "here" || len(w.app.Journal.Unfinished) != 1 {
		t.Errorf("%+v, unfinished %v", v, w.app.Journal.Unfinished)
	}
}

// Two versions are one again by picking field by field; what is not picked stays as in the newer one.
func TestSheet_of_two_versions_is_merged_by_field(t *testing.T) {
	w := journalWorld(t)
	id := w.sheet(3, "note", "start", "next", "as it was")
	seen, err := w.store.Get(context.Background(), storage.ID(id))
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"one", "two"} {
		s, err := journal.Read(seen.Body)
		if err != nil {
			t.Fatal(err)
		}
		s.Note, s.Next = text, "next "+text
		body, err := journal.Write(s)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.author.Update(context.Background(), seen, 1, body); err != nil {
			t.Fatal(err)
		}
	}
	w.post(SheetOpened{ID: id})
	v := w.app.Journal.Shown
	if v == nil || v.Other == nil || len(v.Differences) != 2 {
		t.Fatalf("%+v", v)
	}
	newer, older := v.Sheet.Note, v.Other.Note
	w.post(SheetFieldPicked{Field: "next", Other: true})
	w.post(SheetMerged{})
	v = w.app.Journal.Shown
	if len(v.Versions) != 0 || v.Sheet.Note != newer || v.Sheet.Next != "next "+older {
		t.Errorf("%d versions, %+v", len(v.Versions), v.Sheet)
	}
}

// Storage runs full while a sheet is saved: the editor stays open with everything, says why, and one more try saves it.
func TestSheet_stays_open_when_the_store_is_full(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	w.types("note", "the long afternoon")
	w.fail = storage.ErrFull
	w.post(SheetSaved{Finish: true})
	f := w.app.Journal.Editor
	if f == nil || f.sheet.Note != "the long afternoon" || !strings.Contains(f.Problem, "full") || f.Busy || w.app.Saved.State != SaveFailed {
		t.Fatalf("%+v", f)
	}
	if d := w.drafts[f.Key]; !strings.Contains(d.Choices["sheet"], "the long afternoon") {
		t.Error("the browser does not keep it")
	}
	w.fail = nil
	w.post(SheetSaved{Finish: true})
	if v := w.app.Journal.Shown; v == nil || v.Sheet.Note != "the long afternoon" || len(w.app.unsaved) != 0 {
		t.Errorf("%+v", v)
	}
}

// A sheet that cannot be read says so; what was typed into it before opens all the same.
func TestSheet_that_cannot_be_read_opens_from_what_was_typed(t *testing.T) {
	w := journalWorld(t)
	id := w.sheet(3, "note", "first")
	w.post(SheetEdited{ID: id})
	w.types("note", "second")
	w.post(SheetLeft{})
	a, effects := w.app.openSheet(id, true)
	w.app = a
	for _, e := range effects {
		if q, ok := e.(ReadRecord); ok {
			w.post(RecordRead{Token: q.Token, ID: q.ID, Err: errors.New("torn")})
		}
	}
	if f := w.app.Journal.Editor; f == nil || f.sheet.Note != "second" {
		t.Fatalf("%+v", f)
	}
	w.post(SheetLeft{})
	w.post(SheetOpened{ID: "no such sheet"})
	if w.app.Journal.Report == "" || w.app.Journal.Opening.ID != "" {
		t.Errorf("%+v", w.app.Journal.Opening)
	}
}
