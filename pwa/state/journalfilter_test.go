package state

import (
	"testing"

	"torchside/storage"
)

// noteOf is what stands beside a choice of the filter.
func noteOf(j Journal, key, value string) string {
	for _, f := range j.Filters {
		for _, o := range f.Options {
			if f.Key == key && o.Value == value {
				return o.Note
			}
		}
	}
	return ""
}

// Opening, choosing, closing and opening again must not read the index each time; a sheet more must be seen.
func TestJournal_counts_the_choices_once_until_a_sheet_changes(t *testing.T) {
	w := journalWorld(t)
	w.sheet(1, "note", "a")
	before := w.counts
	for range 3 {
		w.post(FiltersToggled{})
		w.post(SheetFiltered{Key: "joint", Value: "corner"})
		w.post(FilterCleared{})
		w.post(JournalOpened{})
	}
	if n := w.counts - before; n != 1 {
		t.Errorf("counted %d times, want once", n)
	}
	if note := noteOf(w.app.Journal, "joint", "corner"); note != "1 sheet" {
		t.Errorf("one sheet is counted as %q", note)
	}
	w.sheet(2, "note", "b")
	if note := noteOf(w.app.Journal, "joint", "corner"); note != "2 sheets" || w.counts-before != 2 {
		t.Errorf("two sheets are counted as %q, after %d counts", note, w.counts-before)
	}
}

func TestJournal_drops_counts_of_before_a_change_and_asks_again_after_a_fault(t *testing.T) {
	w := journalWorld(t)
	w.sheet(1, "note", "a")
	app, effects := Reduce(w.app, FiltersToggled{})
	old := effects[0].(CountTerms)
	w.app = app
	w.sheet(2, "note", "b")
	w.post(TermsCounted{Token: old.Token, Kind: old.Kind, Terms: map[string][]storage.TermCount{"joint=": {{Term: "joint=corner", Count: 1}}}})
	if note := noteOf(w.app.Journal, "joint", "corner"); note != "2 sheets" {
		t.Errorf("an old answer gives %q", note)
	}
	w.post(FiltersToggled{})
	w.sheet(3, "note", "c")
	app, effects = Reduce(w.app, FiltersToggled{})
	w.app = app
	w.post(TermsCounted{Token: effects[0].(CountTerms).Token, Err: storage.ErrLost})
	w.post(FiltersToggled{})
	w.post(FiltersToggled{})
	if note := noteOf(w.app.Journal, "joint", "corner"); note != "3 sheets" {
		t.Errorf("after a fault the choice has %q", note)
	}
}
