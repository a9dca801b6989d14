package storagetest

import (
	"slices"
	"time"

	"torchside/storage"
	"torchside/storage/merge"
)

// names wants a list of attachments, and the same in pages of one.
func (b *bench) names(what string, read func(after storage.Hash, limit int) ([]storage.Hash, error), want ...storage.Hash) {
	b.Helper()
	slices.Sort(want)
	got, err := read("", 100)
	b.ok(err)
	if !slices.Equal(got, want) {
		b.Errorf("%s: %.8v, want %.8v", what, got, want)
	}
	after := storage.Hash("")
	for _, h := range want {
		page, err := read(after, 1)
		b.ok(err)
		if !slices.Equal(page, []storage.Hash{h}) {
			b.Errorf("%s after %.8s: %.8v, want %.8s", what, after, page, h)
		}
		after = h
	}
	page, err := read(after, 1)
	b.ok(err)
	if len(page) != 0 {
		b.Errorf("%s after the last: %.8v", what, page)
	}
	_, err = read("", 0)
	b.fails(err, storage.ErrInvalid)
}

func (b *bench) wanted(want ...storage.Hash) {
	b.Helper()
	b.names("wanted", func(after storage.Hash, limit int) ([]storage.Hash, error) {
		return b.replica().WantedBlobs(b.Context(), after, limit)
	}, want...)
}

func (b *bench) unsent(want ...storage.Hash) {
	b.Helper()
	b.names("unsent", func(after storage.Hash, limit int) ([]storage.Hash, error) {
		return b.replica().UnsentBlobs(b.Context(), after, limit)
	}, want...)
}

// naming saves a record that names attachments.
func (b *bench) naming(names ...storage.Hash) storage.Record {
	b.Helper()
	slices.Sort(names)
	records, err := b.author.Write(b.Context(), storage.Draft{Kind: "sheet", Schema: 1, Blobs: names})
	b.ok(err)
	return records[0]
}

func wantsBlobs(b *bench) {
	b.wanted()
	there := b.put("is here")
	away, other := storage.HashOf([]byte("away")), storage.HashOf([]byte("other"))
	rec := b.naming(there, away)
	b.wanted(away)
	op := RandomOps(31, 1)[0]
	op.Blobs = []storage.Hash{other}
	_, err := b.replica().Pulled(b.Context(), at(1), op)
	b.ok(err)
	b.wanted(away, other)
	b.put("away")
	b.wanted(other)
	_, err = b.author.Delete(b.Context(), rec)
	b.ok(err)
	b.wanted(other)
	b.ok(b.store.Close())
	b.store = b.reopened()
	b.wanted(other)
	b.put("other")
	b.wanted()
}

func unsentBlobs(b *bench) {
	b.unsent()
	one, two, loose := b.put("one"), b.put("two"), b.put("loose")
	b.unsent()
	b.naming(one, two)
	b.unsent(one, two)
	b.ok(b.replica().BlobsSent(b.Context(), one, loose, storage.HashOf([]byte("not here"))))
	b.unsent(two)
	b.put("one")
	b.unsent(two)
	late := b.put("not here")
	b.naming(late)
	b.unsent(two, late)
	b.ok(b.store.Close())
	b.store = b.reopened()
	b.author = storage.NewAuthor(b.store, b.clock.Now, NewSource(32))
	b.unsent(two, late)
	b.ok(b.replica().BlobsSent(b.Context(), two, late))
	b.unsent()
	dropped, err := b.store.DropOrphans(b.Context(), time.Now().Add(2*storage.OrphanAge))
	b.ok(err)
	if !slices.Equal(dropped, []storage.Hash{loose}) {
		b.Errorf("dropped %.8v, want %.8s", dropped, loose)
	}
	b.naming(b.put("loose"))
	b.unsent(loose)
	b.ok(b.replica().Requeue(b.Context()))
	b.unsent(one, two, late, loose)
}

