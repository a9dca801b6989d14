package server_test

import (
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/memory"
	"torchside/storage/replicate"
	"torchside/storage/storagetest"
)

// device is a store kept in step over HTTP.
type device struct {
	t      *testing.T
	store  *memory.Store
	author *storage.Author
	engine *replicate.Engine
}

func newDevice(t *testing.T, w *world, p phone, seed uint64) *device {
	s := memory.New()
	opts := replicate.Options{Dev: storagetest.NewSource(seed).ID(1), Now: w.clock}
	return &device{t: t, store: s, author: storage.NewAuthor(s, w.clock, storagetest.NewSource(seed)), engine: replicate.New(s, p, opts)}
}

func (d *device) run(photos bool) replicate.Outcome {
	d.t.Helper()
	done, err := d.engine.Run(d.t.Context(), photos)
	if err != nil {
		d.t.Fatal(err)
	}
	return done
}

// write saves a version of a record with a photo of its own.
func (d *device) write(seen storage.Record, text string) storage.Record {
	d.t.Helper()
	h, err := d.store.PutBlob(d.t.Context(), []byte("photo of "+text))
	if err != nil {
		d.t.Fatal(err)
	}
	r, err := d.author.Write(d.t.Context(), storage.Draft{Kind: "sheet", Schema: 1, Seen: seen, Body: []byte(text), Blobs: []storage.Hash{h}})
	if err != nil {
		d.t.Fatal(err)
	}
	return r[0]
}

// shows checks that a device shows one version of a record.
func (d *device) shows(rec storage.ID, want string) {
	d.t.Helper()
	r, err := d.store.Get(d.t.Context(), rec)
	if err != nil || len(r.Heads) != 1 || string(r.Body) != want {
		d.t.Errorf("%d versions side by side, shown %q, %v; want %q alone", len(r.Heads), r.Body, err, want)
	}
}

// One device was away when its version was replaced and dropped, one is in step
// and never fetched photos, one is new.
func TestHistory_dropped_versions_stand_beside_nothing_and_are_not_asked_for(t *testing.T) {
	w := newWorld(t)
	shop := w.shop("Home")
	join := func(name string, seed uint64) *device { return newDevice(t, w, w.join(shop, name), seed) }
	author, away, thrifty := join("Author", 1), join("Away", 2), join("Thrifty", 3)
	if err := w.vault.SetKeep(t.Context(), shop, 1, w.clock()); err != nil {
		t.Fatal(err)
	}
	first := author.write(storage.Record{}, "first")
	author.run(true)
	away.run(false)
	away.shows(first.ID, "first")
	third := author.write(author.write(first, "second"), "third")
	author.run(true)
	thrifty.run(false)
	for range 2 {
		w.pass(24 * time.Hour)
		if err := w.vault.MarkDay(t.Context(), w.clock()); err != nil {
			t.Fatal(err)
		}
	}
	if done, err := w.vault.Trim(t.Context(), shop); err != nil || done.Ops != 2 || done.Blobs != 2 {
		t.Fatalf("dropped %+v, %v", done, err)
	}
	if done := thrifty.run(true); done.Gone != 2 || done.Photos != 1 || done.AllPhotos != 1 || done.Later != 0 || done.Replaced {
		t.Errorf("in step, without photos: %+v", done)
	}
	if done := thrifty.run(true); done.Gone != 0 || done.AllPhotos != 0 {
		t.Errorf("once more: %+v", done)
	}
	fresh := join("New", 4)
	if done := fresh.run(true); done.Got != 1 || done.Photos != 1 || done.Gone != 0 {
		t.Errorf("a new device: %+v", done)
	}
	if done := away.run(true); !done.Replaced || done.Gone != 0 || done.Photos != 1 {
		t.Errorf("back after the limit: %+v", done)
	}
	for _, d := range []*device{author, away, thrifty, fresh} {
		d.run(true)
		d.shows(third.ID, "third")
		if use, err := d.store.Usage(t.Context()); err != nil || use.Waiting != 0 {
			t.Errorf("%+v, %v", use, err)
		}
	}
}
