//go:build js

package idb

import (
	"context"
	"fmt"
	"slices"
	"strings"
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
	var l *listing
	err := s.run(ctx, false, []any{headsStore}, func(t *tx) {
		l = &listing{t: t, Query: q}
		if len(q.Except) == 0 || q.Kind != "" {
			l.read(q.Kind)
			return
		}
		l.kinds()
	})
	if err != nil {
		return nil, err
	}
	return l.inOrder(), nil
}

// listing is one List in its transaction. Without the kinds excepted, each of
// the others is read by itself: the rows of what is too many are never touched.
type listing struct {
	storage.Query
	t    *tx
	page []storage.Record
}

// kinds leaps from kind to kind and reads those wanted.
func (l *listing) kinds() {
	l.t.then(l.t.store(headsStore).Call("index", kindIndex).Call("openKeyCursor"), func(cursor js.Value) {
		if !cursor.Truthy() {
			return
		}
		kind := cursor.Get("key").Index(0).String()
		cursor.Call("continue", upper(kind))
		if !slices.Contains(l.Except, kind) {
			l.read(kind)
		}
	})
}

// read adds up to Limit records of one kind, or of all.
func (l *listing) read(kind string) {
	found := 0
	l.t.pages(headSource(l.t, kind), string(l.After), func(row js.Value) (string, bool, error) {
		heads, err := readHeads(row)
		if err != nil {
			return "", false, err
		}
		if rec := storage.NewRecord(heads); l.Wants(rec) {
			l.page = append(l.page, rec)
			found++
		}
		return row.Get("rec").String(), l.Limit == 0 || found < l.Limit, nil
	})
}

// inOrder puts the kinds together.
func (l *listing) inOrder() []storage.Record {
	slices.SortFunc(l.page, func(a, b storage.Record) int { return strings.Compare(string(a.ID), string(b.ID)) })
	if l.Limit > 0 && len(l.page) > l.Limit {
		return l.page[:l.Limit]
	}
	return l.page
}

// source reads up to n rows with a key above after.
type source func(after string, n int) js.Value

// headSource reads records of one kind, or of all.
func headSource(t *tx, kind string) source {
	heads, ranges := t.store(headsStore), keyRange()
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

// keysOf reads a list of keys.
func keysOf(found js.Value) []string {
	keys := make([]string, 0, found.Length())
	for i := range found.Length() {
		keys = append(keys, found.Index(i).String())
	}
	return keys
}

// rows reads the rows with some keys, in their order.
func (t *tx) rows(store string, keys []string, step func(rows []js.Value)) {
	from, reads := t.store(store), make([]js.Value, 0, len(keys))
	for _, key := range keys {
		reads = append(reads, from.Call("get", key))
	}
	t.all(reads, step)
}

// blocks reads the rows with some keys, a block of them at a time, and gives
// each to a step, which may end the transaction with an error.
func (t *tx) blocks(store string, keys []string, each func(row js.Value) error) {
	if len(keys) == 0 {
		return
	}
	n := min(len(keys), pageRows)
	t.rows(store, keys[:n], func(rows []js.Value) {
		for _, row := range rows {
			if err := each(row); err != nil {
				t.abort(err)
				return
			}
		}
		t.blocks(store, keys[n:], each)
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
		ops, ranges := t.store(opsStore), keyRange()
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
