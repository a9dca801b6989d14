package storage

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"slices"
	"time"
)

// Author writes the changes made on this device. It is safe for concurrent
// use if its clock and random source are.
type Author struct {
	store  Store
	now    func() time.Time
	random io.Reader
}

// NewAuthor returns an author that writes to s, reads the wall time from now
// (in the zone of the user, whose offset is recorded) and draws ids from
// random, which must be as unpredictable as crypto/rand.Reader outside tests.
func NewAuthor(s Store, now func() time.Time, random io.Reader) *Author {
	return &Author{store: s, now: now, random: random}
}

// Draft is a change before it is stamped.
type Draft struct {
	Seen   Record   // the record as the user saw it; the zero Record makes a new one
	Kind   string   // "" keeps the kind of Seen
	Schema int      // 0 keeps the schema of Seen
	Del    bool     // delete the record
	Body   []byte   // whole new body; a deletion may leave it empty
	Blobs  []string // whole new list of attachments, sorted
}

// Save creates a record and returns it. Its errors are those of Write.
func (a *Author) Save(ctx context.Context, kind string, schema int, body []byte) (Record, error) {
	return a.one(ctx, Draft{Kind: kind, Schema: schema, Body: body})
}

// Update replaces the body of a record and returns the record that results;
// kind and attachments stay. seen is the record as the user saw it when
// editing began: its heads become the parents. If the record was changed in
// the meantime (another tab, another device) both versions are kept and the
// result is in conflict. Updating a record in conflict settles it; updating a
// deleted one brings it back. Its errors are those of Write.
func (a *Author) Update(ctx context.Context, seen Record, schema int, body []byte) (Record, error) {
	if len(seen.Heads) == 0 {
		return Record{}, fmt.Errorf("update: %w", ErrNotFound)
	}
	return a.one(ctx, Draft{Seen: seen, Schema: schema, Body: body, Blobs: seen.Blobs})
}

// Delete adds a tombstone to a record and returns it. The earlier ops stay,
// so an Update of the result with the old body is an undo.
func (a *Author) Delete(ctx context.Context, seen Record) (Record, error) {
	if len(seen.Heads) == 0 {
		return Record{}, fmt.Errorf("delete: %w", ErrNotFound)
	}
	return a.one(ctx, Draft{Seen: seen, Del: true})
}

// Write stores several changes in one transaction, all or none, and returns
// the records that result in the order of the drafts. New records get ids that
// ascend in that order. ErrInvalid: a draft breaks a rule of Op. Otherwise the
// errors of Store.Commit; after any of them nothing is saved.
func (a *Author) Write(ctx context.Context, drafts ...Draft) ([]Record, error) {
	if len(drafts) == 0 {
		return nil, nil
	}
	records, err := a.store.Commit(ctx, func(m Meta) (Meta, []Op, error) {
		return StampDrafts(m, a.now(), a.random, drafts...)
	})
	if err != nil {
		return nil, fmt.Errorf("save: %w", err)
	}
	return records, nil
}

func (a *Author) one(ctx context.Context, d Draft) (Record, error) {
	records, err := a.Write(ctx, d)
	if err != nil {
		return Record{}, err
	}
	return records[0], nil
}

// StampDrafts gives each draft its ids, number and clock reading, as Write
// does inside its transaction, and returns the Meta that follows. It stores
// nothing: use it where a store refuses to, to export what was typed. The
// device id is made here when there is none, so that it is stored with the
// first op it signs. The only errors are those of random.
func StampDrafts(m Meta, now time.Time, random io.Reader, drafts ...Draft) (Meta, []Op, error) {
	if m.Dev == "" {
		dev, err := NewID(HLC{}.Next(now), random)
		if err != nil {
			return m, nil, err
		}
		m.Dev = dev
	}
	ops := make([]Op, 0, len(drafts))
	for _, d := range drafts {
		op, err := d.stamp(&m, now, random)
		if err != nil {
			return m, nil, err
		}
		ops = append(ops, op)
	}
	return m, ops, nil
}

// stamp makes one op and moves the meta on. Readings of the replaced ops move
// the clock, so that a change is later than what its author saw.
func (d Draft) stamp(m *Meta, now time.Time, random io.Reader) (Op, error) {
	for _, h := range d.Seen.Heads {
		m.HLC = m.HLC.Observe(h.HLC, now)
	}
	m.HLC = m.HLC.Next(now)
	m.N++
	op := Op{
		Rec: d.Seen.ID, Kind: d.Kind, Schema: d.Schema, Parents: d.Seen.HeadIDs(), Dev: m.Dev, N: m.N, HLC: m.HLC,
		At: now.Format(AtLayout), Del: d.Del, Body: bytes.Clone(d.Body), Blobs: slices.Clone(d.Blobs),
	}
	if op.Kind == "" {
		op.Kind = d.Seen.Kind
	}
	if op.Schema == 0 {
		op.Schema = d.Seen.Schema
	}
	var err error
	if op.ID, err = NewID(m.HLC, random); err != nil {
		return Op{}, err
	}
	if op.Rec == "" {
		op.Rec, err = NewID(m.HLC, random)
	}
	return op, err
}
