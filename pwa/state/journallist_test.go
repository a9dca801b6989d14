package state

import (
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"torchside/calc/journal"
	"torchside/calc/journal/journaltest"
	"torchside/storage"
)

// fill stores sheets of the test journal and opens it anew.
func (w *world) fillJournal(n int) {
	w.t.Helper()
	for _, s := range journaltest.Sheets(n, 1) {
		body, err := journal.Write(s)
		if err != nil {
			w.t.Fatal(err)
		}
		if _, err := w.author.Save(w.t.Context(), journal.Kind, 1, body); err != nil {
			w.t.Fatal(err)
		}
	}
	w.restart()
	w.post(ClockRead{Wall: 1780000000000})
	w.post(JournalOpened{})
}

func TestJournal_lists_filters_and_searches_a_page_at_a_time(t *testing.T) {
	w := newWorld(t)
	w.fillJournal(200)
	j := func() Journal { return w.app.Journal }
	if len(j().Rows) != SheetFirst || j().Total != 200 || !j().More || j().Loading {
		t.Fatalf("%d of %d rows, more %v", len(j().Rows), j().Total, j().More)
	}
	for range 20 {
		w.post(MoreSheets{})
	}
	if len(j().Rows) != 200 || j().More {
		t.Errorf("%d rows in the end", len(j().Rows))
	}
	for i := 1; i < len(j().Rows); i++ {
		if journal.SortKey(j().Rows[i].Brief.At) > journal.SortKey(j().Rows[i-1].Brief.At) {
			t.Fatal("not the newest first")
		}
	}
	w.post(SheetFiltered{Key: "work", Value: "braze"})
	w.post(SheetSearched{Text: "größer pud"})
	found := j().Total
	if found == 0 || found >= 60 {
		t.Errorf("%d sheets", found)
	}
	for _, r := range j().Rows {
		if r.Brief.Work != "braze" {
			t.Errorf("%+v", r.Brief)
		}
	}
	w.post(SheetSearched{Text: "größer pud nowhere"})
	if len(j().Rows) != 0 || j().Total != 0 {
		t.Errorf("%d rows", len(j().Rows))
	}
	w.post(FilterCleared{})
	if j().Total != 200 || !j().Filter.IsZero() || j().Search != "" {
		t.Errorf("%d", j().Total)
	}
	w.post(FiltersToggled{})
	for _, key := range []string{"work", "tip", "month", "class"} {
		i := slices.IndexFunc(j().Filters, func(f FormField) bool { return f.Key == key })
		if i < 0 || len(j().Filters[i].Options) < 3 || j().Filters[i].Options[0].Note == "" {
			t.Errorf("%s is offered as %+v", key, j().Filters)
		}
	}
}

// An answer that comes after the next letter was typed must not show what nobody asks for any more.
func TestJournal_answers_to_older_questions_are_dropped(t *testing.T) {
	w := newWorld(t)
	w.fillJournal(50)
	app, effects := Reduce(w.app, SheetSearched{Text: "nowhere"})
	old := effects[0].(FindRecords)
	w.app = app
	w.post(SheetSearched{})
	w.post(RecordsFound{Token: old.Token, Asked: old.Find})
	if len(w.app.Journal.Rows) != SheetFirst {
		t.Errorf("%d rows", len(w.app.Journal.Rows))
	}
	w.post(RecordsFound{Token: 123456})
	w.post(RecordRead{Token: 123456})
	if w.app.Journal.Report != "" {
		t.Error("an answer to somebody else was taken")
	}
}

func TestJournal_says_that_it_could_not_read_and_keeps_what_is_shown(t *testing.T) {
	w := newWorld(t)
	w.fillJournal(50)
	w.fail = storage.ErrLost
	w.post(SheetSearched{Text: "gate"})
	if w.app.Journal.Failed == "" || w.app.Journal.Loading {
		t.Errorf("%+v", w.app.Journal.Failed)
	}
	w.fail = nil
	w.post(SheetSearched{Text: "gate "})
	if w.app.Journal.Failed != "" || w.app.Journal.Total == 0 {
		t.Errorf("%q %d", w.app.Journal.Failed, w.app.Journal.Total)
	}
}

