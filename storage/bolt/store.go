//go:build !js

package bolt

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"sync/atomic"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/vault"
)

// storeBucket is what a shop opened as a store keeps beside the log. It is made
// by Vault.Shop and may be missing.
var storeBucket = []byte("store")

// Buckets and keys of the bucket store.
var (
	looseBucket  = []byte("loose")  // hash: size of an attachment put and not named by an op yet
	dirsBucket   = []byte("dirs")   // kind: postings.Directory
	blocksBucket = []byte("blocks") // kind, 0, number: postings.Block
	selfKey      = []byte("self")   // storage.Meta
	indexKey     = []byte("index")  // number of the rules of the index

	storeBuckets = [][]byte{looseBucket, dirsBucket, blocksBucket}
)

// Store is one shop of a vault under the contract of storage: to search what a
// shop holds, or to write into it, on the machine of the vault itself.
type Store struct {
	v      *Vault
	id     vault.ShopID
	index  storage.Index
	closed atomic.Bool
}

var _ storage.Store = (*Store)(nil)

// Shop opens a shop as a store with an index. An index of another version is
// made anew first. What devices push meanwhile is kept, and is found after the
// shop is opened again. ErrNoShop: there is no such shop.
func (v *Vault) Shop(ctx context.Context, id vault.ShopID, index storage.Index) (*Store, error) {
	s := &Store{v: v, id: id, index: index}
	err := v.update(ctx, func(tx *bbolt.Tx) error { return s.prepare(tx) })
	if err != nil {
		return nil, err
	}
	return s, nil
}

// view and update are those of the vault, for the bucket of the shop.
func (s *Store) view(ctx context.Context, f func(*bbolt.Bucket) error) error {
	if s.closed.Load() {
		return storage.ErrClosed
	}
	return s.v.view(ctx, func(tx *bbolt.Tx) error {
		b, err := shop(tx, s.id)
		if err != nil {
			return err
		}
		return f(b)
	})
}

func (s *Store) update(ctx context.Context, f func(*bbolt.Tx) error) error {
	if s.closed.Load() {
		return storage.ErrClosed
	}
	return s.v.update(ctx, f)
}

// Commit implements storage.Store.
func (s *Store) Commit(ctx context.Context, stamp storage.Stamp) (records []storage.Record, err error) {
	err = s.update(ctx, func(tx *bbolt.Tx) error {
		p, err := s.v.pusher(tx, s.id)
		if err != nil {
			return err
		}
		self, err := readSelf(p.shop)
		if err != nil {
			return err
		}
		meta, ops, err := stamp(self)
		if err != nil {
			return err
		}
		if _, err := s.append(p, ops); err != nil {
			return err
		}
		for _, op := range ops {
			r, err := recordOf(p.shop, idBytes(op.Rec))
			if err != nil {
				return err
			}
			records = append(records, r)
		}
		return putRow(p.shop.Bucket(storeBucket), selfKey, meta)
	})
	if err != nil {
		return nil, err
	}
	return records, nil
}

// Append implements storage.Store.
func (s *Store) Append(ctx context.Context, ops ...storage.Op) (done storage.Appended, err error) {
	err = s.update(ctx, func(tx *bbolt.Tx) error {
		p, err := s.v.pusher(tx, s.id)
		if err != nil {
			return err
		}
		done, err = s.append(p, ops)
		return err
	})
	if err != nil {
		return storage.Appended{}, err
	}
	return done, nil
}

// append stores ops, all or none: after an error the transaction must end.
func (s *Store) append(p *pusher, ops []storage.Op) (done storage.Appended, err error) {
	before, err := s.kinds(p.shop, ops)
	if err != nil {
		return done, err
	}
	var refused []storage.ID
	seen, changed := make(map[storage.ID]bool), make(map[storage.ID]bool)
	for _, op := range ops {
		ack, err := p.add(op)
		switch {
		case err != nil:
			return done, err
		case ack.Status == vault.Rejected:
			refused = append(refused, op.ID)
		case ack.Status == vault.Stored:
			done.Added = append(done.Added, op.ID)
			changed[op.Rec] = true
		case !seen[op.ID]:
			done.Held = append(done.Held, op.ID)
		}
		seen[op.ID] = true
	}
	if len(refused) > 0 {
		slices.Sort(refused)
		return storage.Appended{}, &storage.MismatchError{Ops: slices.Compact(refused)}
	}
	if len(done.Added) == 0 {
		return done, nil
	}
	if done.Split, err = split(p.shop, changed); err != nil {
		return done, err
	}
	return done, errorsOf(p.finish(), s.reindex(p.shop, before))
}

// split returns those records that are in conflict, ascending.
func split(b *bbolt.Bucket, recs map[storage.ID]bool) (in []storage.ID, err error) {
	for _, rec := range slices.Sorted(maps.Keys(recs)) {
		r, err := recordOf(b, idBytes(rec))
		if err != nil {
			return nil, err
		}
		if r.Conflict != storage.ConflictNone {
			in = append(in, rec)
		}
	}
	return in, nil
}

// kinds checks ops, and returns what kind each record they change has now, ""
// for a new one.
func (s *Store) kinds(b *bbolt.Bucket, ops []storage.Op) (map[idKey]string, error) {
	kinds := make(map[idKey]string)
	for _, op := range ops {
		if err := op.Check(); err != nil {
			return nil, err
		}
		rec := idKey(idBytes(op.Rec))
		if _, known := kinds[rec]; known {
			continue
		}
		r, err := recordOf(b, rec[:])
		if err != nil {
			return nil, err
		}
		kinds[rec] = r.Kind
	}
	return kinds, nil
}

