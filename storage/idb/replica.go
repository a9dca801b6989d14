//go:build js

package idb

import (
	"context"
	"encoding/json"
	"fmt"
	"syscall/js"

	"torchside/storage"
)

var _ storage.Replica = (*Store)(nil)

// Waiting implements storage.Replica.
func (s *Store) Waiting(ctx context.Context, after storage.ID, limit int) ([]storage.Op, error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d ops", storage.ErrInvalid, limit)
	}
	var w *waiting
	err := s.run(ctx, false, []any{outboxStore, opsStore}, func(t *tx) {
		w = &waiting{t: t, limit: limit}
		w.next(string(after))
	})
	if err != nil {
		return nil, err
	}
	return w.page, nil
}

// waiting is one Waiting in its transaction.
type waiting struct {
	t     *tx
	limit int
	page  []storage.Op
}

// next reads the ops that wait above after, block by block, until there are
// enough that can be read.
func (w *waiting) next(after string) {
	n := min(w.limit-len(w.page), pageRows)
	w.t.namesAfter(outboxStore, after, n, func(ids []string) {
		w.t.rows(opsStore, ids, func(rows []js.Value) {
			for _, row := range rows {
				if op, err := readOp(text(row, "text")); err == nil {
					w.page = append(w.page, op)
				}
			}
			if len(ids) == n && len(w.page) < w.limit {
				w.next(ids[n-1])
			}
		})
	})
}

// Sent implements storage.Replica.
func (s *Store) Sent(ctx context.Context, ids ...storage.ID) error {
	return s.run(ctx, true, []any{outboxStore, refusedStore}, func(t *tx) {
		for _, id := range ids {
			t.settle(id)
		}
	})
}

// settle ends the waiting of an op, refused or not.
func (t *tx) settle(id storage.ID) {
	t.store(outboxStore).Call("delete", string(id))
	t.store(refusedStore).Call("delete", string(id))
}

// Refuse implements storage.Replica.
func (s *Store) Refuse(ctx context.Context, refused ...storage.Refusal) error {
	return s.run(ctx, true, []any{outboxStore, refusedStore}, func(t *tx) {
		for _, r := range refused {
			t.store(outboxStore).Call("delete", string(r.Op))
			t.store(refusedStore).Call("put", map[string]any{"op": string(r.Op), "reason": r.Reason})
		}
	})
}

// Refusals implements storage.Replica.
func (s *Store) Refusals(ctx context.Context) ([]storage.Refusal, error) {
	var all []storage.Refusal
	err := s.run(ctx, false, []any{refusedStore}, func(t *tx) {
		all = nil
		from, ranges := t.store(refusedStore), keyRange()
		above := func(after string, n int) js.Value {
			return from.Call("getAll", ranges.Call("lowerBound", after, true), n)
		}
		t.pages(above, "", func(row js.Value) (string, bool, error) {
			r := storage.Refusal{Op: storage.ID(text(row, "op")), Reason: text(row, "reason")}
			all = append(all, r)
			return string(r.Op), true, nil
		})
	})
	return all, err
}

// Checkpoint implements storage.Replica.
func (s *Store) Checkpoint(ctx context.Context) (storage.Checkpoint, error) {
	var place storage.Checkpoint
	err := s.run(ctx, false, []any{metaStore}, func(t *tx) {
		t.then(t.store(metaStore).Call("get", placeKey), func(row js.Value) {
			place = storage.Checkpoint{}
			if row.IsUndefined() {
				return
			}
			if row.Type() != js.TypeString || json.Unmarshal([]byte(row.String()), &place) != nil {
				t.abort(fmt.Errorf("stored checkpoint: %w", storage.ErrCorrupt))
			}
		})
	})
	return place, err
}

// Pulled implements storage.Replica.
func (s *Store) Pulled(ctx context.Context, next storage.Checkpoint, ops ...storage.Op) (storage.Appended, error) {
	var put *putting
	err := s.run(ctx, true, append([]any{refusedStore}, written...), func(t *tx) {
		put = newPutting(t, s, ops)
		put.from = &next
		put.start()
	})
	if err != nil {
		return storage.Appended{}, err
	}
	s.known.learn(put.indexing.staged)
	return put.done, nil
}

// came notes, for ops from the vault, that they do not wait and how far they reach.
func (p *putting) came() error {
	if p.from == nil {
		return nil
	}
	for _, op := range p.unique {
		p.t.settle(op.ID)
	}
	place, err := json.Marshal(p.from)
	if err == nil {
		p.t.store(metaStore).Call("put", string(place), placeKey)
	}
	return err
}

// want lists the attachments of new ops that are not here.
func (p *putting) want() {
	for _, op := range p.fresh {
		for _, h := range op.Blobs {
			p.t.ifNone(infosStore, h, func() { p.t.store(wantedStore).Call("put", true, h) })
		}
	}
}

// ifNone runs a step if a store has no row with a key.
func (t *tx) ifNone(store, key string, step func()) {
	t.then(t.store(store).Call("count", key), func(n js.Value) {
		if n.Int() == 0 {
			step()
		}
	})
}

// Requeue implements storage.Replica.
func (s *Store) Requeue(ctx context.Context) error {
	s.listed = false
	return s.run(ctx, true, []any{opsStore, outboxStore, refusedStore, metaStore, infosStore, unsentStore}, func(t *tx) {
		t.store(metaStore).Call("delete", placeKey)
		t.store(metaStore).Call("delete", listedKey) // what the vault let go of is wanted of another
		t.store(refusedStore).Call("clear")
		t.keys(opsStore, "", func(ids []string) error {
			rows := make([]outboxRow, 0, len(ids))
			for _, id := range ids {
				rows = append(rows, outboxRow{storage.ID(id)})
			}
			return putAll(t, outboxStore, rows)
		})
		t.listUnsent()
	})
}

// keysPage is how many keys are read at a time where no rows are.
const keysPage = 1000

// keys gives all keys of a store above after, page by page.
func (t *tx) keys(store, after string, each func(keys []string) error) {
	t.namesAfter(store, after, keysPage, func(page []string) {
		if len(page) == 0 {
			return
		}
		if err := each(page); err != nil {
			t.abort(err)
			return
		}
		t.keys(store, page[len(page)-1], each)
	})
}

// History implements storage.Replica.
func (s *Store) History(ctx context.Context, rec storage.ID) ([]storage.Op, error) {
	var all []storage.Op
	err := s.run(ctx, false, []any{opsStore}, func(t *tx) {
		t.then(t.store(opsStore).Call("index", recIndex).Call("getAllKeys", string(rec)), func(found js.Value) {
			all = nil
			t.blocks(opsStore, keysOf(found), func(row js.Value) error {
				op, err := readOp(text(row, "text"))
				all = append(all, op)
				return err
			})
		})
	})
	return all, err
}