func TestJournal_compares_two_sheets_and_lets_a_third_take_the_first_place(t *testing.T) {
	w := journalWorld(t)
	a, b, c := w.sheet(1, "note", "a"), w.sheet(3, "note", "b", "tip", "9"), w.sheet(4, "note", "c")
	w.post(SheetPicked{ID: a})
	if w.app.Journal.Compare != nil {
		t.Fatal("one is not two")
	}
	w.post(SheetPicked{ID: b})
	lines := map[string]journal.Difference{}
	for _, d := range w.app.Journal.Compare.Lines {
		lines[d.Field] = d
	}
	if lines["tip"].Same || !lines["work"].Same || *lines["overall"].Change != 2 {
		t.Errorf("%+v", lines)
	}
	w.post(SheetPicked{ID: c})
	if p := w.app.Journal.Picked; len(p) != 2 || p[0] != b || w.app.Journal.Compare.B.ID != c {
		t.Errorf("%v", p)
	}
	marked := 0
	for _, r := range w.app.Journal.Rows {
		if r.Picked {
			marked++
		}
	}
	w.post(SheetPicked{ID: c})
	if marked != 2 || w.app.Journal.Compare != nil || len(w.app.Journal.Picked) != 1 {
		t.Errorf("%d marked, %v", marked, w.app.Journal.Picked)
	}
}

func TestJournal_tells_Setup_what_worked_before(t *testing.T) {
	w := journalWorld(t)
	if w.app.Journal.Worked != nil {
		t.Error("an answer from nothing")
	}
	w.sheet(2)
	w.sheet(4, "fuel_gauge_pa", "0.41 bar", "oxygen_gauge_pa", "0.42 bar")
	if k := w.app.Journal.Worked; k == nil || k.Enough || !strings.Contains(k.Words, "2 of 3") {
		t.Fatalf("%+v", k)
	}
	w.sheet(3)
	k := w.app.Journal.Worked
	if k == nil || !k.Enough || k.Sheets != 3 || k.Used != 1 || k.FuelPa.Median != 41000 || k.Score.Median != 4 {
		t.Fatalf("%+v", k)
	}
	w.post(SetupTyped{Field: "thickness", Text: "1 mm"})
	if w.app.Journal.Worked != nil {
		t.Error("it answers for another thickness")
	}
	w.post(SetupTyped{Field: "thickness", Text: "3 mm"})
	if w.app.Journal.Worked == nil {
		t.Error("3 mm is as good as 1/8 in")
	}
	w.post(SetupChosen{Field: "joint", Value: "lap"})
	if w.app.Journal.Worked != nil {
		t.Error("it answers for another joint")
	}
	w.post(SetupChosen{Field: "joint", Value: "corner"})
	w.restart()
	w.post(ClockRead{Wall: 1780000000000})
	if w.app.Journal.Worked == nil {
		t.Error("forgotten with a reload")
	}
}

func TestJournal_reads_trends_when_asked_and_after_a_change(t *testing.T) {
	w := newWorld(t)
	w.fillJournal(600)
	if w.app.Journal.Trends != nil {
		t.Error("read without being asked")
	}
	w.post(TrendsAsked{Measure: journal.ByScore})
	if s := w.app.Journal.Trends; len(s) == 0 || !s[0].Enough || s[0].Measure != journal.ByScore {
		t.Fatalf("%+v", s)
	}
	w.post(TrendsAsked{Measure: journal.BySpeed})
	if s := w.app.Journal.Trends; len(s) == 0 || s[0].Measure != journal.BySpeed {
		t.Fatalf("%+v", s)
	}
}

