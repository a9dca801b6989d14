package state

import (
	"maps"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"torchside/calc/journal"
)

// The settings come from the card in one message, the card is frozen as it was, and a later change of the rig does not touch it.
func TestJournal_catches_everything_the_card_says(t *testing.T) {
	w := journalWorld(t)
	card := *w.app.Setup.Card
	w.post(SheetCaught{})
	s := w.app.Journal.Editor.sheet
	if s.Work != "weld" || s.Joint != "corner" || s.Tip != card.Tip || s.Fuel != card.FuelName || s.Filler != card.Filler.Classes[0] || s.At == "" {
		t.Errorf("%+v", journal.BriefOf(s))
	}
	// Two digits are shown of a pressure in bar: half of the last one is 2 % at most.
	for _, n := range []struct{ got, want float64 }{{*s.ThicknessM, 0.003175}, {*s.FuelGaugePa, card.Fuel.RegulatorGaugePa}, {*s.OxygenGaugePa, card.Oxygen.RegulatorGaugePa}, {*s.Ratio, card.Ratio}} {
		if math.Abs(n.got/n.want-1) > 0.02 {
			t.Errorf("noted %v, the card says %v", n.got, n.want)
		}
	}
	if f := w.sheetField("thickness_m"); f.Text != "1/8 in" {
		t.Errorf("the typed text is %q", f.Text)
	}
	for _, part := range []string{`"schema":1`, `"in":{`, `"out":{`, `"provenance"`, `"rig"`} {
		if !strings.Contains(string(s.Card), part) {
			t.Errorf("the frozen card has no %s", part)
		}
	}
	if len(s.Card) > journal.MaxCard {
		t.Errorf("the card takes %d bytes", len(s.Card))
	}
	t.Logf("the frozen card takes %d bytes", len(s.Card))
	w.types("note", "held")
	w.post(SheetSaved{Finish: true})
	w.post(SampleRemoved{})
	w.post(SheetOpened{ID: w.app.Journal.Rows[0].ID})
	if got := w.app.Journal.Shown.Sheet; string(got.Card) != string(s.Card) || *got.FuelGaugePa != *s.FuelGaugePa {
		t.Error("the frozen card changed")
	}
}

func TestJournal_catches_nothing_without_a_card(t *testing.T) {
	w := newWorld(t)
	w.post(SheetCaught{})
	if w.app.Journal.Editor != nil || w.app.Journal.Report == "" {
		t.Errorf("%+v", w.app.Journal)
	}
}

// Words of the card must be words of the journal, or a caught sheet could not be saved.
func TestJournal_knows_every_word_of_a_settings_card(t *testing.T) {
	for field, words := range map[string][]string{
		"work": {"weld", "braze", "heat", "bend", "cut"}, "joint": {"butt", "corner", "lap", "tee", "edge"},
		"metal": {"mild_steel", "galvanised_steel", "stainless_steel", "cast_iron", "copper", "brass", "aluminium"},
	} {
		for _, word := range words {
			var s journal.Sheet
			*sheetWords(&s)[field] = word
			if p := s.Check(); len(p) > 0 {
				t.Errorf("%v", p[0])
			}
		}
	}
}

// Killed after any message, everything typed before is there again: the draft is kept with every letter.
func TestJournal_kill_at_any_letter_loses_nothing(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		w := journalWorld(t)
		w.post(SheetCaught{})
		note, stop := "", 1+r.IntN(40)
		for i := range stop {
			note += string([]rune("größer 🔥 حديد")[i%13])
			w.types("note", note)
			if i%7 == 0 {
				w.post(SheetScored{ID: "ripple", Value: i % 5})
				w.post(PhotoPut{Key: w.app.Journal.Editor.Key, Photo: journal.Photo{Hash: strings.Repeat("ab", 31) + string("0123456789"[i%10]) + "c", Role: "after"}})
			}
		}
		w.types("travel_s", "1 min 5") // half typed: not a number yet
		before := w.app.Journal.Editor
		w.restart()
		after := w.app.Journal.Editor
		if after == nil || !after.Restored {
			t.Fatal("the sheet is not open again")
		}
		if !reflect.DeepEqual(after.sheet, before.sheet) || !maps.Equal(after.texts, before.texts) || w.sheetField("travel_s").Text != "1 min 5" {
			t.Fatalf("before %+v\nafter %+v", before.sheet, after.sheet)
		}
	}
}

