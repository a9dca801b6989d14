package state

import (
	"context"
	"maps"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"torchside/calc/journal"
	"torchside/storage"
)

// answer is what package effects does for the questions of the journal.
func (w *world) answer(e Effect) {
	w.t.Helper()
	ctx := context.Background()
	switch e := e.(type) {
	case FindRecords:
		page, err := w.store.Find(ctx, e.Find)
		if w.fail != nil {
			page, err = storage.Page{}, w.fail
		}
		w.post(RecordsFound{Token: e.Token, Asked: e.Find, Page: page, Err: err})
	case CountTerms:
		w.counts++
		terms := map[string][]storage.TermCount{}
		for _, prefix := range e.Prefixes {
			list, err := w.store.Terms(ctx, e.Kind, prefix)
			if err != nil {
				w.t.Fatal(err)
			}
			terms[prefix] = list
		}
		w.post(TermsCounted{Token: e.Token, Kind: e.Kind, Terms: terms})
	case ReadRecord:
		r, err := w.store.Get(ctx, e.ID)
		w.post(RecordRead{Token: e.Token, ID: e.ID, Record: r, Err: err})
	case HandFile:
		w.files = append(w.files, e)
		w.post(FileHanded{Name: e.Name})
	}
}

// testIndex is the index of the program.
var testIndex = storage.Index{Version: 1, Of: func(kind string, body []byte) storage.Entry {
	sort, terms, brief := journal.Index(kind, body)
	return storage.Entry{Sort: sort, Terms: terms, Brief: brief}
}}

// journalWorld is a world with the sample rig, a card for 1/8 in, and the journal open.
func journalWorld(t *testing.T) *world {
	t.Helper()
	w := newWorld(t)
	w.post(ClockRead{Wall: 1780000000000})
	w.post(SampleAdded{})
	w.post(SetupTyped{Field: "thickness", Text: "1/8 in"})
	w.post(SetupChosen{Field: "joint", Value: "corner"})
	if w.app.Setup.Card == nil || w.app.Setup.Stale {
		t.Fatalf("no card: %+v", w.app.Setup.Refusal)
	}
	w.post(JournalOpened{})
	return w
}

// types writes into the open sheet: key, text, key, text …
func (w *world) types(texts ...string) {
	w.t.Helper()
	for i := 0; i < len(texts); i += 2 {
		w.post(SheetTyped{Key: texts[i], Text: texts[i+1]})
	}
}

// sheet catches a sheet from the card, fills it in and saves it as finished; it returns its id.
func (w *world) sheet(score int, texts ...string) string {
	w.t.Helper()
	w.post(SheetCaught{})
	w.types(texts...)
	for _, s := range w.app.Journal.Editor.Scores {
		w.post(SheetScored{ID: s.ID, Value: score})
	}
	w.post(SheetSaved{Finish: true})
	if f := w.app.Journal.Editor; f != nil {
		w.t.Fatalf("not saved: %s %+v", f.Problem, f.sheet.Unfinished())
	}
	return w.app.Journal.Shown.ID
}

func (w *world) sheetField(key string) FormField {
	w.t.Helper()
	for _, f := range w.app.Journal.Editor.Fields {
		if f.Key == key {
			return f
		}
	}
	w.t.Fatalf("no field %q", key)
	return FormField{}
}

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

// sheetHash is a name of a photo.
func sheetHash(last string) string { return strings.Repeat("0", 64-len(last)) + last }

func TestJournal_photos_come_go_and_come_back(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	key := w.app.Journal.Editor.Key
	w.post(PhotosChosen{Source: 7, Role: "after"})
	if e, ok := w.effects[len(w.effects)-1].(PutPhotos); !ok || e != (PutPhotos{Key: key, Role: "after", Source: 7}) {
		t.Fatalf("%+v", w.effects[len(w.effects)-1])
	}
	w.post(SheetSaved{Finish: true})
	if w.app.Journal.Editor == nil || w.app.Journal.Editor.Problem == "" {
		t.Fatal("saved without the photo")
	}
	for _, last := range []string{"a", "b", "c"} {
		w.post(PhotoPut{Key: key, Photo: journal.Photo{Hash: sheetHash(last), ThumbHash: sheetHash(last + "1"), Role: "after"}})
	}
	w.post(PhotoRefused{Key: key, Name: "letter.jpg", Why: "this is no picture"})
	w.post(PhotoStored{Key: key, Name: "big.jpg", Err: storage.ErrFull})
	w.post(PhotosPut{Key: key})
	if f := w.app.Journal.Editor; len(f.Photos) != 3 || len(f.Refused) != 2 || !strings.Contains(f.Refused[1], "full") || f.Taking != 0 {
		t.Fatalf("%+v", f)
	}
	w.post(PhotoTyped{Index: 1, Text: "the middle one"})
	if p := w.app.Journal.Editor.Photos[1]; p.Name != "the middle one" {
		t.Errorf("%+v", p)
	}
	w.post(PhotoRemoved{Index: 1})
	w.types("note", "typed after")
	w.post(UndoRequested{})
	f := w.app.Journal.Editor
	if len(f.Photos) != 3 || f.Photos[1].Caption != "the middle one" || f.sheet.Note != "typed after" {
		t.Errorf("%+v", f.sheet)
	}
	w.post(SheetSaved{Finish: true})
	r, err := w.store.Get(context.Background(), storage.ID(w.app.Journal.Shown.ID))
	if err != nil || len(r.Blobs) != 6 || w.app.Journal.Rows[0].Brief.Photos != 3 {
		t.Errorf("the record names %d blobs: %v", len(r.Blobs), err)
	}
}

// A photo that was slow must not be lost when the form was closed meanwhile.
func TestJournal_a_late_photo_reaches_the_sheet_that_waits(t *testing.T) {
	w := journalWorld(t)
	w.post(SheetCaught{})
	key := w.app.Journal.Editor.Key
	w.types("note", "x")
	w.post(PhotosChosen{Source: 1, Role: "back"})
	w.post(SheetLeft{})
	w.post(PhotoPut{Key: key, Photo: journal.Photo{Hash: sheetHash("d"), Role: "back"}})
	w.post(SheetResumed{Key: key})
	if f := w.app.Journal.Editor; len(f.Photos) != 1 || f.sheet.Note != "x" {
		t.Errorf("%+v", f)
	}
	w.post(PhotoStored{Key: key, Name: strings.Repeat("ß", 300) + ".heic", Hash: sheetHash("f"), Type: "image/heic"})
	if f := w.app.Journal.Editor; len(f.Photos) != 2 || len(f.sheet.Check()) != 0 {
		t.Errorf("a long name: %v", f.sheet.Check())
	}
	w.post(PhotoPut{Key: "sheet:gone", Photo: journal.Photo{Hash: sheetHash("e")}})
	if w.app.Journal.Report == "" {
		t.Error("nothing is said about a photo without a sheet")
	}
}
