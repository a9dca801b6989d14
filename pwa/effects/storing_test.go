package effects

import (
	"context"
	"errors"
	"testing"

	"torchside/pwa/state"
	"torchside/storage"
	"torchside/storage/memory"
	"torchside/storage/storagetest"
)

func TestRunner_asks_the_store_for_what_is_not_loaded(t *testing.T) {
	b := newBench(t)
	b.store = storagetest.NewFaulty(memory.NewIndexed(storagetest.Words(1)))
	b.runner.ports.Queried = []string{"sheet"}
	got := b.run(state.PutBlob{Token: 1, Data: []byte("photo")},
		state.Write{Token: 2, Drafts: []storage.Draft{{Kind: "sheet", Schema: 1, Body: []byte("gate hinge")}, {Kind: "torch", Schema: 1}}},
		state.Reload{},
		state.FindRecords{Token: 3, Find: storage.Find{Kind: "sheet", Prefix: "hin", Limit: 5}},
		state.CountTerms{Token: 4, Kind: "sheet", Prefixes: []string{"g", "hin"}})
	put, wrote := got[0].(state.BlobStored), got[1].(state.WriteDone)
	if put.Err != nil || put.Token != 1 || put.Size != 5 || put.Hash != storage.HashOf([]byte("photo")) {
		t.Errorf("attachment: %+v", put)
	}
	if loaded := got[2].(state.Loaded); len(loaded.Records) != 1 || loaded.Records[0].Kind != "torch" {
		t.Errorf("loaded %+v, want the torch without the sheet", loaded.Records)
	}
	if found := got[3].(state.RecordsFound); found.Err != nil || found.Token != 3 || found.Page.Total != 1 || found.Asked.Prefix != "hin" {
		t.Errorf("found %+v", found)
	}
	if terms := got[4].(state.TermsCounted); terms.Err != nil || len(terms.Terms["g"]) != 1 || terms.Terms["g"][0].Term != "gate" || len(terms.Terms["hin"]) != 1 {
		t.Errorf("terms %+v", terms)
	}
	sheet := wrote.Records[0].ID
	again := b.run(state.ReadRecord{Token: 5, ID: sheet}, state.ReadBlob{Token: 6, Hash: put.Hash}, state.ReadBlob{Token: 7, Hash: "x"}, state.DropOrphans{})
	if read := again[0].(state.RecordRead); read.Err != nil || string(read.Record.Body) != "gate hinge" || read.ID != sheet {
		t.Errorf("record %+v", read)
	}
	if read := again[1].(state.BlobRead); read.Err != nil || string(read.Data) != "photo" {
		t.Errorf("attachment %+v", read)
	}
	if read := again[2].(state.BlobRead); !errors.Is(read.Err, storage.ErrNotFound) || read.Token != 7 {
		t.Errorf("attachment that is not there: %+v", read)
	}
	if len(again) != 3 {
		t.Errorf("%d answers, want 3", len(again))
	}
}

// A photo that finds no room must not take the sheet with it.
func TestRunner_saves_a_sheet_when_its_photo_finds_no_room(t *testing.T) {
	b := newBench(t)
	b.store.FailAfter(0, storage.ErrFull)
	if got := b.run(state.PutBlob{Token: 1, Data: []byte("photo")}); !errors.Is(got[0].(state.BlobStored).Err, storage.ErrFull) {
		t.Errorf("answers %#v", got)
	}
	b.store.Heal()
	if _, ok := b.run(write(2, "sheet"))[0].(state.WriteDone); !ok {
		t.Error("the sheet was not saved")
	}
}

// closing is a store that is closed at its first question.
type closing struct {
	storage.Store
	asked int
}

func (c *closing) Find(ctx context.Context, f storage.Find) (storage.Page, error) {
	if c.asked++; c.asked == 1 {
		return storage.Page{}, storage.ErrClosed
	}
	if c.asked == 3 {
		panic("index")
	}
	return c.Store.Find(ctx, f)
}

func TestRunner_answers_a_question_over_a_closed_store_and_over_a_fault(t *testing.T) {
	b := newBench(t)
	s := &closing{Store: b.store}
	b.runner.ports.Open = func(context.Context) (storage.Store, error) {
		b.opened++
		return s, b.openErr
	}
	question := state.FindRecords{Token: 1, Find: storage.Find{Kind: "sheet", Limit: 1}}
	if got := b.run(question); got[0].(state.RecordsFound).Err != nil || b.opened != 2 {
		t.Errorf("answers %#v after %d openings", got, b.opened)
	}
	if got := b.run(question); !errors.Is(got[0].(state.RecordsFound).Err, errFault) {
		t.Errorf("answers %#v", got)
	}
	b.runner.store, b.openErr = nil, storage.ErrUnavailable
	if got := b.run(question); !errors.Is(got[0].(state.RecordsFound).Err, storage.ErrUnavailable) {
		t.Errorf("answers %#v", got)
	}
}
