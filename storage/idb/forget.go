//go:build js

package idb

import (
	"context"
	"syscall/js"

	"torchside/storage"
)

// Forget implements storage.Replica.
func (s *Store) Forget(ctx context.Context, ids ...storage.ID) error {
	var put *putting
	err := s.run(ctx, true, append([]any{refusedStore}, written...), func(t *tx) {
		put = newPutting(t, s, nil)
		f := &forgetting{putting: put, changed: make(map[storage.ID]bool)}
		t.then(t.store(metaStore).Call("get", indexKey), func(row js.Value) {
			state, known := readIndexState(row)
			put.indexing.stale = known && state.Version != s.index.Version
			f.next(ids)
		})
	})
	if err == nil {
		s.known.learn(put.indexing.staged)
	}
	return err
}

// forgetting takes ops away one after the other, then writes what their records are now.
type forgetting struct {
	*putting
	changed map[storage.ID]bool
}

func (f *forgetting) next(ids []storage.ID) {
	if len(ids) == 0 {
		f.t.guard(f.finish)
		return
	}
	f.t.then(f.t.store(opsStore).Call("get", string(ids[0])), func(row js.Value) {
		if row.IsUndefined() {
			f.next(ids[1:])
			return
		}
		rec := text(row, "rec")
		f.t.all([]js.Value{
			f.t.store(opsStore).Call("index", recIndex).Call("getAll", rec),
			f.t.store(headsStore).Call("get", rec),
		}, func(found []js.Value) {
			f.one(ids[0], storage.ID(rec), found[0], found[1])
			f.next(ids[1:])
		})
	})
}

// one takes an op away, and what goes with it. A record that cannot be read stays as it is.
func (f *forgetting) one(id, rec storage.ID, rows, headRow js.Value) {
	ops := make([]storage.Op, rows.Length())
	for i := range ops {
		op, err := readOp(text(rows.Index(i), "text"))
		if err != nil {
			return
		}
		ops[i] = op
	}
	heads, seen := f.heads[rec]
	if !seen {
		var err error
		if heads, err = readHeads(headRow); err != nil {
			return
		}
		if len(heads) > 0 {
			f.kinds[rec] = storage.NewRecord(heads).Kind
		}
	}
	gone := make(map[storage.ID]bool)
	for _, id := range storage.Forgotten(ops, id) {
		gone[id] = true
		f.changed[rec] = true
		f.t.settle(id)
		f.t.store(opsStore).Call("delete", string(id))
	}
	f.heads[rec] = without(heads, gone)
	for _, op := range ops {
		if gone[op.ID] {
			f.unwant(op.Blobs)
		}
	}
}

func without(heads []storage.Op, gone map[storage.ID]bool) (rest []storage.Op) {
	for _, h := range heads {
		if !gone[h.ID] {
			rest = append(rest, h)
		}
	}
	return rest
}

// unwant ends the wish for attachments that no op names any more.
func (f *forgetting) unwant(names []storage.Hash) {
	for _, h := range names {
		f.t.then(f.t.store(opsStore).Call("index", usesIndex).Call("count", h), func(n js.Value) {
			if n.Int() == 0 {
				f.t.store(wantedStore).Call("delete", h)
			}
		})
	}
}

func (f *forgetting) finish() {
	heads, entries, err := f.records(f.changed)
	if err == nil {
		err = putAll(f.t, headsStore, heads)
	}
	if err != nil {
		f.t.abort(err)
		return
	}
	f.indexing.make(entries)
}

// BlobsGone implements storage.Replica.
func (s *Store) BlobsGone(ctx context.Context, names ...storage.Hash) error {
	if err := s.listBlobs(ctx); err != nil {
		return err
	}
	return s.run(ctx, true, []any{outboxStore, wantedStore}, func(t *tx) {
		t.then(t.store(outboxStore).Call("count"), func(n js.Value) {
			if n.Int() > 0 {
				return
			}
			for _, h := range names {
				t.store(wantedStore).Call("delete", h)
			}
		})
	})
}
