//go:build js

package idb

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"syscall/js"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/answer"
	"torchside/storage/merge"
	"torchside/storage/postings"
	"torchside/storage/replicate"
	"torchside/storage/storagetest"
	"torchside/storage/vault/memvault"
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
		if got, err := s.Waiting(ctx, "", 9); err != nil || len(got) != len(ops) {
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

func TestWaiting_passes_over_a_change_that_cannot_be_read(t *testing.T) {
	s, _ := writer(t)
	ops := storagetest.RandomOps(63, 3)
	if _, err := s.Append(context.Background(), ops...); err != nil {
		t.Fatal(err)
	}
	err := s.run(context.Background(), true, []any{opsStore}, func(t *tx) {
		t.store(opsStore).Call("put", map[string]any{"op": string(ops[1].ID), "rec": string(ops[1].Rec), "names": []any{}, "text": "{"})
	})
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Waiting(context.Background(), "", 9)
	want, _ := merge.Union([]storage.Op{ops[0], ops[2]}, nil)
	if err != nil || !storagetest.SameOps(got, want) {
		t.Errorf("%d wait, %v", len(got), err)
	}
	if _, err := s.Ops(context.Background(), "", 9); !errors.Is(err, storage.ErrCorrupt) {
		t.Errorf("reading all: %v, want ErrCorrupt", err)
	}
}

// No list is read at once, however long it is, and changes that cannot be read
// do not keep those behind them here.
func TestStore_reads_long_lists_in_blocks(t *testing.T) {
	ctx := context.Background()
	s, author := writer(t)
	rec, err := author.Save(ctx, "torch", 1, []byte("0"))
	if err != nil {
		t.Fatal(err)
	}
	const changes = 450
	for i := range changes {
		if rec, err = author.Update(ctx, rec, 1, fmt.Append(nil, i)); err != nil {
			t.Fatal(err)
		}
	}
	most := readsAtOnce(t)
	patch(t, "IDBIndex", "getAll", `return function() { throw new Error("whole rows of an index at once"); };`)
	if got, err := s.Waiting(ctx, "", 10_000); err != nil || len(got) != changes+1 {
		t.Errorf("%d wait, %v", len(got), err)
	}
	if got, err := s.History(ctx, rec.ID); err != nil || len(got) != changes+1 || got[changes].ID != rec.Heads[0].ID {
		t.Errorf("history of %d, %v", len(got), err)
	}
	if n := most(); n > pageRows || n < 2 {
		t.Errorf("%d rows were asked for at once, want up to %d", n, pageRows)
	}
}

// readsAtOnce counts, from now on, how many rows were asked for before the first of them came.
func readsAtOnce(t *testing.T) func() int {
	patch(t, "IDBObjectStore", "get", `window.openReads = 0; window.mostReads = 0; return function(...args) {
		const request = old.apply(this, args);
		window.mostReads = Math.max(window.mostReads, ++window.openReads);
		request.addEventListener("success", () => window.openReads--);
		return request;
	};`)
	return func() int { return js.Global().Get("mostReads").Int() }
}

func TestFind_reads_the_index_a_few_blocks_at_a_time(t *testing.T) {
	name := freshName()
	const sheets = 2*blocksAtOnce*postings.Size + 1
	for lot := range slices.Chunk(sheetOps(sheets), 500) {
		if _, err := openedWith(t, name, sheetIndex).Append(context.Background(), lot...); err != nil {
			t.Fatal(err)
		}
	}
	s := openedWith(t, name, sheetIndex)
	whole(t, s, storage.Find{Kind: "sheet", Limit: 1})
	s.known = known{}
	most := readsAtOnce(t)
	page := whole(t, s, storage.Find{Kind: "sheet", Limit: 3, Terms: []string{"done=yes"}})
	if n := most(); page.Total != sheets || n > blocksAtOnce || n < 2 {
		t.Errorf("%d of %d found with up to %d reads at once, want up to %d", page.Total, sheets, n, blocksAtOnce)
	}
}

func TestWaiting_goes_on_behind_a_block_that_cannot_be_read(t *testing.T) {
	ctx := context.Background()
	s, _ := writer(t)
	ops, _ := merge.Union(storagetest.RandomOps(64, 30), nil)
	if _, err := s.Append(ctx, ops...); err != nil {
		t.Fatal(err)
	}
	err := s.run(ctx, true, []any{opsStore}, func(t *tx) {
		for _, op := range ops[:25] {
			t.store(opsStore).Call("put", map[string]any{"op": string(op.ID), "rec": string(op.Rec), "names": []any{}, "text": "{"})
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		after storage.ID
		want  []storage.Op
	}{{"", ops[25:27]}, {ops[3].ID, ops[25:27]}, {ops[26].ID, ops[27:29]}, {ops[28].ID, ops[29:]}, {ops[29].ID, nil}} {
		if got, err := s.Waiting(ctx, c.after, 2); err != nil || !storagetest.SameOps(got, c.want) {
			t.Errorf("after %q: %d wait, %v; want %d", c.after, len(got), err, len(c.want))
		}
	}
}

// step is one device on a database of its own.
type step struct {
	*Store
	author *storage.Author
	engine *replicate.Engine
}

func newStep(t *testing.T, seed uint64, peer replicate.Peer) step {
	s := openedWith(t, freshName(), storagetest.Words(1))
	return step{s, storage.NewAuthor(s, time.Now, storagetest.NewSource(seed)), replicate.New(s, peer, replicate.Options{
		Dev: storagetest.NewSource(seed).ID(1), Now: time.Now, Fields: func(string) bool { return true },
	})}
}

func (d step) run(t *testing.T) replicate.Outcome {
	t.Helper()
	done, err := d.engine.Run(context.Background(), true)
	if err != nil {
		t.Fatal(err)
	}
	return done
}

// Two databases and a vault that is put back in between: the engine as it runs
// in the app, but for the network.
func TestStore_meets_another_through_a_vault_that_was_put_back(t *testing.T) {
	ctx := context.Background()
	disk, err := memvault.NewDisk(storagetest.NewSource(71))
	if err != nil {
		t.Fatal(err)
	}
	v := disk.Open()
	shop, err := v.CreateShop(ctx, "home", time.Now())
	if err != nil {
		t.Fatal(err)
	}
	peer := &answer.Shop{Vault: v, ID: shop.ID, Now: time.Now}
	phone, tablet := newStep(t, 1, peer), newStep(t, 2, peer)
	torch, err := phone.author.Save(ctx, "torch", 1, []byte(`{"a":1,"b":1}`))
	if err != nil {
		t.Fatal(err)
	}
	phone.run(t)
	tablet.run(t)
	backup := disk.Snapshot()
	photo, err := phone.PutBlob(ctx, []byte("photo"))
	if err != nil {
		t.Fatal(err)
	}
	drafts := []storage.Draft{{Seen: torch, Body: []byte(`{"a":2,"b":1}`)}}
	for i := range 430 {
		drafts = append(drafts, storage.Draft{Kind: "sheet", Schema: 1, Body: fmt.Append(nil, i), Blobs: []storage.Hash{photo}})
	}
	if _, err := phone.author.Write(ctx, drafts...); err != nil {
		t.Fatal(err)
	}
	if _, err := tablet.author.Update(ctx, torch, 1, []byte(`{"a":1,"b":2}`)); err != nil {
		t.Fatal(err)
	}
	if done := phone.run(t); done.Sent != 431 || done.Photos != 1 {
		t.Errorf("the phone's run: %+v", done)
	}
	disk.Restore(backup)
	peer.Vault = disk.Open()
	tablet.run(t)
	if done := phone.run(t); !done.Replaced || done.Sent < 432 || done.Merged != 1 || done.Photos != 1 {
		t.Errorf("the phone's run after the vault was put back: %+v", done)
	}
	tablet.run(t)
	sameStores(t, phone, tablet, photo)
}

func sameStores(t *testing.T, one, two step, photo storage.Hash) {
	t.Helper()
	var lists [2][]storage.Record
	for i, d := range []step{one, two} {
		var err error
		if lists[i], err = d.List(context.Background(), storage.Query{Deleted: true}); err != nil {
			t.Fatal(err)
		}
		u, err := d.Usage(context.Background())
		if err != nil || u.Waiting != 0 || u.Records != 431 || u.Blobs != 1 {
			t.Errorf("device %d holds %+v, %v", i, u, err)
		}
		if data, err := d.Blob(context.Background(), photo); err != nil || string(data) != "photo" {
			t.Errorf("device %d has the photo %q, %v", i, data, err)
		}
	}
	if !storagetest.SameRecords(lists[0], lists[1]) || string(lists[0][0].Body) != `{"a":2,"b":2}` {
		t.Errorf("the devices differ, or the torch is %s", lists[0][0].Body)
	}
}
