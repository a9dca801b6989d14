//go:build js

package idb

import (
	"context"
	"fmt"
	"slices"
	"syscall/js"
	"time"

	"torchside/storage"
)

// Attachments are kept as ArrayBuffers: phones have lost Blobs and Files that
// were put into a database. Size and time are in a store of their own, so that
// a list does not read the contents.

// PutBlob implements storage.Store.
func (s *Store) PutBlob(ctx context.Context, data []byte) (storage.Hash, error) {
	if err := storage.CheckBlob(data); err != nil {
		return "", err
	}
	name := storage.HashOf(data)
	buffer := bufferOf(data)
	now := time.Now().UnixMilli()
	err := s.run(ctx, true, []any{blobsStore, infosStore, wantedStore, unsentStore}, func(t *tx) {
		t.ifNone(infosStore, name, func() { t.store(unsentStore).Call("put", true, name) })
		t.store(blobsStore).Call("put", buffer, name)
		t.store(infosStore).Call("put", map[string]any{"hash": name, "size": len(data), "put": now})
		t.store(wantedStore).Call("delete", name)
	})
	if err != nil {
		return "", err
	}
	return name, nil
}

// Blob implements storage.Store.
func (s *Store) Blob(ctx context.Context, h storage.Hash) ([]byte, error) {
	var found js.Value
	err := s.run(ctx, false, []any{blobsStore}, func(t *tx) {
		t.then(t.store(blobsStore).Call("get", h), func(row js.Value) { found = row })
	})
	if err != nil {
		return nil, err
	}
	if found.IsUndefined() {
		return nil, fmt.Errorf("attachment %s: %w", h, storage.ErrNotFound)
	}
	data := bytesOf(found)
	if storage.HashOf(data) != h {
		return nil, fmt.Errorf("attachment %s: %w: its content is not what was stored", h, storage.ErrCorrupt)
	}
	return data, nil
}

// bytesOf copies an ArrayBuffer; anything else gives none.
func bytesOf(buffer js.Value) []byte {
	if !buffer.InstanceOf(js.Global().Get("ArrayBuffer")) {
		return nil
	}
	array := js.Global().Get("Uint8Array").New(buffer)
	data := make([]byte, array.Length())
	js.CopyBytesToGo(data, array)
	return data
}

// bufferOf copies data into an ArrayBuffer.
func bufferOf(data []byte) js.Value {
	array := js.Global().Get("Uint8Array").New(len(data))
	js.CopyBytesToJS(array, data)
	return array.Get("buffer")
}

// Blobs implements storage.Store.
func (s *Store) Blobs(ctx context.Context, after storage.Hash, limit int) ([]storage.BlobInfo, error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d attachments", storage.ErrInvalid, limit)
	}
	var page []storage.BlobInfo
	err := s.run(ctx, false, []any{infosStore}, func(t *tx) {
		t.then(infosAfter(t, after, limit), func(rows js.Value) { page = readInfos(rows) })
	})
	return page, err
}

// infosAfter asks for up to n rows with a name above after.
func infosAfter(t *tx, after storage.Hash, n int) js.Value {
	return t.store(infosStore).Call("getAll", keyRange().Call("lowerBound", after, true), n)
}

func readInfos(rows js.Value) []storage.BlobInfo {
	infos := make([]storage.BlobInfo, 0, rows.Length())
	for i := range rows.Length() {
		row := rows.Index(i)
		infos = append(infos, storage.BlobInfo{
			Hash: row.Get("hash").String(), Size: row.Get("size").Int(), Put: time.UnixMilli(size(row.Get("put"))),
		})
	}
	return infos
}

// MissingBlobs implements storage.Store.
func (s *Store) MissingBlobs(ctx context.Context, names ...storage.Hash) ([]storage.Hash, error) {
	var missing []storage.Hash
	err := s.run(ctx, false, []any{infosStore}, func(t *tx) {
		missing = nil
		reads := make([]js.Value, 0, len(names))
		for _, name := range names {
			reads = append(reads, t.store(infosStore).Call("count", name))
		}
		t.all(reads, func(counts []js.Value) {
			for i, n := range counts {
				if n.Int() == 0 {
					missing = append(missing, names[i])
				}
			}
		})
	})
	return missing, err
}

// DropOrphans implements storage.Store. It is one transaction, so that no op
// can come to refer to an attachment between the look and the removal.
func (s *Store) DropOrphans(ctx context.Context, now time.Time, keep ...storage.Hash) ([]storage.Hash, error) {
	var d *dropping
	err := s.run(ctx, true, []any{opsStore, blobsStore, infosStore, unsentStore}, func(t *tx) {
		d = &dropping{t: t, now: now, keep: keep}
		d.next("")
	})
	if err != nil {
		return nil, err
	}
	return d.dropped, nil
}

// dropping is one DropOrphans in its transaction.
type dropping struct {
	t       *tx
	now     time.Time
	keep    []storage.Hash
	dropped []storage.Hash
}

// next looks at the attachments with a name above after, page by page.
func (d *dropping) next(after storage.Hash) {
	d.t.then(infosAfter(d.t, after, pageRows), func(rows js.Value) {
		infos := readInfos(rows)
		if len(infos) == 0 {
			return
		}
		uses := d.t.store(opsStore).Call("index", usesIndex)
		for _, b := range infos {
			if d.now.Sub(b.Put) <= storage.OrphanAge || slices.Contains(d.keep, b.Hash) {
				continue
			}
			d.t.then(uses.Call("count", b.Hash), func(n js.Value) {
				if n.Int() == 0 {
					d.drop(b.Hash)
				}
			})
		}
		d.next(infos[len(infos)-1].Hash)
	})
}

func (d *dropping) drop(name storage.Hash) {
	d.t.store(blobsStore).Call("delete", name)
	d.t.store(infosStore).Call("delete", name)
	d.t.store(unsentStore).Call("delete", name)
	d.dropped = append(d.dropped, name)
}
