package pages

import (
	"reflect"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/pwa/present"
	"torchside/pwa/pwatest"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
	"torchside/storage"
)

// caught is an app with a sheet begun from the sample rig's card.
func caught(t *testing.T) state.App {
	t.Helper()
	a := after(state.ClockRead{Wall: 1780000000000}, state.Loaded{})
	for _, m := range []state.Msg{state.SampleAdded{}, state.SetupTyped{Field: "thickness", Text: "1/16 in"}} {
		var effects []state.Effect
		a, effects = state.Reduce(a, m)
		a = stores(t, a, effects)
	}
	if a, _ = state.Reduce(a, state.SheetCaught{}); a.Journal.Editor == nil {
		t.Fatalf("no sheet: %q %+v", a.Journal.Report, a.Setup.Refusal)
	}
	return a
}

// stores answers writes as a store that works.
func stores(t *testing.T, a state.App, effects []state.Effect) state.App {
	t.Helper()
	for _, e := range effects {
		w, ok := e.(state.Write)
		if !ok {
			continue
		}
		var records []storage.Record
		for i, d := range w.Drafts {
			id := storage.ID(d.Kind + string(rune('a'+i)))
			records = append(records, storage.NewRecord([]storage.Op{{ID: id, Rec: id, Kind: d.Kind, Schema: d.Schema, Body: d.Body}}))
		}
		a, _ = state.Reduce(a, state.WriteDone{Token: w.Token, Records: records})
	}
	return a
}

// opened shows a sheet of these versions, the first the newest.
func opened(t *testing.T, sheets ...journal.Sheet) *state.SheetView {
	t.Helper()
	var ops []storage.Op
	for i, s := range sheets {
		body, err := journal.Write(s)
		if err != nil {
			t.Fatal(err)
		}
		ops = append(ops, storage.Op{ID: storage.ID(rune('a' + i)), Rec: "s1", Kind: journal.Kind, Schema: 1, Body: body, HLC: storage.HLC{Milli: int64(100 - i)}})
	}
	a, effects := state.Reduce(after(state.Loaded{}), state.SheetOpened{ID: "s1"})
	for _, e := range effects {
		if q, ok := e.(state.ReadRecord); ok {
			a, _ = state.Reduce(a, state.RecordRead{Token: q.Token, ID: q.ID, Record: storage.NewRecord(ops)})
		}
	}
	if a.Journal.Shown == nil {
		t.Fatalf("not shown: %q", a.Journal.Report)
	}
	return a.Journal.Shown
}

// Nothing of the card is typed again: it stands in one line, and every field has a control under its own name.
func TestSheetEditor_takes_the_card_and_has_a_control_for_every_field(t *testing.T) {
	a := caught(t)
	html := pwatest.HTML(t, &Journal{App: a})
	pwatest.Wants(t, html, "How did it go?", "tip SAMPLE", `data-act="sheet-watch"`, `data-act="sheet-done"`, `data-act="sheet-leave"`, `data-act="sheet-fold-settings"`)
	for _, f := range a.Journal.Editor.Fields {
		if f.Key != "travel_length_m" && f.Key != "travel_s" { // they come with the stopwatch
			pwatest.Wants(t, html, `data-act="sheet-`+f.Key)
		}
	}
	for _, s := range a.Journal.Editor.Scores {
		pwatest.Wants(t, html, `data-act="score-`+s.ID+`-0"`, `data-act="score-`+s.ID+`-4"`, `data-act="score-skip-`+s.ID+`"`, `data-act="score-about-`+s.ID+`"`)
	}
	if done, first := strings.Index(html, `data-act="sheet-done"`), strings.Index(html, `data-act="sheet-leave"`); done < first {
		t.Error("the ways out stand behind Done")
	}
}

