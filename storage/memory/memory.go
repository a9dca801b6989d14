// Package memory keeps a store in maps: for tests, for rendering without a
// browser, and as the plainest reading of the contract. [New] makes a store,
// [NewIndexed] one that can be searched; [Disk] keeps data across several opens, as a database file would. Nothing
// survives the process.
package memory

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"torchside/storage"
)

// Disk is the data behind the stores opened on it.
type Disk struct {
	mu      sync.Mutex
	meta    storage.Meta
	ops     map[storage.ID]storage.Op
	named   map[[2]storage.ID]bool // record and op: some held op of the record names it as parent
	heads   map[storage.ID][]storage.Op
	waiting map[storage.ID]bool

	refused    map[storage.ID]string // reasons
	checkpoint storage.Checkpoint

	index   storage.Index
	entries map[storage.ID]storage.Entry // of live records
	blobs   map[storage.Hash]blob
	sent    map[storage.Hash]bool // attachments the vault has
	gone    map[storage.Hash]bool // attachments the vault let go of
	uses    map[storage.Hash]int  // how many ops name an attachment
}

// NewDisk returns an empty disk.
func NewDisk() *Disk {
	return &Disk{
		ops:     make(map[storage.ID]storage.Op),
		named:   make(map[[2]storage.ID]bool),
		heads:   make(map[storage.ID][]storage.Op),
		waiting: make(map[storage.ID]bool),
		refused: make(map[storage.ID]string),
		entries: make(map[storage.ID]storage.Entry),
		blobs:   make(map[storage.Hash]blob),
		sent:    make(map[storage.Hash]bool),
		gone:    make(map[storage.Hash]bool),
		uses:    make(map[storage.Hash]int),
	}
}

// Store is one open handle on a Disk.
type Store struct {
	disk   *Disk
	closed bool // guarded by disk.mu
}

var _ storage.Store = (*Store)(nil)

// New returns a store on a disk of its own.
func New() *Store { return NewDisk().Open() }

// NewIndexed returns a store on a disk of its own that can be searched.
func NewIndexed(x storage.Index) *Store { return NewDisk().OpenIndexed(x) }

// Open returns a new handle on the disk's data, with whatever index it has.
func (d *Disk) Open() *Store { return &Store{disk: d} }

// OpenIndexed returns a new handle and gives the disk this index, which all
// its handles then use. Entries of another version are made anew.
func (d *Disk) OpenIndexed(x storage.Index) *Store {
	d.mu.Lock()
	defer d.mu.Unlock()
	old := d.index
	d.index = x
	if old.Of == nil || old.Version != x.Version {
		for rec := range d.heads {
			d.enter(rec)
		}
	}
	return &Store{disk: d}
}

// enter locks the disk for one call; the caller unlocks it if err is nil.
func (s *Store) enter(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	s.disk.mu.Lock()
	if s.closed {
		s.disk.mu.Unlock()
		return storage.ErrClosed
	}
	return nil
}

// Commit implements storage.Store.
func (s *Store) Commit(ctx context.Context, stamp storage.Stamp) ([]storage.Record, error) {
	if err := s.enter(ctx); err != nil {
		return nil, err
	}
	defer s.disk.mu.Unlock()
	meta, ops, err := stamp(s.disk.meta)
	if err != nil {
		return nil, err
	}
	if _, err := s.disk.append(ops); err != nil {
		return nil, err
	}
	s.disk.meta = meta
	records := make([]storage.Record, 0, len(ops))
	for _, op := range ops {
		records = append(records, s.disk.record(op.Rec))
	}
	return records, nil
}

// Append implements storage.Store.
func (s *Store) Append(ctx context.Context, ops ...storage.Op) (storage.Appended, error) {
	if err := s.enter(ctx); err != nil {
		return storage.Appended{}, err
	}
	defer s.disk.mu.Unlock()
	return s.disk.append(ops)
}

// append sorts out what is new before it changes anything.
func (d *Disk) append(ops []storage.Op) (storage.Appended, error) {
	fresh := make(map[storage.ID]storage.Op, len(ops))
	var done storage.Appended
	var refused []storage.ID
	for _, op := range ops {
		if err := op.Check(); err != nil {
			return storage.Appended{}, err
		}
		held, old := d.ops[op.ID]
		twin, twice := fresh[op.ID]
		switch {
		case old && !held.Equal(op), twice && !twin.Equal(op):
			refused = append(refused, op.ID)
		case twice:
		case old:
			done.Held = append(done.Held, op.ID)
		default:
			fresh[op.ID] = op
			done.Added = append(done.Added, op.ID)
		}
	}
	if len(refused) > 0 {
		slices.Sort(refused)
		return storage.Appended{}, &storage.MismatchError{Ops: slices.Compact(refused)}
	}
	for _, id := range done.Added {
		d.put(fresh[id].Clone())
	}
	for _, id := range done.Added {
		if rec := fresh[id].Rec; storage.NewRecord(d.heads[rec]).Conflict != storage.ConflictNone {
			done.Split = append(done.Split, rec)
		}
	}
	slices.Sort(done.Split)
	done.Split = slices.Compact(done.Split)
	return done, nil
}

