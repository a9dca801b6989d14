package state

import (
	"context"
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
