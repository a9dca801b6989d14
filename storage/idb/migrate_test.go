//go:build js

package idb

import (
	"context"
	"encoding/json"
	"errors"
	"strings"
	"syscall/js"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/merge"
	"torchside/storage/storagetest"
)

// writeVersion1 makes a database with the rows that the first version wrote,
// spelled out here so that no later change of the code can change them.
func writeVersion1(t *testing.T, name string, ops []storage.Op, meta string) {
	t.Helper()
	db, err := connect(context.Background(), name, 1)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Call("close")
	line := func(op storage.Op) string {
		text, err := json.Marshal(op)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	tx, err := begin(db, true, []any{"ops", "heads", "outbox", "meta"}, func(t *tx) {
		for _, op := range ops {
			names := []any{}
			for _, p := range op.Parents {
				names = append(names, string(op.Rec)+"/"+string(p))
			}
			t.store("ops").Call("put", map[string]any{"op": string(op.ID), "rec": string(op.Rec), "names": names, "text": line(op)})
			t.store("outbox").Call("put", map[string]any{"op": string(op.ID)})
		}
		for _, r := range merge.Records(ops) {
			heads := []any{}
			for _, h := range r.Heads {
				heads = append(heads, line(h))
			}
			t.store("heads").Call("put", map[string]any{"rec": string(r.ID), "kind": r.Kind, "texts": heads})
		}
		t.store("meta").Call("put", meta, "device")
	})
	if err == nil {
		err = tx.wait(context.Background())
	}
	if err != nil {
		t.Fatal(err)
	}
}

// Each version before the present one has its rows written by hand in a test. A new step asks for those of the version it leaves.
func TestUpgrades_each_start_from_rows_written_by_hand(t *testing.T) {
	before := []any{writeVersion1, writeVersion2}
	if version := len(upgrades); len(before) != version-1 {
		t.Errorf("the database is of version %d, and there are rows of %d before it: write those of version %d, and open them", version, len(before), version-1)
	}
}

func TestOpen_finds_everything_in_a_database_of_the_first_version(t *testing.T) {
	name := freshName()
	ops := storagetest.RandomOps(51, 700)
	photo := []byte("photo of an op that was there before photos could be kept")
	ops[0].Blobs = []storage.Hash{storage.HashOf(photo)}
	dev := storagetest.NewSource(52).ID(1)
	writeVersion1(t, name, ops, `{"dev":"`+string(dev)+`","n":41,"hlc":"0195936f0000.00000002"}`)

	s, err := Open(context.Background(), name, storagetest.Words(1))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	records, err := s.List(context.Background(), storage.Query{Deleted: true})
	if err != nil || !storagetest.SameRecords(records, merge.Records(ops)) {
		t.Errorf("%d records, %v; other than were written", len(records), err)
	}
	page, err := s.Ops(context.Background(), "", 1000)
	want, _ := merge.Union(ops, nil)
	if err != nil || !storagetest.SameOps(page, want) {
		t.Errorf("%d ops, %v; other than were written", len(page), err)
	}
	if meta, err := s.Meta(context.Background()); err != nil || meta.Dev != dev || meta.N != 41 || meta.HLC.Counter != 2 {
		t.Errorf("meta %+v, %v", meta, err)
	}
	for _, kind := range []string{"torch", "hose"} {
		live := 0
		for _, r := range merge.Records(ops) {
			if r.Kind == kind && !r.Deleted {
				live++
			}
		}
		if got := whole(t, s, storage.Find{Kind: kind, Limit: 1}); got.Total != live || live == 0 {
			t.Errorf("%d of kind %s are found, want %d", got.Total, kind, live)
		}
	}
	keepsOldPhoto(t, s, photo)
}

// keepsOldPhoto wants an attachment that only an op of old refers to to stay.
func keepsOldPhoto(t *testing.T, s *Store, photo []byte) {
	t.Helper()
	if _, err := s.PutBlob(context.Background(), photo); err != nil {
		t.Fatal(err)
	}
	dropped, err := s.DropOrphans(context.Background(), time.Now().Add(48*time.Hour))
	if err != nil || len(dropped) != 0 {
		t.Errorf("dropped %v, %v", dropped, err)
	}
}

// whole asks until the index is whole.
func whole(t *testing.T, s *Store, f storage.Find) storage.Page {
	t.Helper()
	for {
		page, err := s.Find(context.Background(), f)
		if err != nil {
			t.Fatal(err)
		}
		if !page.Partial {
			return page
		}
		time.Sleep(time.Millisecond)
	}
}

// An index is only a copy: one that is damaged costs nothing but the time to
// make it anew, and never a save.
func TestStore_makes_a_damaged_index_anew_and_saves_meanwhile(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(t *tx)
	}{
		{"directory", func(t *tx) { t.store(dirsStore).Call("put", "{", "torch") }},
		{"block", func(t *tx) { t.store(blocksStore).Call("put", "nonsense", []any{"torch", 0}) }},
		{"block missing", func(t *tx) { t.store(blocksStore).Call("clear") }},
	} {
		t.Run(c.name, func(t *testing.T) {
			name := freshName()
			s := openedWith(t, name, storagetest.Words(1))
			author := storage.NewAuthor(s, time.Now, storagetest.NewSource(53))
			save := func(body string) {
				t.Helper()
				if _, err := author.Save(context.Background(), "torch", 1, []byte(body)); err != nil {
					t.Fatalf("save %q: %v", body, err)
				}
			}
			save("one")
			if err := s.run(context.Background(), true, []any{dirsStore, blocksStore}, c.spoil); err != nil {
				t.Fatal(err)
			}
			s.known = known{}
			save("two")
			if page := whole(t, s, storage.Find{Kind: "torch", Limit: 5, Terms: []string{"one"}}); page.Total != 1 {
				t.Errorf("%d found after the damage, want 1", page.Total)
			}
			save("three")
			if page := whole(t, openedWith(t, name, storagetest.Words(1)), storage.Find{Kind: "torch", Limit: 5}); page.Total != 3 {
				t.Errorf("%d found after opening again, want 3", page.Total)
			}
		})
	}
}