// put stores one new op and moves the heads of its record.
func (d *Disk) put(op storage.Op) {
	d.ops[op.ID] = op
	d.waiting[op.ID] = true
	for _, h := range op.Blobs {
		d.uses[h]++
		delete(d.gone, h)
	}
	for _, p := range op.Parents {
		d.named[[2]storage.ID{op.Rec, p}] = true
	}
	d.heads[op.Rec] = storage.NextHeads(d.heads[op.Rec], op, d.named[[2]storage.ID{op.Rec, op.ID}])
	if len(d.heads[op.Rec]) == 0 {
		delete(d.heads, op.Rec) // ops naming each other in a ring: no record
	}
	d.enter(op.Rec)
}

// enter makes the entry of a record anew.
func (d *Disk) enter(rec storage.ID) {
	delete(d.entries, rec)
	if r := storage.NewRecord(d.heads[rec]); len(r.Heads) > 0 && !r.Deleted {
		d.entries[rec] = d.index.Entry(r)
	}
}

// record copies a record out, so that its caller may keep and change it.
func (d *Disk) record(rec storage.ID) storage.Record {
	heads := make([]storage.Op, 0, len(d.heads[rec]))
	for _, h := range d.heads[rec] {
		heads = append(heads, h.Clone())
	}
	return storage.NewRecord(heads)
}

// Get implements storage.Store.
func (s *Store) Get(ctx context.Context, rec storage.ID) (storage.Record, error) {
	if err := s.enter(ctx); err != nil {
		return storage.Record{}, err
	}
	defer s.disk.mu.Unlock()
	if _, ok := s.disk.heads[rec]; !ok {
		return storage.Record{}, fmt.Errorf("record %s: %w", rec, storage.ErrNotFound)
	}
	return s.disk.record(rec), nil
}

// List implements storage.Store.
func (s *Store) List(ctx context.Context, q storage.Query) ([]storage.Record, error) {
	if err := q.Check(); err != nil {
		return nil, err
	}
	if err := s.enter(ctx); err != nil {
		return nil, err
	}
	defer s.disk.mu.Unlock()
	var page []storage.Record
	for _, id := range sortedAfter(s.disk.heads, q.After) {
		if q.Limit > 0 && len(page) == q.Limit {
			break
		}
		if rec := s.disk.record(id); q.Wants(rec) {
			page = append(page, rec)
		}
	}
	return page, nil
}

// Ops implements storage.Store.
func (s *Store) Ops(ctx context.Context, after storage.ID, limit int) ([]storage.Op, error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d ops", storage.ErrInvalid, limit)
	}
	if err := s.enter(ctx); err != nil {
		return nil, err
	}
	defer s.disk.mu.Unlock()
	ids := sortedAfter(s.disk.ops, after)
	page := make([]storage.Op, 0, min(limit, len(ids)))
	for _, id := range ids[:min(limit, len(ids))] {
		page = append(page, s.disk.ops[id].Clone())
	}
	return page, nil
}

// sortedAfter returns the keys above after, ascending.
func sortedAfter[K ~string, V any](m map[K]V, after K) []K {
	var ids []K
	for id := range m {
		if id > after {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return ids
}

// Meta implements storage.Store.
func (s *Store) Meta(ctx context.Context) (storage.Meta, error) {
	if err := s.enter(ctx); err != nil {
		return storage.Meta{}, err
	}
	defer s.disk.mu.Unlock()
	return s.disk.meta, nil
}

// Usage implements storage.Store. Memory tells no size and is not persistent.
func (s *Store) Usage(ctx context.Context) (storage.Usage, error) {
	if err := s.enter(ctx); err != nil {
		return storage.Usage{}, err
	}
	defer s.disk.mu.Unlock()
	return storage.Usage{
		Records: len(s.disk.heads), Ops: len(s.disk.ops), Waiting: len(s.disk.waiting), Blobs: len(s.disk.blobs),
	}, nil
}

// Keep implements storage.Store: memory promises nothing.
func (s *Store) Keep(ctx context.Context) (bool, error) {
	if err := s.enter(ctx); err != nil {
		return false, err
	}
	s.disk.mu.Unlock()
	return false, nil
}

// Close implements storage.Store.
func (s *Store) Close() error {
	s.disk.mu.Lock()
	defer s.disk.mu.Unlock()
	s.closed = true
	return nil
}