// recordOf reads a record; one without heads is the zero Record.
func recordOf(b *bbolt.Bucket, rec []byte) (storage.Record, error) {
	var heads []storage.Op
	for _, id := range splitIDs(b.Bucket(headsBucket).Get(rec)) {
		op, err := opOf(b, id)
		if err != nil {
			return storage.Record{}, err
		}
		heads = append(heads, op)
	}
	return storage.NewRecord(heads), nil
}

// opOf reads one op.
func opOf(b *bbolt.Bucket, id []byte) (op storage.Op, err error) {
	at := place(b.Bucket(opsBucket).Get(id))
	if !at.sound() {
		return op, fmt.Errorf("%w: change %s has no place", storage.ErrCorrupt, idText(id))
	}
	e := entryAt(b, at.number())
	if !e.sound() || !bytes.Equal(e.id(), id) {
		return op, fmt.Errorf("%w: change %s is not at its place", storage.ErrCorrupt, idText(id))
	}
	if e.dropped() {
		return op, errDropped
	}
	return op, op.UnmarshalJSON(e.raw())
}

// errDropped: of an op only the links are kept. No head is such a one.
var errDropped = fmt.Errorf("%w: the text of a change that is needed was dropped", storage.ErrCorrupt)

func readSelf(b *bbolt.Bucket) (m storage.Meta, err error) {
	raw := b.Bucket(storeBucket).Get(selfKey)
	if raw == nil {
		return m, nil
	}
	return m, readRow(raw, &m)
}

// Get implements storage.Store.
func (s *Store) Get(ctx context.Context, rec storage.ID) (r storage.Record, err error) {
	err = s.view(ctx, func(b *bbolt.Bucket) error {
		if rec.Check() == nil {
			r, err = recordOf(b, idBytes(rec))
		}
		if err == nil && len(r.Heads) == 0 {
			err = fmt.Errorf("record %s: %w", rec, storage.ErrNotFound)
		}
		return err
	})
	return r, err
}

// above returns the key to seek for what is above an id, "" being below all.
func above(id storage.ID) ([]byte, error) {
	if id == "" {
		return nil, nil
	}
	if err := id.Check(); err != nil {
		return nil, err
	}
	return append(idBytes(id), 0), nil
}

// List implements storage.Store.
func (s *Store) List(ctx context.Context, q storage.Query) (page []storage.Record, err error) {
	if err := q.Check(); err != nil {
		return nil, err
	}
	start, err := above(q.After)
	if err != nil {
		return nil, err
	}
	err = s.view(ctx, func(b *bbolt.Bucket) error {
		c := b.Bucket(headsBucket).Cursor()
		for rec, _ := c.Seek(start); rec != nil && (q.Limit == 0 || len(page) < q.Limit); rec, _ = c.Next() {
			r, err := recordOf(b, rec)
			if err != nil {
				return err
			}
			if len(r.Heads) > 0 && q.Wants(r) {
				page = append(page, r)
			}
		}
		return nil
	})
	return page, err
}

// Ops implements storage.Store.
func (s *Store) Ops(ctx context.Context, last storage.ID, limit int) (page []storage.Op, err error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d ops", storage.ErrInvalid, limit)
	}
	start, err := above(last)
	if err != nil {
		return nil, err
	}
	err = s.view(ctx, func(b *bbolt.Bucket) error {
		c := b.Bucket(opsBucket).Cursor()
		for id, _ := c.Seek(start); id != nil && len(page) < limit; id, _ = c.Next() {
			op, err := opOf(b, id)
			if errors.Is(err, errDropped) {
				continue
			}
			if err != nil {
				return err
			}
			page = append(page, op)
		}
		return nil
	})
	return page, err
}

// Meta implements storage.Store.
func (s *Store) Meta(ctx context.Context) (m storage.Meta, err error) {
	err = s.view(ctx, func(b *bbolt.Bucket) error {
		m, err = readSelf(b)
		return err
	})
	return m, err
}

// Usage implements storage.Store. Everything waits: devices take it from here.
func (s *Store) Usage(ctx context.Context) (u storage.Usage, err error) {
	err = s.view(ctx, func(b *bbolt.Bucket) error {
		c, err := readCounts(b.Get(countsKey))
		if err != nil {
			return err
		}
		u.Ops = int(b.Bucket(logBucket).Sequence()) - int(c.Dropped)
		u.Waiting, u.Persistent = u.Ops, true
		u.Blobs = rowCount(b.Bucket(blobsBucket)) + rowCount(b.Bucket(storeBucket).Bucket(looseBucket))
		return b.Bucket(headsBucket).ForEach(func(_, heads []byte) error {
			if len(heads) > 0 {
				u.Records++
			}
			return nil
		})
	})
	return u, err
}

// Keep implements storage.Store: files are nobody's to throw away.
func (s *Store) Keep(ctx context.Context) (bool, error) {
	return true, s.view(ctx, func(*bbolt.Bucket) error { return nil })
}

// Close implements storage.Store. The vault stays open.
func (s *Store) Close() error {
	s.closed.Store(true)
	return nil
}