func TestJournal_an_empty_sheet_is_kept_as_a_draft_and_not_finished(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetBegun{})
	w.post(SheetSaved{Finish: true})
	f := w.app.Journal.Editor
	if f == nil || !strings.Contains(f.Problem, "Nothing is saved yet") || w.sheetField("work").Error == "" {
		t.Fatalf("%+v", f)
	}
	w.post(SheetSaved{})
	if w.app.Journal.Editor != nil || len(w.app.Journal.Rows) != 1 || !w.app.Journal.Rows[0].Brief.Draft {
		t.Errorf("%+v", w.app.Journal.Rows)
	}
}

func TestJournal_refuses_bad_numbers_and_long_notes_and_keeps_the_text(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	for _, c := range []struct{ key, text string }{
		{"oxygen_gauge_pa", "a lot"}, {"travel_length_m", "2 km"}, {"thickness_m", "-3 mm"}, {"ratio", "NaN"}, {"fuel_used_std_m3", "1e400"}, {"note", strings.Repeat("x", 10001)}, {"at", "tomorrow"},
	} {
		good := w.sheetField(c.key).Text
		w.types(c.key, c.text)
		if f := w.sheetField(c.key); f.Error == "" || f.Text != c.text {
			t.Errorf("%s %q: %+v", c.key, shorten(c.text), f)
		}
		w.post(SheetSaved{Finish: true})
		if w.app.Journal.Editor == nil || w.app.Journal.Editor.Problem == "" {
			t.Fatalf("%s: saved", c.key)
		}
		w.types(c.key, good)
	}
	w.types("note", strings.Repeat("🔥", 10000))
	w.post(SheetSaved{Finish: true})
	if f := w.app.Journal.Editor; f != nil {
		t.Errorf("10 000 characters are allowed: %s", f.Problem)
	}
}

func TestJournal_scores_are_given_taken_back_and_passed_over(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	score := func(id string) ScoreField {
		for _, s := range w.app.Journal.Editor.Scores {
			if s.ID == id {
				return s
			}
		}
		t.Fatal("no score " + id)
		return ScoreField{}
	}
	w.post(SheetScored{ID: "ripple", Value: 3})
	if s := score("ripple"); !s.Given || s.Value != 3 || s.Step == "" {
		t.Errorf("%+v", s)
	}
	w.post(SheetScored{ID: "ripple", Value: 3})
	if score("ripple").Given {
		t.Error("the same again takes it back")
	}
	w.post(SheetScored{ID: "ripple", Value: 2})
	w.post(SheetSkipped{ID: "ripple"})
	if s := score("ripple"); s.Given || !s.Skipped {
		t.Errorf("%+v", s)
	}
	w.post(SheetScored{ID: "ripple", Value: 9})
	w.post(SheetScored{ID: "drag", Value: 1})
	if len(w.app.Journal.Editor.sheet.Scores) != 0 {
		t.Error("a value or a score that does not exist was taken")
	}
	w.post(SheetTested{Result: journal.TestResult{Test: "break", Seen: "opened at the root"}})
	w.post(SheetScored{ID: "width", Value: 4})
	w.post(SheetScored{ID: "undercut", Value: 4})
	w.post(SheetScored{ID: "tie_in", Value: 4})
	if o := w.app.Journal.Editor.Overall; !o.Capped || o.Value != journal.FailedCap || len(o.Skipped) != 5 {
		t.Errorf("%+v", o)
	}
}

func TestJournal_ways_out_can_be_undone(t *testing.T) {
	w := journalWorld(t)
	id := w.sheet(3, "note", "gone?")
	w.post(SheetDeleted{ID: id})
	if len(w.app.Journal.Rows) != 0 || w.app.Journal.Shown != nil {
		t.Fatal("it is still there")
	}
	w.post(UndoRequested{})
	if len(w.app.Journal.Rows) != 1 {
		t.Fatal("it is not back")
	}
	w.post(SheetBegun{})
	w.types("note", "put away")
	w.post(SheetDiscarded{})
	if len(w.drafts) != 1 || w.app.Journal.Editor != nil {
		t.Fatalf("%v", w.drafts)
	}
	w.post(UndoRequested{})
	if f := w.app.Journal.Editor; f == nil || f.sheet.Note != "put away" {
		t.Fatalf("%+v", f)
	}
	w.post(SheetLeft{})
	if len(w.app.Journal.Unfinished) != 1 {
		t.Fatalf("%+v", w.app.Journal.Unfinished)
	}
	w.post(SheetResumed{Key: w.app.Journal.Unfinished[0].Key})
	if f := w.app.Journal.Editor; f == nil || f.sheet.Note != "put away" || len(w.app.Journal.Unfinished) != 0 {
		t.Fatalf("%+v", f)
	}
}