func TestSheetEditor_asks_for_the_work_where_no_card_was_taken(t *testing.T) {
	a := after(state.ClockRead{Wall: 1780000000000}, state.Loaded{}, state.SheetBegun{})
	html := pwatest.HTML(t, &Journal{App: a})
	pwatest.Wants(t, html, `data-act="sheet-work-weld"`, `data-val="scores-none"`)
	pwatest.Lacks(t, html, `data-act="sheet-fold-settings"`, `data-act="score-width-0"`)
	a, _ = state.Reduce(a, state.SheetSaved{Finish: true})
	pwatest.Wants(t, pwatest.HTML(t, &Journal{App: a}), `data-val="sheet-problem"`, "Nothing is saved yet")
}

func TestSheetEditor_shows_scores_watch_and_speed(t *testing.T) {
	a := caught(t)
	for _, m := range []state.Msg{state.SheetScored{ID: "width", Value: 3}, state.SheetSkipped{ID: "ripple"}, state.TestNoted("face_bend", false),
		state.SheetTestSeen{Index: 0, Text: "opened at the edge"}, state.SheetWatchPressed{}, state.ClockRead{Wall: 1780000075000, Steady: 75000}} {
		a, _ = state.Reduce(a, m)
	}
	html := pwatest.HTML(t, &Journal{App: a})
	pwatest.Wants(t, html, "3 of 4: even with one or two slips", "Skipped", "Not scored", "Stop 1:15", "Face bend, failed", "opened at the edge", "AWS D1.1:2015")
	for _, m := range []state.Msg{state.SheetWatchPressed{}, state.SheetTyped{Key: "travel_length_m", Text: "5 in"}, state.UnitsChosen{System: units.US()}} {
		a, _ = state.Reduce(a, m)
	}
	pwatest.Wants(t, pwatest.HTML(t, &Journal{App: a}), `data-val="travel_speed"`, "Stopwatch: start", "75.0 s")
}

// The limits of a score stand one tap away, each with its source; one from memory says that it was not read there.
func TestScoreAbout_gives_the_published_limits(t *testing.T) {
	for work, words := range map[string][]string{"weld": {"1/32 in (1 mm)", "AWS D1.1:2000 Table 6.1"}, "cut": {"range 4", "not read in its source yet"}} {
		var html string
		for _, s := range journal.ScoresFor(work) {
			html += pwatest.HTML(t, app.Div().Body(widgets.ScoreAbout(present.NewScore(s, false, 0, false))))
		}
		pwatest.Wants(t, html, words...)
	}
}

func TestSheetReader_shows_everything_in_the_owners_units(t *testing.T) {
	thick, oxygen, length, seconds := 0.003175, 34473.8, 0.127, 60.0
	s := journal.Sheet{At: "2026-05-17T14:30:00+02:00", Finished: true, Title: "<b>Gate</b>", Work: "weld", Metal: "mild_steel", Joint: "lap", Position: "flat",
		ThicknessM: &thick, OxygenGaugePa: &oxygen, Fuel: "acetylene", TravelLengthM: &length, TravelS: &seconds, Next: "slower", Note: "line one\nline two",
		Scores: map[string]int{"width": 2, "ripple": 3, "undercut": 4}, Tests: []journal.TestResult{{Test: "break", Pass: true, Seen: "tore in the plate"}}}
	html := pwatest.HTML(t, &sheetReader{View: opened(t, s), Options: present.Options{Units: units.US()}})
	// 0.003175 m are 1/8 in; 34473.8 Pa are 5 psi; 0.127 m in a minute are 5 in/min.
	pwatest.Wants(t, html, "2026-05-17 14:30", "&lt;b&gt;Gate&lt;/b&gt;", "1/8 in, lap", "5 psi", "5 in/min", "Flat (1F)", "3.0 of 4, from 3 of 8 scores", "3 of 4: regular, few breaks",
		"Break test, passed: tore in the plate", "slower", "line two", `data-act="sheet-edit"`, `data-act="sheet-print"`, `data-act="sheet-delete"`)
	pwatest.Lacks(t, html, "Not scored", "Changed in two places", "<b>")
	html = pwatest.HTML(t, &sheetReader{View: opened(t, s)})
	pwatest.Wants(t, html, "3.18 mm", "0.34 bar", "127 mm/min")
}

