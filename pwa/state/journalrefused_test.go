package state

import (
	"context"
	"maps"
	"slices"
	"strings"
	"testing"

	"torchside/calc/journal"
	"torchside/storage"
)

// What the store refused stays in the form, in the browser and in every export, and can be tried again.
func TestJournal_a_sheet_the_store_refuses_is_kept_and_tried_again(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	w.types("note", "worth keeping")
	w.fail = storage.ErrFull
	w.post(SheetSaved{Finish: true})
	f := w.app.Journal.Editor
	if f == nil || f.Busy || !strings.Contains(f.Problem, "full") || w.app.Saved.State != SaveFailed {
		t.Fatalf("%+v %+v", f, w.app.Saved)
	}
	if !strings.Contains(w.drafts[f.Key].Choices["sheet"], "worth keeping") {
		t.Error("the browser forgot it")
	}
	if e := w.app.export().(Export); len(e.Unsaved) != 1 || !strings.Contains(string(e.Unsaved[0].Body), "worth keeping") {
		t.Errorf("the export has %d unsaved", len(e.Unsaved))
	}
	w.fail = nil
	w.post(RetryRequested{})
	if len(w.app.Journal.Rows) != 1 || len(w.drafts) != 1 { // the question of Setup is the other draft
		t.Errorf("%d rows, drafts %v", len(w.app.Journal.Rows), slices.Collect(maps.Keys(w.drafts)))
	}
}

// Two new sheets refused one after the other must both be kept.
func TestJournal_two_refused_sheets_do_not_overwrite_each_other(t *testing.T) {
	w := journalWorld(t)
	w.fail = errNoDisk
	for _, note := range []string{"first", "second"} {
		w.post(SheetBegun{Drill: "corner"})
		w.types("note", note)
		w.post(SheetSaved{Finish: true})
		w.post(SheetLeft{})
	}
	w.fail = nil
	w.post(RetryRequested{})
	w.post(SheetSearched{})
	if len(w.app.Journal.Rows) != 2 {
		t.Errorf("%d sheets", len(w.app.Journal.Rows))
	}
}

func TestJournal_typed_while_saving_stays_open_as_the_saved_sheet(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	w.types("note", "one")
	w.hold = true
	w.post(SheetSaved{Finish: true})
	w.types("note", "one and two")
	w.release()
	f := w.app.Journal.Editor
	if f == nil || f.ID == "" || f.sheet.Note != "one and two" {
		t.Fatalf("%+v", f)
	}
	w.post(SheetSaved{Finish: true})
	if len(w.app.Journal.Rows) != 1 || w.app.Journal.Shown.Sheet.Note != "one and two" {
		t.Errorf("%d rows, %+v", len(w.app.Journal.Rows), w.app.Journal.Shown)
	}
}

// Another window changed the sheet while it was open here: both versions stay, and the owner picks.
func TestJournal_a_sheet_changed_in_two_windows_keeps_both_versions(t *testing.T) {
	w := journalWorld(t)
	id := w.sheet(3, "note", "start")
	w.post(SheetEdited{ID: id})
	w.types("note", "here")
	seen, err := w.store.Get(context.Background(), storage.ID(id))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.author.Update(context.Background(), seen, 1, []byte(`{"work":"weld","note":"there"}`)); err != nil {
		t.Fatal(err)
	}
	w.restart()                 // also survives a reload
	w.post(SheetEdited{ID: id}) // as its address asks
	w.post(SheetSaved{Finish: true})
	v := w.app.Journal.Shown
	if v == nil || len(v.Versions) != 2 || w.app.Undo != nil {
		t.Fatalf("%+v, undo %+v", v, w.app.Undo)
	}
	other := slices.IndexFunc(v.Versions, func(x Version) bool { return slices.Contains(x.Lines, "Note: there") })
	if other < 0 {
		t.Fatalf("%+v", v.Versions)
	}
	w.post(SheetVersionChosen{Op: v.Versions[other].Op})
	if v := w.app.Journal.Shown; len(v.Versions) != 0 || v.Sheet.Note != "there" {
		t.Errorf("%+v", v)
	}
}

// A file made while nothing can be read holds the sheets that were begun, each once: those refused by the store as what was refused.
func TestJournal_sheets_begun_are_in_a_file_made_without_the_store(t *testing.T) {
	w := journalWorld(t)
	id := w.sheet(3, "note", "saved")
	w.post(SheetBegun{})
	w.types("note", "begun", "thickness_m", "3 mm")
	w.post(SheetBegun{})
	w.types("note", strings.Repeat("x", 10_001))
	w.post(SheetEdited{ID: id})
	w.types("note", "corrected")
	w.fail = storage.ErrFull
	w.post(SheetSaved{})
	e := w.app.export().(Export)
	if len(e.Unsaved) != 1 || !strings.Contains(string(e.Unsaved[0].Body), "corrected") || string(e.Unsaved[0].Seen.ID) != id {
		t.Errorf("unsaved %+v", e.Unsaved)
	}
	if len(e.Typed) != 2 {
		t.Fatalf("%d typed ones, want 2", len(e.Typed))
	}
	var notes []string
	for _, d := range e.Typed {
		s, err := journal.Read(d.Body)
		if err != nil || s.Finished {
			t.Errorf("%+v %v", s, err)
		}
		notes = append(notes, s.Note)
		if s.Note == "begun" && (s.ThicknessM == nil || *s.ThicknessM != 0.003) {
			t.Errorf("thickness %v", s.ThicknessM)
		}
	}
	if !slices.Contains(notes, "begun") || !slices.Contains(notes, strings.Repeat("x", 10_001)) {
		t.Errorf("notes of %d and %d characters", len(notes[0]), len(notes[1]))
	}
}