func TestJournal_drills_come_on_with_their_sheets(t *testing.T) {
	w := journalWorld(t)
	w.post(JournalViewed{View: ViewDrills})
	row := func(id string) DrillRow {
		for _, d := range w.app.Journal.Drills {
			if d.ID == id {
				return d
			}
		}
		t.Fatal("no drill " + id)
		return DrillRow{}
	}
	if w.app.Journal.NextUp != "flame" || row("flame").Progress.Level != journal.Bare {
		t.Errorf("%+v", row("flame"))
	}
	for i, want := range []journal.Level{journal.Bronze, journal.Purple, journal.Blue} {
		w.post(SheetBegun{Drill: "flame"})
		for _, s := range w.app.Journal.Editor.Scores {
			w.post(SheetScored{ID: s.ID, Value: 3})
		}
		w.post(SheetSaved{Finish: true})
		if got := row("flame").Progress; got.Level != want {
			t.Errorf("after %d sheets %+v", i+1, got)
		}
	}
	if w.app.Journal.NextUp != "puddle" {
		t.Errorf("next is %q", w.app.Journal.NextUp)
	}
}

func TestJournal_own_drills_are_written_kept_and_used(t *testing.T) {
	w := journalWorld(t)
	w.post(DrillAdded{})
	w.post(DrillSaved{})
	if f := w.app.Journal.Drill; f == nil || f.Problem == "" {
		t.Fatal("a drill without a name was saved")
	}
	for key, text := range map[string]string{"name": "Scroll end", "aim": "A fishtail in one heat", "work": "bend", "metal": "mild_steel", "thickness_m": "10 mm"} {
		w.post(DrillTyped{Key: key, Text: text})
	}
	w.restart()
	if f := w.app.Journal.Drill; f == nil || f.drill.Name != "Scroll end" || f.thick != "10 mm" {
		t.Fatalf("not kept: %+v", f)
	}
	w.post(ClockRead{Wall: 1780000000000})
	w.post(JournalOpened{})
	w.post(JournalViewed{View: ViewDrills})
	w.post(DrillSaved{})
	own := w.app.Journal.Drills[len(w.app.Journal.Drills)-1]
	if !own.Own || own.Drill.Name != "Scroll end" || *own.Drill.ThicknessM != 0.01 || w.app.Journal.Drill != nil {
		t.Fatalf("%+v", own)
	}
	w.post(SheetBegun{Drill: own.ID})
	if s := w.app.Journal.Editor.sheet; s.Drill != own.ID || s.Work != "bend" {
		t.Errorf("%+v", s)
	}
	w.post(SheetScored{ID: "shape", Value: 3})
	w.post(SheetSaved{Finish: true})
	if got := w.app.Journal.Drills[len(w.app.Journal.Drills)-1].Progress; got.Level != journal.Straw || w.app.Journal.Rows[0].Drill != "Scroll end" {
		t.Errorf("%+v %+v", got, w.app.Journal.Rows[0])
	}
	w.post(DrillDeleted{ID: own.ID})
	if n := len(w.app.Journal.Drills); n != len(journal.Drills()) {
		t.Errorf("%d drills", n)
	}
	w.post(UndoRequested{})
	if n := len(w.app.Journal.Drills); n != len(journal.Drills())+1 {
		t.Errorf("%d drills after taking it back", n)
	}
}

