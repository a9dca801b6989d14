//go:build js

package idb

import (
	"context"
	"errors"
	"fmt"
	"syscall/js"

	"torchside/storage"
	"torchside/storage/postings"
)

// errIndex is an index that cannot be read.
var errIndex = fmt.Errorf("index: %w", storage.ErrCorrupt)

// Find implements storage.Store. It reads the blocks of the index that are new
// to it, and then the bodies of the one page.
func (s *Store) Find(ctx context.Context, f storage.Find) (storage.Page, error) {
	if err := f.Check(); err != nil {
		return storage.Page{}, err
	}
	var q *finding
	err := s.indexed(ctx, []any{dirsStore, blocksStore, headsStore, metaStore}, func(x *indexing) {
		q = &finding{Find: f.Cut(), x: x}
		q.start(s.index.Version)
	})
	if err != nil {
		return storage.Page{}, err
	}
	return q.page, nil
}

// indexed does a transaction that reads the index. One that cannot be read is
// made anew, and the transaction done once more.
func (s *Store) indexed(ctx context.Context, stores []any, body func(*indexing)) error {
	once := func() error {
		var x *indexing
		err := s.run(ctx, false, stores, func(t *tx) {
			x = &indexing{t: t, known: &s.known}
			body(x)
		})
		if err == nil {
			s.known.learn(x.staged)
		}
		return err
	}
	err := once()
	if !errors.Is(err, errIndex) {
		return err
	}
	s.known = known{}
	s.keepIndex(ctx, true)
	return once()
}

// finding is one Find in its transaction.
type finding struct {
	storage.Find
	x    *indexing
	page storage.Page
}

func (q *finding) start(version int) {
	q.x.t.then(q.x.t.store(metaStore).Call("get", indexKey), func(row js.Value) {
		state, known := readIndexState(row)
		q.page.Partial = !known || !state.Done || state.Version != version
	})
	q.x.blocksOf(q.Find, q.answer)
}

// answer picks the page, and reads the bodies if they were asked for.
func (q *finding) answer(blocks []*postings.Block, others int) {
	found, total, more := postings.Search(blocks, q.Find)
	if q.page.Total = total + others; more {
		q.page.Next = found[len(found)-1].Place()
	}
	if !q.Briefs {
		q.records(found)
		return
	}
	for _, r := range found {
		b := storage.Brief{ID: r.ID, Sort: r.Sort, Conflict: r.Conflict}
		if r.Brief != "" {
			b.Data = []byte(r.Brief)
		}
		q.page.Briefs = append(q.page.Briefs, b)
	}
}

// records reads whole records.
func (q *finding) records(found []postings.Record) {
	t := q.x.t
	heads := t.store(headsStore)
	reads := make([]js.Value, 0, len(found))
	for _, r := range found {
		reads = append(reads, heads.Call("get", string(r.ID)))
	}
	t.all(reads, func(rows []js.Value) {
		for _, row := range rows {
			heads, err := readHeads(row)
			if err != nil {
				t.abort(err)
				return
			}
			q.page.Records = append(q.page.Records, storage.NewRecord(heads))
		}
	})
}

// Terms implements storage.Store.
func (s *Store) Terms(ctx context.Context, kind, prefix string) ([]storage.TermCount, error) {
	if kind == "" {
		return nil, fmt.Errorf("%w: no kind to look for", storage.ErrInvalid)
	}
	var terms []storage.TermCount
	err := s.indexed(ctx, []any{dirsStore, blocksStore}, func(x *indexing) {
		// Which blocks have a term is only known by looking, so it is asked as a filter is.
		all := storage.Find{Kind: kind, Prefix: "any"}
		x.blocksOf(all, func(blocks []*postings.Block, _ int) { terms = postings.Terms(blocks, storage.CutTerm(prefix)) })
	})
	return terms, err
}

// keyRange is the browser's maker of key ranges.
func keyRange() js.Value { return js.Global().Get("IDBKeyRange") }

// upper is above every key that begins with this text: an array is above every
// string.
func upper(key string) []any { return []any{key, []any{}} }
