//go:build js

package idb

import (
	"context"
	"errors"
	"testing"
	"time"

	"torchside/storage"
)

// Another tab with a newer build upgrades the database while this one runs.
func TestStore_makes_way_for_an_upgrade_and_then_says_it_is_closed(t *testing.T) {
	s, author := writer(t)
	newer, err := connect(context.Background(), s.name, len(upgrades)+1)
	if err != nil {
		t.Fatalf("the upgrade was held up: %v", err)
	}
	defer newer.Call("close")
	if _, err := author.Save(context.Background(), "torch", 1, nil); !errors.Is(err, storage.ErrClosed) {
		t.Errorf("write after the upgrade: %v, want ErrClosed", err)
	}
	if _, err := Open(context.Background(), s.name, storage.Index{}); !errors.Is(err, storage.ErrNewer) {
		t.Errorf("open after the upgrade: %v, want ErrNewer", err)
	}
}

// A tab that does not let go must not leave the upgrading one without a word.
func TestConnect_says_when_another_tab_holds_an_older_version(t *testing.T) {
	name := freshName()
	stubborn, err := connect(context.Background(), name, 1)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := connect(context.Background(), name, 2); !errors.Is(err, storage.ErrBlocked) {
		t.Errorf("error = %v, want ErrBlocked", err)
	}
	stubborn.Call("close")
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()
	db, err := connect(ctx, name, 2)
	if err != nil {
		t.Fatalf("after the other tab closed: %v", err)
	}
	db.Call("close")
}

// An upgrade that was given up must not change the database behind the back
// of the next one.
func TestConnect_leaves_the_database_as_it_was_when_nobody_waits(t *testing.T) {
	name := freshName()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := connect(ctx, name, 1); !errors.Is(err, context.Canceled) {
		t.Fatalf("error = %v, want context.Canceled", err)
	}
	s := opened(t, name)
	count(t, s, 0)
}

func TestStore_says_what_stored_data_it_cannot_read(t *testing.T) {
	s, author := writer(t)
	rec, err := author.Save(context.Background(), "torch", 1, []byte("fine"))
	if err != nil {
		t.Fatal(err)
	}
	err = s.run(context.Background(), true, []any{headsStore, opsStore, metaStore}, func(t *tx) {
		t.store(headsStore).Call("put", map[string]any{"rec": string(rec.ID), "kind": "torch", "texts": []any{"{"}})
		t.store(opsStore).Call("put", map[string]any{"op": string(rec.Heads[0].ID), "rec": string(rec.ID), "names": []any{}, "text": `{"op":1}`})
		t.store(metaStore).Call("put", "nonsense", deviceKey)
	})
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	_, getErr := s.Get(ctx, rec.ID)
	_, listErr := s.List(ctx, storage.Query{Kind: "torch"})
	_, opsErr := s.Ops(ctx, "", 10)
	_, metaErr := s.Meta(ctx)
	_, saveErr := author.Update(ctx, rec, 1, []byte("more"))
	for _, err := range []error{getErr, listErr, opsErr, metaErr, saveErr} {
		if !errors.Is(err, storage.ErrCorrupt) {
			t.Errorf("error = %v, want ErrCorrupt", err)
		}
	}
}
