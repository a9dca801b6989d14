package effects

import (
	"testing"
	"time"

	"torchside/pwa/state"
	"torchside/storage"
	"torchside/storage/memory"
	"torchside/storage/storagetest"
)

// emptied takes the store away as a browser does that loses its database.
func (b *bench) emptied() {
	b.store = storagetest.NewFaulty(memory.New())
	b.runner.store, b.runner.author = nil, nil
}

// lost is what the messages tell of a loss; nil when they tell of none.
func lost(got []state.Msg) *state.Held {
	for _, m := range got {
		if e, ok := m.(state.StoreEmptied); ok {
			return &e.Lost
		}
	}
	return nil
}

func TestRunner_tells_of_a_store_that_came_up_empty_until_it_was_read(t *testing.T) {
	b := newBench(t)
	at := time.UnixMilli(1_920_000_000_000)
	b.runner.now = func() time.Time { return at }
	b.run(write(1, "torch"), write(2, "tip"), state.Export{})
	want := state.Held{Records: 2, At: at.UnixMilli(), File: at.UnixMilli()}
	if b.browser.held != want {
		t.Fatalf("kept %+v, want %+v", b.browser.held, want)
	}
	b.emptied()
	for range 2 { // at each start
		if l := lost(b.run(state.Reload{})); l == nil || *l != want {
			t.Fatalf("told of %+v, want %+v", l, want)
		}
	}
	b.run(write(3, "torch"))
	if l := lost(b.run(state.Reload{})); l == nil || l.Records != 2 {
		t.Errorf("once something was entered again: told of %+v", l)
	}
	b.run(state.ForgetLost{})
	if l := lost(b.run(state.Reload{})); l != nil || b.browser.held.Records != 1 {
		t.Errorf("read, and told again: %+v; kept %+v", l, b.browser.held)
	}
}

func TestRunner_says_nothing_of_a_store_that_lost_nothing(t *testing.T) {
	for _, tt := range []struct {
		name string
		do   func(*bench)
	}{
		{"a first start", func(*bench) {}},
		{"all of it deleted by its owner", func(b *bench) {
			done := b.run(write(1, "torch"))[0].(state.WriteDone)
			b.run(state.Write{Token: 2, Drafts: []storage.Draft{{Seen: done.Records[0], Del: true}}})
		}},
		{"a store that cannot be read", func(b *bench) {
			b.run(write(1, "torch"))
			b.emptied()
			b.openErr = storage.ErrBlocked
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t)
			tt.do(b)
			if l := lost(b.run(state.Reload{})); l != nil {
				t.Errorf("told of %+v", l)
			}
		})
	}
}

// An older build kept nothing beside its store: what is there is counted at the first start.
func TestRunner_counts_what_it_finds_in_the_store(t *testing.T) {
	b := newBench(t)
	b.run(write(1, "torch"), write(2, "tip"))
	b.browser.held = state.Held{}
	b.run(state.Reload{})
	if b.browser.held.Records != 2 {
		t.Errorf("kept %+v", b.browser.held)
	}
}
