package pages

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/pwa/present"
	"torchside/pwa/pwatest"
	"torchside/pwa/state"
	"torchside/storage"
)

var metricOptions = present.Options{Units: units.Metric()}

func listed(change func(*state.Journal)) string {
	overall, thick := 3.2, 0.0016
	j := state.Journal{Total: 2, Rows: []state.SheetRow{
		{ID: "s1", Drill: "Butt", Brief: journal.Brief{At: "2026-05-03T16:41:00+02:00", Title: "Gate \u202e<b>", Work: "weld", Thick: &thick, Overall: &overall, Next: "Slower"}},
		{ID: "s2", Conflict: true, Brief: journal.Brief{Work: "cut"}}}}
	change(&j)
	return app.HTMLString(&journalList{Journal: j, Options: metricOptions})
}

func TestJournalList_shows_a_row_with_its_score_as_word_and_number(t *testing.T) {
	text := listed(func(*state.Journal) {})
	pwatest.Wants(t, text, "2 sheets, newest first", "2026-05-03 16:41", "Drill: Butt", "1.6\u00a0mm", "3.2", "Good", "Next: Slower", "Two versions", "Not scored", `data-act="sheet-open-s1"`)
	pwatest.Lacks(t, text, "<b>", "pick-s1", "journal-more")
}

func TestJournalList_says_what_to_do_when_it_is_empty(t *testing.T) {
	empty := func(j *state.Journal) { j.Rows, j.Total = nil, 0 }
	pwatest.Wants(t, listed(empty), "No sheets yet", "Look at a sample journal", "Begin a sheet")
	pwatest.Wants(t, listed(func(j *state.Journal) { empty(j); j.Search = "🔥" }), "No sheet fits", "Show all sheets")
	pwatest.Lacks(t, listed(func(j *state.Journal) { empty(j); j.Loading = true }), "No sheets yet", "No sheet fits")
	failed := listed(func(j *state.Journal) { empty(j); j.Failed = "The sheets could not be read." })
	pwatest.Wants(t, failed, "could not be read")
	pwatest.Lacks(t, failed, "No sheets yet")
}

func TestJournalList_picks_two_sheets_to_compare(t *testing.T) {
	text := listed(func(j *state.Journal) {
		j.View, j.Picked, j.Rows[0].Picked = state.ViewCompare, []string{"s1"}, true
	})
	pwatest.Wants(t, text, "1 of 2 picked", `data-act="pick-s1"`, "✓ Picked", "sheet-row-picked")
	pwatest.Lacks(t, text, "Begin a sheet", "journal-table")
}

func TestJournalList_offers_chips_with_counts_and_shows_what_is_chosen(t *testing.T) {
	fields := []state.FormField{{Key: "work", Label: "Work", Text: "weld", Options: []state.Option{{Value: "weld", Label: "Weld", Note: "17 sheets"}, {Value: "cut", Label: "Cut", Note: "4 sheets"}}}}
	open := listed(func(j *state.Journal) { j.Filters, j.FiltersOpen, j.Filter.Work = fields, true, "weld" })
	pwatest.Wants(t, open, "✓ Weld", "17 sheets", `data-act="filter-work-cut"`, "Filter: 1 chosen", "2 sheets found")
	shut := listed(func(j *state.Journal) { j.Filters, j.Filter.Work = fields, "weld" })
	pwatest.Wants(t, shut, "✕ Work: Weld")
	pwatest.Lacks(t, shut, "17 sheets")
}

func TestJournal_shows_the_view_that_is_asked_for(t *testing.T) {
	a := state.New()
	for view, words := range map[string]string{"": "Did it work?", state.ViewDrills: "What do I practise next?", state.ViewTrends: "Am I getting better?", state.ViewCompare: "Which two sheets?"} {
		b, _ := state.Reduce(a, state.JournalViewed{View: view})
		pwatest.Wants(t, pwatest.HTML(t, &Journal{App: b}), words)
	}
	b, _ := state.Reduce(a, state.JournalAsked{View: state.ViewDrills, Drill: "corner"})
	pwatest.Wants(t, pwatest.HTML(t, &Journal{App: b}), "Outside corner", "Both edges gone", "The last 3 sheets in a row", "no source", "Not begun")
	b, _ = state.Reduce(b, state.DrillAdded{})
	pwatest.Wants(t, pwatest.HTML(t, &Journal{App: b}), "Which drill do you add?", "drill-field-name")
}

func TestJournalTrends_say_what_is_needed_for_a_point(t *testing.T) {
	for measure, words := range map[journal.Measure]string{journal.ByScore: "at least 3 scores", journal.BySpeed: "stopwatch", journal.ByGas: "both the oxygen and the fuel"} {
		pwatest.Wants(t, app.HTMLString(&journalTrends{Journal: state.Journal{Measure: measure}, Options: metricOptions}), words)
	}
	few := journal.Trend([]journal.XY{{X: 20000, Y: 2}, {X: 20010, Y: 3}})
	few.Measure, few.Work = journal.ByScore, "weld"
	text := app.HTMLString(&journalTrends{Journal: state.Journal{Trends: []journal.Series{few}}, Options: metricOptions})
	pwatest.Wants(t, text, "Not enough points", "2 of 8", "thickness not noted: 2 points", "<table", `role="img"`)
}

func TestJournalCompare_shows_what_differs_before_what_is_the_same(t *testing.T) {
	a, b := journal.Sheet{Title: "First", Work: "weld", Tip: "1"}, journal.Sheet{Title: "Second", Work: "weld", Tip: "2"}
	c := &state.SheetCompare{A: state.SheetView{ID: "a", Sheet: a}, B: state.SheetView{ID: "b", Sheet: b}, Lines: journal.Compare(a, b)}
	text := app.HTMLString(&journalCompare{Compare: c, Options: metricOptions})
	pwatest.Wants(t, text, "A: First", "B: Second", "Different", "Same")
	if strings.Index(text, `compare-tip`) > strings.Index(text, `compare-work`) {
		t.Error("the same comes before what differs")
	}
}

func TestBench_asks_before_a_file_is_read_in(t *testing.T) {
	a := after(state.ImportChecked{Plan: state.ImportPlan{New: map[string]int{journal.Kind: 12}, Photos: 3}})
	pwatest.Wants(t, pwatest.HTML(t, &Bench{Prefs: a.Prefs, Bench: a.Bench}), "12 sheets not here yet", "3 pictures", "No conflicts", "import-accept", "import-leave")
	a = after(state.ImportChecked{Plan: state.ImportPlan{Known: 5}})
	text := pwatest.HTML(t, &Bench{Prefs: a.Prefs, Bench: a.Bench})
	pwatest.Wants(t, text, "Nothing new")
	pwatest.Lacks(t, text, "import-accept")
	a = after(state.TransferFailed{What: "import", Err: storage.ErrCorrupt})
	pwatest.Lacks(t, pwatest.HTML(t, &Bench{Prefs: a.Prefs, Bench: a.Bench}), "import-accept")
}