func goneBlobs(b *bench) {
	away, other := storage.HashOf([]byte("away")), storage.HashOf([]byte("other"))
	ops := RandomOps(33, 2)
	ops[0].Blobs, ops[1].Blobs = []storage.Hash{away}, []storage.Hash{other}
	_, err := b.replica().Pulled(b.Context(), at(1), ops...)
	b.ok(err)
	own := b.naming(other)
	b.ok(b.replica().BlobsGone(b.Context(), away))
	b.wanted(away, other) // an op waits
	b.ok(b.replica().Sent(b.Context(), own.HeadIDs()...))
	b.ok(b.replica().BlobsGone(b.Context(), away))
	b.wanted(other)
	b.ok(b.store.Close())
	b.store = b.reopened()
	b.author = storage.NewAuthor(b.store, b.clock.Now, NewSource(34))
	b.wanted(other)
	_, err = b.replica().Pulled(b.Context(), at(2), ops...) // held already
	b.ok(err)
	b.wanted(other)
	again := RandomOps(35, 1)[0]
	again.Blobs = []storage.Hash{away}
	_, err = b.replica().Pulled(b.Context(), at(3), again)
	b.ok(err)
	b.wanted(away, other)
	b.ok(b.replica().BlobsGone(b.Context(), away, other))
	b.wanted()
	b.ok(b.replica().Requeue(b.Context()))
	b.wanted(away, other)
	b.put("away")
	b.wanted(other)
}

// forgets: first and second were replaced by what this store never had; fourth
// is an edit of third made here.
func forgets(b *bench) {
	ops := RandomOps(36, 5)
	photo := storage.HashOf([]byte("old photo"))
	for i := range ops {
		ops[i].Rec, ops[i].Kind, ops[i].Del, ops[i].Parents, ops[i].Blobs = ops[0].Rec, "torch", false, nil, nil
	}
	first, second, newest, third, fourth := ops[0], ops[1], ops[2], ops[3], ops[4]
	second.Parents = []storage.ID{first.ID}
	second.Blobs = []storage.Hash{photo}
	newest.Parents = []storage.ID{NewSource(3).ID(7)}
	fourth.Parents = []storage.ID{third.ID}
	all := []storage.Op{first, second, newest, third, fourth}
	_, err := b.store.Append(b.Context(), all...)
	b.ok(err)
	b.waitsFor(idsOf(all)...)
	b.wanted(photo)
	if rec := b.get(first.Rec); len(rec.Heads) != 3 {
		b.Fatalf("%d versions stand beside each other, want 3", len(rec.Heads))
	}
	b.ok(b.replica().Forget(b.Context(), first.ID, third.ID, NewSource(4).ID(5))) // named, or not here
	if rec := b.get(first.Rec); len(rec.Heads) != 3 {
		b.Errorf("%d versions after nothing was to be forgotten", len(rec.Heads))
	}
	b.ok(b.replica().Forget(b.Context(), second.ID))
	b.wanted()
	b.waitsFor(newest.ID, third.ID, fourth.ID)
	for range 2 {
		kept, err := b.replica().History(b.Context(), first.Rec)
		b.ok(err)
		sorted, _ := merge.Union([]storage.Op{newest, third, fourth}, nil)
		want := merge.Records(sorted)[0]
		if !SameOps(kept, sorted) || !SameRecords([]storage.Record{b.get(first.Rec)}, []storage.Record{want}) {
			b.Errorf("%d ops are left, want 3", len(kept))
		}
		b.ok(b.store.Close())
		b.store = b.reopened()
	}
	b.ok(b.replica().Forget(b.Context(), newest.ID, fourth.ID))
	_, err = b.store.Get(b.Context(), first.Rec)
	b.fails(err, storage.ErrNotFound)
	_, err = b.store.Append(b.Context(), all...)
	b.ok(err)
	b.waitsFor(idsOf(all)...)
}
