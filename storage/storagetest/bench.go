package storagetest

import (
	"bytes"
	"context"
	"errors"
	"reflect"
	"testing"

	"torchside/storage"
	"torchside/storage/merge"
)

// Open opens a store on one piece of data: the same data every time.
type Open func(storage.Index) (storage.Store, error)

// bench is what one conformance test works with. When the test ends it checks
// that the store agrees with itself.
type bench struct {
	*testing.T
	open   Open
	index  storage.Index
	store  storage.Store
	author *storage.Author
	clock  *Clock

	replica func() storage.Replica // the store as one; nil where that is not asked
}

// newBench opens empty data.
func newBench(t *testing.T, open Open) *bench {
	b := &bench{T: t, open: open, index: Words(1), clock: &Clock{At: Start}}
	b.store = b.reopened()
	b.author = storage.NewAuthor(b.store, b.clock.Now, NewSource(1))
	t.Cleanup(func() {
		old := b.store
		b.consistent(b.reopened())
		if err := old.Close(); err != nil {
			t.Errorf("Close: %v", err)
		}
	})
	return b
}

// reopened returns another handle on the same data, closed with the test.
func (b *bench) reopened() storage.Store {
	b.Helper()
	s, err := b.open(b.index)
	if err != nil {
		b.Fatalf("open: %v", err)
	}
	b.Cleanup(func() {
		if err := s.Close(); err != nil {
			b.Errorf("Close: %v", err)
		}
	})
	return s
}

// consistent checks what must hold whatever was done before: the records are
// exactly those the ops describe, they are found, and the counts are right.
func (b *bench) consistent(s storage.Store) {
	b.Helper()
	ops := allOps(b, s)
	want := merge.Records(ops)
	got, err := s.List(b.Context(), storage.Query{Deleted: true})
	b.ok(err)
	if !SameRecords(got, want) {
		b.Errorf("records are not those the %d ops describe:\n got %v\nwant %v", len(ops), got, want)
	}
	b.store = s
	for _, kind := range []string{"torch", "hose"} {
		b.finds(want, storage.Find{Kind: kind, Limit: 50})
		b.counts(want, kind, "")
	}
	u, err := s.Usage(b.Context())
	b.ok(err)
	waiting := len(ops)
	if b.replica != nil {
		waiting = len(b.waiting(1 << 20))
	}
	if u.Ops != len(ops) || u.Records != len(want) || u.Waiting != waiting {
		b.Errorf("Usage = %+v, want %d ops, %d waiting, and %d records", u, len(ops), waiting, len(want))
	}
}

// Context is not the test's own, which has ended when cleanup runs.
func (b *bench) Context() context.Context { return context.Background() }

func (b *bench) ok(err error) {
	b.Helper()
	if err != nil {
		b.Fatalf("unexpected error: %v", err)
	}
}

// fails wants an error that is the given one.
func (b *bench) fails(err, want error) {
	b.Helper()
	if !errors.Is(err, want) {
		b.Fatalf("error = %v, want %v", err, want)
	}
}

// save stores a new torch with the given body.
func (b *bench) save(body string) storage.Record {
	b.Helper()
	rec, err := b.author.Save(b.Context(), "torch", 1, []byte(body))
	b.ok(err)
	return rec
}

// get reads a record that must be there.
func (b *bench) get(id storage.ID) storage.Record {
	b.Helper()
	rec, err := b.store.Get(b.Context(), id)
	b.ok(err)
	return rec
}

// holds wants the store to give back exactly this record.
func (b *bench) holds(want storage.Record) {
	b.Helper()
	if got := b.get(want.ID); !SameRecords([]storage.Record{got}, []storage.Record{want}) {
		b.Errorf("record reads back otherwise:\n got %+v\nwant %+v", got, want)
	}
}

// shows wants the record to show this body.
func (b *bench) shows(rec storage.Record, body string) {
	b.Helper()
	if string(rec.Body) != body {
		b.Errorf("body = %q, want %q", rec.Body, body)
	}
}

// allOps reads every op in small pages and checks their order.
func allOps(b *bench, s storage.Store) []storage.Op {
	b.Helper()
	var all []storage.Op
	after := storage.ID("")
	for {
		page, err := s.Ops(b.Context(), after, 7)
		b.ok(err)
		if len(page) == 0 {
			return all
		}
		for _, op := range page {
			if op.ID <= after {
				b.Fatalf("op %s does not come after %s", op.ID, after)
			}
			after = op.ID
		}
		all = append(all, page...)
	}
}

// SameRecords compares records by content; nil and empty slices are the same.
func SameRecords(a, b []storage.Record) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !sameRecord(a[i], b[i]) {
			return false
		}
	}
	return true
}

func sameRecord(a, b storage.Record) bool {
	if !SameOps(a.Heads, b.Heads) || !bytes.Equal(a.Body, b.Body) || len(a.Blobs) != len(b.Blobs) {
		return false
	}
	a.Heads, b.Heads, a.Body, b.Body, a.Blobs, b.Blobs = nil, nil, nil, nil, nil, nil
	return reflect.DeepEqual(a, b)
}

// SameOps compares two lists of ops by content and order.
func SameOps(a, b []storage.Op) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if !a[i].Equal(b[i]) {
			return false
		}
	}
	return true
}