func openedWith(t *testing.T, name string, index storage.Index) *Store {
	t.Helper()
	s, err := Open(context.Background(), name, index)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

// A tab with the old program writes entries by old rules after a new one has
// made the index: the next opening of the new one must set that right.
func TestOpen_makes_the_index_anew_after_an_older_program_wrote(t *testing.T) {
	name := freshName()
	old := openedWith(t, name, storagetest.Words(1))
	openedWith(t, name, storagetest.Words(2))
	if _, err := storage.NewAuthor(old, time.Now, storagetest.NewSource(54)).Save(context.Background(), "torch", 1, []byte("late")); err != nil {
		t.Fatal(err)
	}
	s := openedWith(t, name, storagetest.Words(2))
	if page := whole(t, s, storage.Find{Kind: "torch", Limit: 5, Terms: []string{"2late"}}); page.Total != 1 {
		t.Errorf("%d found by the new rules, want 1", page.Total)
	}
	if page, err := old.Find(context.Background(), storage.Find{Kind: "torch", Limit: 5}); err != nil || !page.Partial {
		t.Errorf("the old program is not told that the index is not its own: %+v, %v", page, err)
	}
}

// Two tabs write at once: the index holds what both wrote, and a question in
// one sees what the other has just written.
func TestStore_finds_what_another_tab_has_just_written(t *testing.T) {
	name := freshName()
	here, there := openedWith(t, name, storagetest.Words(1)), openedWith(t, name, storagetest.Words(1))
	mine := storage.NewAuthor(here, time.Now, storagetest.NewSource(55))
	theirs := storage.NewAuthor(there, time.Now, storagetest.NewSource(56))
	for i := range 40 {
		errs := make(chan error, 2)
		for _, author := range []*storage.Author{mine, theirs} {
			go func() {
				_, err := author.Save(context.Background(), "torch", 1, []byte("both"))
				errs <- err
			}()
		}
		if err := errors.Join(<-errs, <-errs); err != nil {
			t.Fatal(err)
		}
		for _, s := range []*Store{here, there} {
			if page := whole(t, s, storage.Find{Kind: "torch", Limit: 1, Terms: []string{"both"}}); page.Total != 2*(i+1) {
				t.Fatalf("round %d: %d found, want %d", i, page.Total, 2*(i+1))
			}
		}
	}
}

// A write that the browser gives up must leave neither its records nor their
// entries behind, on the disk or in memory.
func TestStore_leaves_nothing_of_an_aborted_write_in_the_index(t *testing.T) {
	s := openedWith(t, freshName(), storagetest.Words(1))
	author := storage.NewAuthor(s, time.Now, storagetest.NewSource(57))
	if _, err := author.Save(context.Background(), "torch", 1, []byte("kept")); err != nil {
		t.Fatal(err)
	}
	t.Run("while it fails", func(t *testing.T) {
		patch(t, "IDBObjectStore", "put", `return function(...args) {
			if (this.name === "indexes") this.transaction.abort();
			return old.apply(this, args);
		};`)
		if _, err := author.Save(context.Background(), "torch", 1, []byte("lost")); err == nil {
			t.Fatal("no error")
		}
	})
	count(t, s, 1)
	if page := whole(t, s, storage.Find{Kind: "torch", Limit: 5}); page.Total != 1 || string(page.Records[0].Body) != "kept" {
		t.Errorf("found %+v", page)
	}
}

// A photo that finds no room leaves the entry to be saved without it.
func TestStore_saves_the_entry_when_its_photo_finds_no_room(t *testing.T) {
	s, author := writer(t)
	t.Run("while full", func(t *testing.T) {
		patch(t, "IDBObjectStore", "put", `return function(...args) {
			if (this.name === "blobs") throw new DOMException("full", "QuotaExceededError");
			return old.apply(this, args);
		};`)
		if _, err := s.PutBlob(context.Background(), []byte("photo")); !errors.Is(err, storage.ErrFull) {
			t.Fatalf("error = %v, want ErrFull", err)
		}
		if _, err := author.Save(context.Background(), "sheet", 1, []byte("entry")); err != nil {
			t.Errorf("save without the photo: %v", err)
		}
	})
	if u, err := s.Usage(context.Background()); err != nil || u.Blobs != 0 || u.Records != 1 {
		t.Errorf("usage %+v, %v", u, err)
	}
}

func TestBlob_says_when_its_content_is_not_what_was_stored(t *testing.T) {
	s, _ := writer(t)
	name, err := s.PutBlob(context.Background(), []byte("photo"))
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []js.Value{bufferOf([]byte("phota")), js.ValueOf("photo"), js.Null()} {
		if err := s.run(context.Background(), true, []any{blobsStore}, func(t *tx) { t.store(blobsStore).Call("put", bad, name) }); err != nil {
			t.Fatal(err)
		}
		if _, err := s.Blob(context.Background(), name); !errors.Is(err, storage.ErrCorrupt) {
			t.Errorf("error = %v, want ErrCorrupt", err)
		}
	}
	if _, err := s.PutBlob(context.Background(), []byte("photo")); err != nil {
		t.Fatal(err)
	}
	if data, err := s.Blob(context.Background(), name); err != nil || string(data) != "photo" {
		t.Errorf("after putting it again: %q, %v", data, err)
	}
}

// Someone clears the data of the site, or another tab deletes the database,
// while this one runs.
func TestStore_says_it_is_closed_when_the_database_is_deleted(t *testing.T) {
	s, author := writer(t)
	if _, err := author.Save(context.Background(), "torch", 1, []byte("gone")); err != nil {
		t.Fatal(err)
	}
	deleteDatabase(t, s.name)
	if _, err := author.Save(context.Background(), "torch", 1, []byte("typed")); !errors.Is(err, storage.ErrClosed) {
		t.Fatalf("error = %v, want ErrClosed", err)
	}
	again := opened(t, s.name)
	count(t, again, 0)
	if _, err := storage.NewAuthor(again, time.Now, storagetest.NewSource(58)).Save(context.Background(), "torch", 1, []byte("typed")); err != nil {
		t.Errorf("save after opening again: %v", err)
	}
	if page := whole(t, again, storage.Find{Kind: "torch", Limit: 5}); page.Total != 1 || !strings.Contains(string(page.Records[0].Body), "typed") {
		t.Errorf("found %+v", page)
	}
}

func deleteDatabase(t *testing.T, name string) {
	t.Helper()
	request := js.Global().Get("indexedDB").Call("deleteDatabase", name)
	done := make(chan string, 1)
	for _, event := range []string{"success", "error", "blocked"} {
		f := js.FuncOf(func(js.Value, []js.Value) any {
			select {
			case done <- event:
			default:
			}
			return nil
		})
		t.Cleanup(f.Release)
		request.Set("on"+event, f)
	}
	if got := <-done; got != "success" {
		t.Fatalf("deleting the database: %s", got)
	}
}