// Two versions are offered field by field, what is the same is not asked, and each can be kept whole.
func TestSheetReader_offers_both_versions_of_a_field(t *testing.T) {
	a := journal.Sheet{At: "2026-05-17T14:30:00Z", Work: "weld", Note: "new", Scores: map[string]int{"width": 4}}
	b := journal.Sheet{At: "2026-05-17T14:30:00Z", Work: "weld", Note: "old", Tip: "3"}
	html := pwatest.HTML(t, &sheetReader{View: opened(t, a, b)})
	pwatest.Wants(t, html, "Changed in two places", `data-act="pick-note-a"`, `data-act="pick-note-b"`, `data-act="pick-tip-b"`, "4 of 4", "Nothing noted", `data-act="sheet-merge"`,
		`data-act="sheet-version-a"`, `data-act="sheet-version-b"`)
	pwatest.Lacks(t, html, `data-act="pick-work-a"`, `data-act="pick-at-a"`)
}

func TestSheetParts_post_their_own_message(t *testing.T) {
	e := &sheetEditor{}
	for name, tt := range map[string]struct {
		press func(app.Context)
		want  state.Msg
	}{
		"typed":  {func(ctx app.Context) { e.onTyped(ctx, "note", "x") }, state.SheetTyped{Key: "note", Text: "x"}},
		"chosen": {func(ctx app.Context) { e.onChosen(ctx, "work", "weld") }, state.SheetChosen{Key: "work", Value: "weld"}},
		"score":  {func(ctx app.Context) { e.onScore(ctx, "width", 0) }, state.SheetScored{ID: "width"}},
		"skip":   {func(ctx app.Context) { e.onSkip(ctx, "width") }, state.SheetSkipped{ID: "width"}},
		"seen":   {func(ctx app.Context) { (&testRow{Index: 2}).onSeen(ctx, "x") }, state.SheetTestSeen{Index: 2, Text: "x"}},
		"passed": {(&testAdder{chosen: "peel"}).onPassed, state.TestNoted("peel", true)},
		"picked": {func(ctx app.Context) { (&fieldPick{Field: "note"}).onChoose(ctx, "b") }, state.SheetFieldPicked{Field: "note", Other: true}},
	} {
		got := pwatest.Messages(t, tt.press)
		if len(got) != 1 || !reflect.DeepEqual(got[0], tt.want) {
			t.Errorf("%s posts %#v, want %#v", name, got, tt.want)
		}
	}
}

// What worked before says from how many sheets, and says nothing while there are too few.
func TestWorked_says_from_how_many_sheets(t *testing.T) {
	pa, score := 34473.8, 3.5
	few := present.NewWorked(journal.Worked{Sheets: 2, Words: "Not enough sheets: 2 of 3 with a score for this work"}, present.Options{})
	if few.Head != "2 of 3 sheets" || len(few.Facts) != 0 {
		t.Errorf("%+v", few)
	}
	w := present.NewWorked(journal.Worked{Enough: true, Sheets: 5, Used: 2, Words: "From the best 2 of 5 sheets", Tip: journal.Common{Value: "No. 1", N: 2, Of: 2},
		OxygenPa: journal.Spread{N: 2, Median: pa, Low: pa / 2, High: 2 * pa}, Score: journal.Spread{N: 2, Median: score, Low: score, High: score}}, present.Options{Units: units.US()})
	if len(w.Facts) != 3 || w.Facts[0].Value != "No. 1 (2 of 2)" || w.Facts[1].Value != "5 psi (2.5 to 10 psi)" || !strings.Contains(w.Words, "best 2 of 5") {
		t.Errorf("%+v", w)
	}
}
