package effects

import (
	"context"
	"testing"

	"torchside/pwa/state"
	"torchside/storage"
)

// A write under way when the export is asked for counts as what became of it by the time the file is made.
func TestRunner_exports_a_write_under_way_as_it_ended(t *testing.T) {
	for _, tt := range []struct {
		name   string
		refuse bool // the write
		unread bool // the store, afterwards
		file   string
	}{
		{"stored", false, false, "stored"},
		{"refused", true, false, "stored"},
		{"stored, then the store is lost", false, true, "rescued"},
		{"refused, then the store is lost", true, true, "rescued"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t)
			if tt.refuse {
				b.store.FailAfter(0, storage.ErrFull)
			}
			if tt.unread {
				b.files.exportErr = storage.ErrLost
			}
			w := write(1, "torch")
			b.run(w, state.Export{Waiting: []state.Write{w}})
			if b.browser.got.Name != tt.file || b.browser.got.Records != 1 {
				t.Errorf("handed over %+v, want 1 record", b.browser.got)
			}
		})
	}
}

// A write that was never answered is taken for unsaved: twice in the file is better than not at all.
func TestRunner_exports_an_unanswered_write_as_unsaved(t *testing.T) {
	b := newBench(t)
	b.run(state.Export{Waiting: []state.Write{write(1, "torch")}})
	if b.browser.got.Records != 1 {
		t.Errorf("handed over %+v", b.browser.got)
	}
}

// What could not be written into the file is told.
func TestRunner_tells_what_is_not_in_the_file(t *testing.T) {
	b := newBench(t)
	b.files.skipped = 3
	if done, ok := b.run(state.Export{})[0].(state.ExportDone); !ok || done.Skipped != 3 {
		t.Errorf("told %+v", done)
	}
}

// A store closed by another window is opened anew and asked once more; the person sees nothing of it.
func TestRunner_asks_again_when_the_store_was_closed_under_it(t *testing.T) {
	b := newBench(t)
	for i, e := range []state.Effect{write(1, "torch"), state.Reload{}} {
		b.runner.store = closedStore{b.store}
		b.runner.author = b.runner.ports.Author(b.runner.store)
		switch got := b.run(e)[0].(type) {
		case state.WriteDone, state.Loaded:
		default:
			t.Errorf("%T is answered %#v", e, got)
		}
		if b.opened != i+1 {
			t.Errorf("%T: opened %d times, want %d", e, b.opened, i+1)
		}
	}
}

// closedStore is a store that another window has closed.
type closedStore struct{ storage.Store }

func (closedStore) Commit(context.Context, storage.Stamp) ([]storage.Record, error) {
	return nil, storage.ErrClosed
}

func (closedStore) List(context.Context, storage.Query) ([]storage.Record, error) {
	return nil, storage.ErrClosed
}
