package storagetest

import (
	"bytes"
	"slices"
	"strings"
	"time"

	"torchside/storage"
)

// put stores an attachment.
func (b *bench) put(data string) storage.Hash {
	b.Helper()
	name, err := b.store.PutBlob(b.Context(), []byte(data))
	b.ok(err)
	return name
}

func blobsReadBack(b *bench) {
	// The example of FIPS 180-4 for "abc".
	if got, want := b.put("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"; got != want {
		b.Errorf("name of %q = %s, want %s", "abc", got, want)
	}
	large := strings.Repeat("\x00\xff photo ", 200_000)
	name := b.put(large)
	if again := b.put(large); again != name {
		b.Errorf("the same content is named %s and %s", name, again)
	}
	got, err := b.store.Blob(b.Context(), name)
	b.ok(err)
	if string(got) != large {
		b.Error("an attachment reads back otherwise")
	}
	got[0] = 'X'
	b.ok(b.store.Close())
	b.store = b.reopened()
	again, err := b.store.Blob(b.Context(), name)
	b.ok(err)
	if !bytes.Equal(again, []byte(large)) {
		b.Error("an attachment reads back otherwise after reopening")
	}
	none := storage.HashOf([]byte("none"))
	_, err = b.store.Blob(b.Context(), none)
	b.fails(err, storage.ErrNotFound)
	missing, err := b.store.MissingBlobs(b.Context(), none, name, "x")
	b.ok(err)
	if !slices.Equal(missing, []storage.Hash{none, "x"}) {
		b.Errorf("missing = %v", missing)
	}
	u, err := b.store.Usage(b.Context())
	b.ok(err)
	if u.Blobs != 2 {
		b.Errorf("%d attachments counted, want 2", u.Blobs)
	}
}

func blobPages(b *bench) {
	var want []storage.Hash
	for i := range 25 {
		want = append(want, b.put(strings.Repeat("p", i+1)))
	}
	slices.Sort(want)
	var got []storage.Hash
	for after := storage.Hash(""); ; {
		page, err := b.store.Blobs(b.Context(), after, 4)
		b.ok(err)
		if len(page) == 0 {
			break
		}
		for _, info := range page {
			data, err := b.store.Blob(b.Context(), info.Hash)
			b.ok(err)
			if len(data) != info.Size || time.Since(info.Put).Abs() > time.Hour {
				b.Errorf("%d bytes, described as %+v", len(data), info)
			}
			got, after = append(got, info.Hash), info.Hash
		}
	}
	if !slices.Equal(got, want) {
		b.Errorf("listed %v, want %v", got, want)
	}
	_, err := b.store.Blobs(b.Context(), "", 0)
	b.fails(err, storage.ErrInvalid)
}

func orphans(b *bench) {
	used, replaced, kept, loose := b.put("used"), b.put("replaced"), b.put("kept"), b.put("loose")
	d := storage.Draft{Kind: "torch", Schema: 1, Blobs: []storage.Hash{replaced}}
	records, err := b.author.Write(b.Context(), d)
	b.ok(err)
	_, err = b.author.Write(b.Context(), storage.Draft{Seen: records[0], Blobs: []storage.Hash{used}})
	b.ok(err)
	drop := func(now time.Time) []storage.Hash {
		b.Helper()
		dropped, err := b.store.DropOrphans(b.Context(), now, kept)
		b.ok(err)
		return dropped
	}
	if got := drop(time.Now().Add(storage.OrphanAge - time.Hour)); len(got) != 0 {
		b.Errorf("dropped within a day: %v", got)
	}
	if got := drop(time.Now().Add(storage.OrphanAge + time.Hour)); !slices.Equal(got, []storage.Hash{loose}) {
		b.Errorf("dropped %v, want %v alone", got, loose)
	}
	missing, err := b.store.MissingBlobs(b.Context(), used, replaced, kept, loose)
	b.ok(err)
	if !slices.Equal(missing, []storage.Hash{loose}) {
		b.Errorf("missing = %v", missing)
	}
}

func badBlobs(b *bench) {
	for _, data := range [][]byte{nil, make([]byte, storage.MaxBlob+1)} {
		_, err := b.store.PutBlob(b.Context(), data)
		b.fails(err, storage.ErrInvalid)
	}
	list, err := b.store.Blobs(b.Context(), "", 10)
	b.ok(err)
	if len(list) != 0 {
		b.Errorf("refused attachments left %v", list)
	}
}
