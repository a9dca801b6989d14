//go:build js

package idb

import (
	"context"
	"fmt"
	"syscall/js"

	"torchside/storage"
)

// listBlobs brings attachments and ops of before there were lists into them,
// once in the life of a database.
func (s *Store) listBlobs(ctx context.Context) error {
	if s.listed {
		return nil
	}
	err := s.run(ctx, true, []any{opsStore, infosStore, wantedStore, unsentStore, metaStore}, func(t *tx) {
		t.ifNone(metaStore, listedKey, func() {
			t.listUnsent()
			uses := t.store(opsStore).Call("index", usesIndex)
			t.then(uses.Call("openKeyCursor", js.Null(), "nextunique"), func(cursor js.Value) {
				if !cursor.Truthy() {
					t.store(metaStore).Call("put", true, listedKey)
					return
				}
				h := cursor.Get("key").String()
				t.ifNone(infosStore, h, func() { t.store(wantedStore).Call("put", true, h) })
				cursor.Call("continue")
			})
		})
	})
	s.listed = err == nil
	return err
}

// listUnsent lists every attachment as not known to be in the vault.
func (t *tx) listUnsent() {
	t.keys(infosStore, "", func(names []string) error {
		for _, h := range names {
			t.store(unsentStore).Call("put", true, h)
		}
		return nil
	})
}

// WantedBlobs implements storage.Replica.
func (s *Store) WantedBlobs(ctx context.Context, after storage.Hash, limit int) ([]storage.Hash, error) {
	return s.names(ctx, limit, func(t *tx, add func(storage.Hash) bool) {
		t.namesAfter(wantedStore, after, limit, func(names []storage.Hash) {
			for _, h := range names {
				add(h)
			}
		})
	})
}

// UnsentBlobs implements storage.Replica.
func (s *Store) UnsentBlobs(ctx context.Context, after storage.Hash, limit int) ([]storage.Hash, error) {
	return s.names(ctx, limit, func(t *tx, add func(storage.Hash) bool) { t.usedAfter(after, add) })
}

// names collects up to limit names of attachments in one transaction.
func (s *Store) names(ctx context.Context, limit int, read func(t *tx, add func(storage.Hash) (more bool))) ([]storage.Hash, error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d attachments", storage.ErrInvalid, limit)
	}
	if err := s.listBlobs(ctx); err != nil {
		return nil, err
	}
	var page []storage.Hash
	err := s.run(ctx, false, []any{opsStore, wantedStore, unsentStore}, func(t *tx) {
		page = nil
		read(t, func(h storage.Hash) bool {
			if len(page) < limit {
				page = append(page, h)
			}
			return len(page) < limit
		})
	})
	return page, err
}

// namesAfter reads up to n keys above after.
func (t *tx) namesAfter(store string, after storage.Hash, n int, step func([]storage.Hash)) {
	t.then(t.store(store).Call("getAllKeys", keyRange().Call("lowerBound", after, true), n), func(found js.Value) {
		step(keysOf(found))
	})
}

// usedAfter adds the unsent attachments that ops name, page by page.
func (t *tx) usedAfter(after storage.Hash, add func(storage.Hash) (more bool)) {
	t.namesAfter(unsentStore, after, pageRows, func(names []storage.Hash) {
		uses, counts := t.store(opsStore).Call("index", usesIndex), make([]js.Value, 0, len(names))
		for _, h := range names {
			counts = append(counts, uses.Call("count", h))
		}
		t.all(counts, func(found []js.Value) {
			more := len(names) > 0
			for i, h := range names {
				if more && found[i].Int() > 0 {
					more = add(h)
				}
			}
			if more {
				t.usedAfter(names[len(names)-1], add)
			}
		})
	})
}

// BlobsSent implements storage.Replica.
func (s *Store) BlobsSent(ctx context.Context, names ...storage.Hash) error {
	if err := s.listBlobs(ctx); err != nil {
		return err
	}
	return s.run(ctx, true, []any{unsentStore}, func(t *tx) {
		for _, h := range names {
			t.store(unsentStore).Call("delete", h)
		}
	})
}
