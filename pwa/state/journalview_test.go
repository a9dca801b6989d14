package state

import (
	"testing"

	"torchside/calc/journal"
)

func TestJournal_keeps_a_bounded_number_of_rows_and_leads_back_to_the_newest(t *testing.T) {
	w := newWorld(t)
	w.fillJournal(SheetWindow + 2*SheetPage + 7)
	first := w.app.Journal.Rows[0].ID
	for w.app.Journal.More {
		w.post(MoreSheets{})
		if n := len(w.app.Journal.Rows); n > SheetWindow {
			t.Fatalf("%d rows at once", n)
		}
	}
	j := w.app.Journal
	if j.Above != 2*SheetPage+7 || j.Above+len(j.Rows) != j.Total {
		t.Errorf("%d let go, %d shown, of %d", j.Above, len(j.Rows), j.Total)
	}
	w.post(NewestSheets{})
	if j := w.app.Journal; j.Above != 0 || j.Rows[0].ID != first || len(j.Rows) != SheetFirst {
		t.Errorf("%d above, %d rows", j.Above, len(j.Rows))
	}
}

// A choice that would find nothing is not offered, unless it is made: then it must be seen to be taken away.
func TestJournal_offers_only_choices_that_find_something(t *testing.T) {
	w := journalWorld(t)
	w.sheet(1, "note", "a")
	w.post(FiltersToggled{})
	w.post(SheetFiltered{Key: "metal", Value: "brass"})
	for _, f := range w.app.Journal.Filters {
		for _, o := range f.Options {
			if (o.Note == "") != (o.Value == "brass") {
				t.Errorf("%s offers %+v", f.Key, o)
			}
		}
	}
	if w.app.Journal.Total != 0 {
		t.Errorf("%d found", w.app.Journal.Total)
	}
}

func TestJournal_shows_what_an_address_asks_for_and_goes_back_step_by_step(t *testing.T) {
	w := newWorld(t)
	w.fillJournal(60)
	all := w.app.Journal.Total
	w.post(JournalAsked{Filter: journal.Filter{Work: "weld"}, Search: "gate"})
	if j := w.app.Journal; j.Total >= all || j.Filter.Work != "weld" || j.Search != "gate" {
		t.Errorf("%d of %d", j.Total, all)
	}
	w.post(JournalBack{})
	if j := w.app.Journal; j.Total != all || j.Search != "" {
		t.Errorf("%d of %d after going back", j.Total, all)
	}
	w.post(JournalAsked{View: ViewCompare, A: w.app.Journal.Rows[0].ID, B: w.app.Journal.Rows[3].ID})
	if c := w.app.Journal.Compare; c == nil || c.A.ID != w.app.Journal.Rows[0].ID || c.B.ID != w.app.Journal.Rows[3].ID {
		t.Errorf("compares %+v", c)
	}
	w.post(JournalBack{})
	w.post(JournalAsked{View: ViewDrills, Drill: "corner"})
	if j := w.app.Journal; j.DrillOpen != "corner" || j.Compare != nil || len(j.Drills) != len(journal.Drills()) {
		t.Errorf("drill %q", j.DrillOpen)
	}
	w.post(JournalBack{})
	w.post(JournalBack{})
	if j := w.app.Journal; j.View != "" || j.DrillOpen != "" {
		t.Errorf("view %q", j.View)
	}
	w.post(JournalAsked{View: ViewTrends, Measure: journal.BySpeed, Series: "weld/1-2"})
	if j := w.app.Journal; j.Measure != journal.BySpeed || len(j.Trends) == 0 || j.SeriesKey != "weld/1-2" {
		t.Errorf("%d trends of %q", len(j.Trends), j.Measure)
	}
	w.post(JournalAsked{View: "nonsense", Drill: "none"})
	if w.app.Journal.View != "" || w.app.Journal.DrillOpen != "" {
		t.Errorf("%q", w.app.Journal.View)
	}
}

func TestDrill_fills_Setup_in_and_leaves_what_a_card_does_not_know(t *testing.T) {
	w := journalWorld(t)
	w.post(DrillSetUp{ID: "tee"})
	s := w.app.Setup
	if s.Work != "weld" || s.Joint != "tee" || s.Card == nil || s.Stale {
		t.Errorf("%s %s %v %+v", s.Work, s.Joint, s.Stale, s.Refusal)
	}
	w.post(DrillSetUp{ID: "rod"}) // a bead on plate
	if s := w.app.Setup; s.Joint != "tee" || s.Typed["thickness"] != "1.6 mm" || s.Refusal != nil {
		t.Errorf("%s %q %+v", s.Joint, s.Typed["thickness"], s.Refusal)
	}
	before := w.app.Setup.Typed["thickness"]
	w.post(DrillSetUp{ID: "nobody"})
	if w.app.Setup.Typed["thickness"] != before {
		t.Error("a drill that is not there changed Setup")
	}
}
