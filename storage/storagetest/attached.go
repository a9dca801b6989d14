package storagetest

import (
	"slices"
	"time"

	"torchside/storage"
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
