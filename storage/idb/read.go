//go:build js

package idb

import (
	"context"
	"fmt"
	"syscall/js"

	"torchside/storage"
)

// pageRows is how many rows are read at a time. Decoding JSON is the slow part
// (8,000 ops a second on a slow phone), and between pages the browser may draw.
const pageRows = 200

// Get implements storage.Store.
func (s *Store) Get(ctx context.Context, rec storage.ID) (storage.Record, error) {
	var record storage.Record
	err := s.run(ctx, false, []any{headsStore}, func(t *tx) {
		t.then(t.store(headsStore).Call("get", string(rec)), func(row js.Value) {
			heads, err := readHeads(row)
			if err != nil {
				t.abort(err)
				return
			}
			record = storage.NewRecord(heads)
		})
	})
	if err == nil && len(record.Heads) == 0 {
		err = fmt.Errorf("record %s: %w", rec, storage.ErrNotFound)
	}
	return record, err
}

// List implements storage.Store.
func (s *Store) List(ctx context.Context, q storage.Query) ([]storage.Record, error) {
	if err := q.Check(); err != nil {
		return nil, err
	}
	var page []storage.Record
	err := s.run(ctx, false, []any{headsStore}, func(t *tx) {
		page = nil
		t.pages(headSource(t, q.Kind), string(q.After), func(row js.Value) (string, bool, error) {
			heads, err := readHeads(row)
			if err != nil {
				return "", false, err
			}
			if rec := storage.NewRecord(heads); q.Wants(rec) {
				page = append(page, rec)
			}
			return row.Get("rec").String(), q.Limit == 0 || len(page) < q.Limit, nil
		})
	})
	return page, err
}

// source reads up to n rows with a key above after.
type source func(after string, n int) js.Value

// headSource reads records of one kind, or of all.
func headSource(t *tx, kind string) source {
	heads, ranges := t.store(headsStore), js.Global().Get("IDBKeyRange")
	if kind == "" {
		return func(after string, n int) js.Value {
			return heads.Call("getAll", ranges.Call("lowerBound", after, true), n)
		}
	}
	index := heads.Call("index", kindIndex)
	return func(after string, n int) js.Value {
		// An array is above every string, so [kind, []] ends the kind.
		return index.Call("getAll", ranges.Call("bound", []any{kind, after}, []any{kind, []any{}}, true, true), n)
	}
}

// pages reads page after page until a row asks to stop or none is left. each
// gets a row and returns its key and whether to go on.
func (t *tx) pages(from source, after string, each func(row js.Value) (key string, more bool, err error)) {
	t.then(from(after, pageRows), func(rows js.Value) {
		n := rows.Length()
		last := after
		for i := range n {
			key, more, err := each(rows.Index(i))
			if err != nil {
				t.abort(err)
				return
			}
			if !more {
				return
			}
			last = key
		}
		if n == pageRows {
			t.pages(from, last, each)
		}
	})
}

// Ops implements storage.Store.
func (s *Store) Ops(ctx context.Context, after storage.ID, limit int) ([]storage.Op, error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d ops", storage.ErrInvalid, limit)
	}
	var page []storage.Op
	err := s.run(ctx, false, []any{opsStore}, func(t *tx) {
		page = nil
		ops, ranges := t.store(opsStore), js.Global().Get("IDBKeyRange")
		from := func(after string, n int) js.Value {
			return ops.Call("getAll", ranges.Call("lowerBound", after, true), min(n, limit))
		}
		t.pages(from, string(after), func(row js.Value) (string, bool, error) {
			op, err := readOp(row.Get("text").String())
			page = append(page, op)
			return string(op.ID), len(page) < limit, err
		})
	})
	return page, err
}

// Meta implements storage.Store.
func (s *Store) Meta(ctx context.Context) (storage.Meta, error) {
	var meta storage.Meta
	err := s.run(ctx, false, []any{metaStore}, func(t *tx) {
		t.then(t.store(metaStore).Call("get", deviceKey), func(row js.Value) {
			var err error
			if meta, err = readMeta(row); err != nil {
				t.abort(err)
			}
		})
	})
	return meta, err
}