func TestJournal_sample_comes_with_one_tap_and_goes_with_one(t *testing.T) {
	w := journalWorld(t)
	own := w.sheet(3, "note", "mine")
	w.post(SampleSheetsAdded{})
	w.post(SampleSheetsAdded{})
	if w.app.Journal.Total != journal.SampleSize+1 || !w.app.Journal.Sample || w.app.Journal.Busy {
		t.Fatalf("%d sheets, %+v", w.app.Journal.Total, w.app.Journal.Report)
	}
	w.restart()
	w.post(ClockRead{Wall: 1780000000000})
	w.post(JournalOpened{})
	if !w.app.Journal.Sample {
		t.Error("forgotten with a reload")
	}
	w.post(SampleSheetsRemoved{})
	if w.app.Journal.Total != 1 || w.app.Journal.Rows[0].ID != own || w.app.Journal.Sample {
		t.Fatalf("%d sheets", w.app.Journal.Total)
	}
	w.post(UndoRequested{})
	if w.app.Journal.Total != journal.SampleSize+1 {
		t.Errorf("%d sheets after taking it back", w.app.Journal.Total)
	}
}

func TestJournal_table_holds_every_sheet_that_fits(t *testing.T) {
	w := newWorld(t)
	w.fillJournal(250)
	w.post(SheetTableAsked{})
	rows, err := csv.NewReader(strings.NewReader(string(w.files[0].Data))).ReadAll()
	if err != nil || len(rows) != 251 || rows[0][0] != "time" || !strings.Contains(w.app.Journal.Report, "250 sheets") {
		t.Errorf("%d rows, %v, %q", len(rows), err, w.app.Journal.Report)
	}
	w.post(SheetFiltered{Key: "work", Value: "knit"})
	w.post(SheetTableAsked{})
	if rows, err = csv.NewReader(strings.NewReader(string(w.files[1].Data))).ReadAll(); err != nil || len(rows) != 1 {
		t.Errorf("%d rows, %v", len(rows), err)
	}
	w.fail = storage.ErrLost
	w.post(SheetTableAsked{})
	if len(w.files) != 2 || w.app.Journal.Busy || w.app.Journal.Report == "" {
		t.Errorf("%d files, %q", len(w.files), w.app.Journal.Report)
	}
}

func TestJournal_shares_a_sheet_in_the_owners_units(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetOpened{ID: w.sheet(3, "title", "Gate hinge", "travel_length_m", "100 mm", "travel_s", "50 s", "oxygen_used_std_m3", "20 L")})
	w.post(SheetShared{})
	e, ok := w.effects[len(w.effects)-1].(ShareText)
	if !ok || e.Title != "Gate hinge" {
		t.Fatalf("%+v", w.effects[len(w.effects)-1])
	}
	for _, want := range []string{"Thickness: 3.18 mm", "Travel speed: 120 mm/min", "Oxygen used: 20 L", "Overall: 3.0 of 4"} {
		if !strings.Contains(e.Text, want) {
			t.Errorf("no %q in\n%s", want, e.Text)
		}
	}
}

// Thirty days without an export, and something to lose: then, and only then, the reminder.
func TestJournal_reminds_of_a_backup_when_there_is_something_to_lose(t *testing.T) {
	const day = 24 * 3600 * 1000
	start := ticking()().UnixMilli()
	has := func(w *world) bool {
		for _, n := range w.app.Notices {
			if n.Code == NoticeBackup {
				return n.Action == ActionExport && n.Level == LevelCaution
			}
		}
		return false
	}
	at := func(w *world, days int64) bool {
		w.restart()
		w.post(ClockRead{Wall: start + days*day})
		w.post(OtherWrote{}) // as a start with the clock already read
		return has(w)
	}
	w := newWorld(t)
	if at(w, 400) {
		t.Error("nothing is here")
	}
	w.post(SampleAdded{})
	w.post(SampleSheetsAdded{})
	if at(w, 400) {
		t.Error("samples can be made again")
	}
	w.post(SheetBegun{})
	w.post(SheetTyped{Key: "note", Text: "mine"})
	w.post(SheetSaved{})
	if at(w, 29) || !at(w, 31) {
		t.Error("30 days after the first entry")
	}
	w.post(ExportDone{Name: "all.zip"})
	if has(w) || at(w, 31+29) || !at(w, 31+31) {
		t.Error("30 days after the last export")
	}
}
