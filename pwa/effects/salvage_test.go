package effects

import (
	"context"
	"fmt"
	"testing"

	"torchside/pwa/state"
	"torchside/storage"
	"torchside/storage/memory"
	"torchside/storage/storagetest"
)

// torn is a store of which some records cannot be read.
type torn struct {
	storage.Store
	bad      map[storage.ID]bool
	unlisted bool // nor what there is
}

func (s torn) Get(ctx context.Context, id storage.ID) (storage.Record, error) {
	if s.bad[id] {
		return storage.Record{}, storage.ErrCorrupt
	}
	return s.Store.Get(ctx, id)
}

func (s torn) Find(ctx context.Context, f storage.Find) (storage.Page, error) {
	if s.unlisted {
		return storage.Page{}, storage.ErrLost
	}
	return s.Store.Find(ctx, f)
}

// Records that are never all in memory are read one by one when no file can be made of the whole store: what is damaged keeps nothing
// else back, and is counted.
func TestRunner_rescues_what_can_be_read_of_what_is_not_loaded(t *testing.T) {
	const sheets = 2*salvagePage + 1
	for _, tt := range []struct {
		name          string
		bad           int
		unlisted      bool
		records, lost int
	}{
		{"all of it", 0, false, sheets, 0},
		{"but for two", 2, false, sheets - 2, 2},
		{"no list of it", 0, true, 0, 1},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t)
			b.store = storagetest.NewFaulty(memory.NewIndexed(storagetest.Words(1)))
			b.runner.ports.Queried = []string{"sheet"}
			w := state.Write{Token: 1}
			for i := range sheets {
				w.Drafts = append(w.Drafts, storage.Draft{Kind: "sheet", Schema: 1, Body: fmt.Append(nil, "hinge ", i)})
			}
			wrote := b.run(w)[0].(state.WriteDone)
			bad := map[storage.ID]bool{}
			for _, r := range wrote.Records[:tt.bad] {
				bad[r.ID] = true
			}
			b.runner.store = torn{b.store, bad, tt.unlisted}
			b.files.exportErr = storage.ErrCorrupt
			done, ok := b.run(state.Export{Typed: []storage.Draft{{Kind: "sheet"}}})[0].(state.ExportDone)
			if want := tt.records + 1; !ok || done.Records != want || done.Lost != tt.lost || !done.Rescued {
				t.Errorf("told %+v, want %d records and %d lost", done, want, tt.lost)
			}
		})
	}
}

// What was typed and not saved goes into a file of the whole store only once it is saved.
func TestRunner_leaves_what_is_being_typed_out_of_a_file_of_everything(t *testing.T) {
	b := newBench(t)
	done, ok := b.run(state.Export{Typed: []storage.Draft{{Kind: "sheet"}}})[0].(state.ExportDone)
	if !ok || done.Records != 0 || done.Rescued {
		t.Errorf("told %+v", done)
	}
}
