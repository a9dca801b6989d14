package memory

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"

	"torchside/storage"
)

// Find implements storage.Store.
func (s *Store) Find(ctx context.Context, f storage.Find) (storage.Page, error) {
	if err := f.Check(); err != nil {
		return storage.Page{}, err
	}
	if err := s.enter(ctx); err != nil {
		return storage.Page{}, err
	}
	defer s.disk.mu.Unlock()
	all := s.disk.matches(f.Cut())
	if f.Newest {
		slices.Reverse(all)
	}
	page := storage.Page{Total: len(all)}
	var last storage.Cursor
	for _, at := range all {
		if !f.Behind(at) {
			continue
		}
		if len(page.Records)+len(page.Briefs) == f.Limit {
			page.Next = last
			break
		}
		s.disk.show(&page, f, at)
		last = at
	}
	return page, nil
}

// matches returns the places of all records that match, ascending.
func (d *Disk) matches(f storage.Find) []storage.Cursor {
	var all []storage.Cursor
	for rec, e := range d.entries {
		if d.kind(rec) == f.Kind && f.Wants(e) {
			all = append(all, storage.Cursor{Sort: e.Sort, ID: rec})
		}
	}
	slices.SortFunc(all, storage.Cursor.Compare)
	return all
}

// show adds one record to a page, as it was asked for.
func (d *Disk) show(page *storage.Page, f storage.Find, at storage.Cursor) {
	rec := d.record(at.ID)
	if !f.Briefs {
		page.Records = append(page.Records, rec)
		return
	}
	page.Briefs = append(page.Briefs, storage.Brief{
		ID: at.ID, Sort: at.Sort, Conflict: rec.Conflict, Data: bytes.Clone(d.entries[at.ID].Brief),
	})
}

// kind returns the kind a record shows.
func (d *Disk) kind(rec storage.ID) string { return storage.NewRecord(d.heads[rec]).Kind }

// Terms implements storage.Store.
func (s *Store) Terms(ctx context.Context, kind, prefix string) ([]storage.TermCount, error) {
	if kind == "" {
		return nil, fmt.Errorf("%w: no kind to look for", storage.ErrInvalid)
	}
	if err := s.enter(ctx); err != nil {
		return nil, err
	}
	defer s.disk.mu.Unlock()
	counts := make(map[string]int)
	for rec, e := range s.disk.entries {
		for _, t := range e.Terms {
			if s.disk.kind(rec) == kind && strings.HasPrefix(t, prefix) {
				counts[t]++
			}
		}
	}
	var terms []storage.TermCount
	for t, n := range counts {
		terms = append(terms, storage.TermCount{Term: t, Count: n})
	}
	slices.SortFunc(terms, func(a, b storage.TermCount) int { return strings.Compare(a.Term, b.Term) })
	return terms, nil
}
