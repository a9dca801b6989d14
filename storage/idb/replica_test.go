//go:build js

package idb

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"testing"

	"torchside/storage"
	"torchside/storage/storagetest"
)

// writeVersion2 makes a database as the second version left it: ops with the
// attachments they name, and the attachments that are here.
func writeVersion2(t *testing.T, name string, ops []storage.Op, here ...storage.Hash) {
	t.Helper()
	db, err := connect(context.Background(), name, 2)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Call("close")
	tx, err := begin(db, true, []any{"ops", "outbox", "blobinfos"}, func(t *tx) {
		for _, op := range ops {
			line, err := json.Marshal(op)
			if err != nil {
				t.abort(err)
				return
			}
			row := map[string]any{"op": string(op.ID), "rec": string(op.Rec), "names": []any{}, "text": string(line)}
			if len(op.Blobs) > 0 {
				row["blobs"] = texts(op.Blobs)
			}
			t.store("ops").Call("put", row)
			t.store("outbox").Call("put", map[string]any{"op": string(op.ID)})
		}
		for _, h := range here {
			t.store("blobinfos").Call("put", map[string]any{"hash": h, "size": 5, "put": 0})
		}
	})
	if err == nil {
		err = tx.wait(context.Background())
	}
	if err != nil {
		t.Fatal(err)
	}
}

func TestOpen_lists_the_attachments_of_before_there_were_lists(t *testing.T) {
	name := freshName()
	ops := storagetest.RandomOps(61, 3)
	here, away, loose := storage.HashOf([]byte("here")), storage.HashOf([]byte("away")), storage.HashOf([]byte("loose"))
	ops[0].Blobs, ops[1].Blobs = []storage.Hash{away}, []storage.Hash{here, away}
	slices.Sort(ops[1].Blobs)
	writeVersion2(t, name, ops, here, loose)
	for range 2 { // and once more on what the first opening left
		s, err := Open(context.Background(), name, storage.Index{})
		if err != nil {
			t.Fatal(err)
		}
		ctx := context.Background()
		if got, err := s.WantedBlobs(ctx, "", 9); err != nil || !slices.Equal(got, []storage.Hash{away}) {
			t.Errorf("wanted %v, %v", got, err)
		}
		if got, err := s.UnsentBlobs(ctx, "", 9); err != nil || !slices.Equal(got, []storage.Hash{here}) {
			t.Errorf("unsent %v, %v", got, err)
		}
		if got, err := s.Waiting(ctx, 9); err != nil || len(got) != len(ops) {
			t.Errorf("%d ops wait, %v", len(got), err)
		}
		if got, err := s.History(ctx, ops[0].Rec); err != nil || len(got) == 0 || got[0].Rec != ops[0].Rec {
			t.Errorf("history %v, %v", got, err)
		}
		if at, err := s.Checkpoint(ctx); err != nil || at != (storage.Checkpoint{}) {
			t.Errorf("checkpoint %v, %v", at, err)
		}
		s.Close()
	}
}

// The checkpoint is written last: a page that finds no room for it, or is given
// up there, is not there either.
func TestPulled_stores_neither_page_nor_checkpoint_when_one_finds_no_room(t *testing.T) {
	s, _ := writer(t)
	ops := storagetest.RandomOps(62, 20)
	place := storage.Checkpoint{Store: "a vault", Seq: 20, Chain: storage.HashOf([]byte("20"))}
	for _, store := range []string{metaStore, opsStore, headsStore} {
		t.Run(store, func(t *testing.T) {
			patch(t, "IDBObjectStore", "put", `return function(...args) {
				if (this.name === "`+store+`") throw new DOMException("full", "QuotaExceededError");
				return old.apply(this, args);
			};`)
			if _, err := s.Pulled(context.Background(), place, ops...); !errors.Is(err, storage.ErrFull) {
				t.Fatalf("error = %v, want ErrFull", err)
			}
		})
		count(t, s, 0)
		if at, err := s.Checkpoint(context.Background()); err != nil || at != (storage.Checkpoint{}) {
			t.Errorf("checkpoint %v, %v", at, err)
		}
	}
	if _, err := s.Pulled(context.Background(), place, ops...); err != nil {
		t.Fatal(err)
	}
	count(t, s, 20)
	if at, err := s.Checkpoint(context.Background()); err != nil || at != place {
		t.Errorf("checkpoint %v, %v", at, err)
	}
}

func TestCheckpoint_says_when_it_cannot_be_read(t *testing.T) {
	s, _ := writer(t)
	for _, bad := range []any{"{", 7, true} {
		err := s.run(context.Background(), true, []any{metaStore}, func(t *tx) { t.store(metaStore).Call("put", bad, placeKey) })
		if err != nil {
			t.Fatal(err)
		}
		if _, err := s.Checkpoint(context.Background()); !errors.Is(err, storage.ErrCorrupt) {
			t.Errorf("%v: error = %v, want ErrCorrupt", bad, err)
		}
	}
	if err := s.Requeue(context.Background()); err != nil {
		t.Fatal(err)
	}
	if at, err := s.Checkpoint(context.Background()); err != nil || at != (storage.Checkpoint{}) {
		t.Errorf("after starting anew: %v, %v", at, err)
	}
}
