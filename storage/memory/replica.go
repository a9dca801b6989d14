package memory

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"torchside/storage"
)

var _ storage.Replica = (*Store)(nil)

// Waiting implements storage.Replica.
func (s *Store) Waiting(ctx context.Context, after storage.ID, limit int) ([]storage.Op, error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d ops", storage.ErrInvalid, limit)
	}
	if err := s.enter(ctx); err != nil {
		return nil, err
	}
	defer s.disk.mu.Unlock()
	ids := sortedAfter(s.disk.waiting, after)
	page := make([]storage.Op, 0, min(limit, len(ids)))
	for _, id := range ids[:min(limit, len(ids))] {
		page = append(page, s.disk.ops[id].Clone())
	}
	return page, nil
}

// Sent implements storage.Replica.
func (s *Store) Sent(ctx context.Context, ids ...storage.ID) error {
	return s.change(ctx, func(d *Disk) {
		for _, id := range ids {
			d.settle(id)
		}
	})
}

// settle ends the waiting of an op, refused or not.
func (d *Disk) settle(id storage.ID) {
	delete(d.waiting, id)
	delete(d.refused, id)
}

// Refuse implements storage.Replica.
func (s *Store) Refuse(ctx context.Context, refused ...storage.Refusal) error {
	return s.change(ctx, func(d *Disk) {
		for _, r := range refused {
			delete(d.waiting, r.Op)
			d.refused[r.Op] = r.Reason
		}
	})
}

// change runs a write that cannot fail.
func (s *Store) change(ctx context.Context, write func(*Disk)) error {
	if err := s.enter(ctx); err != nil {
		return err
	}
	defer s.disk.mu.Unlock()
	write(s.disk)
	return nil
}

// Refusals implements storage.Replica.
func (s *Store) Refusals(ctx context.Context) ([]storage.Refusal, error) {
	if err := s.enter(ctx); err != nil {
		return nil, err
	}
	defer s.disk.mu.Unlock()
	var all []storage.Refusal
	for _, id := range sortedAfter(s.disk.refused, "") {
		all = append(all, storage.Refusal{Op: id, Reason: s.disk.refused[id]})
	}
	return all, nil
}

// Checkpoint implements storage.Replica.
func (s *Store) Checkpoint(ctx context.Context) (storage.Checkpoint, error) {
	if err := s.enter(ctx); err != nil {
		return storage.Checkpoint{}, err
	}
	defer s.disk.mu.Unlock()
	return s.disk.checkpoint, nil
}

// Pulled implements storage.Replica.
func (s *Store) Pulled(ctx context.Context, next storage.Checkpoint, ops ...storage.Op) (storage.Appended, error) {
	if err := s.enter(ctx); err != nil {
		return storage.Appended{}, err
	}
	defer s.disk.mu.Unlock()
	done, err := s.disk.append(ops)
	if err != nil {
		return storage.Appended{}, err
	}
	for _, op := range ops {
		s.disk.settle(op.ID)
	}
	s.disk.checkpoint = next
	return done, nil
}

// Requeue implements storage.Replica.
func (s *Store) Requeue(ctx context.Context) error {
	return s.change(ctx, func(d *Disk) {
		d.checkpoint = storage.Checkpoint{}
		clear(d.refused)
		clear(d.sent)
		clear(d.gone)
		for id := range d.ops {
			d.waiting[id] = true
		}
	})
}

// History implements storage.Replica.
func (s *Store) History(ctx context.Context, rec storage.ID) ([]storage.Op, error) {
	if err := s.enter(ctx); err != nil {
		return nil, err
	}
	defer s.disk.mu.Unlock()
	var own []storage.Op
	for _, op := range s.disk.ops {
		if op.Rec == rec {
			own = append(own, op.Clone())
		}
	}
	slices.SortFunc(own, func(a, b storage.Op) int { return strings.Compare(string(a.ID), string(b.ID)) })
	return own, nil
}

// WantedBlobs implements storage.Replica.
func (s *Store) WantedBlobs(ctx context.Context, after storage.Hash, limit int) ([]storage.Hash, error) {
	return s.namedBlobs(ctx, after, limit, func(h storage.Hash) bool {
		_, held := s.disk.blobs[h]
		return !held && !s.disk.gone[h]
	})
}

// UnsentBlobs implements storage.Replica.
func (s *Store) UnsentBlobs(ctx context.Context, after storage.Hash, limit int) ([]storage.Hash, error) {
	return s.namedBlobs(ctx, after, limit, func(h storage.Hash) bool {
		_, held := s.disk.blobs[h]
		return held && !s.disk.sent[h]
	})
}

// namedBlobs pages through the attachments that ops name.
func (s *Store) namedBlobs(ctx context.Context, after storage.Hash, limit int, wanted func(storage.Hash) bool) ([]storage.Hash, error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d attachments", storage.ErrInvalid, limit)
	}
	if err := s.enter(ctx); err != nil {
		return nil, err
	}
	defer s.disk.mu.Unlock()
	names := sortedAfter(s.disk.uses, after)
	names = slices.DeleteFunc(names, func(h storage.Hash) bool { return !wanted(h) })
	return names[:min(limit, len(names))], nil
}

// BlobsSent implements storage.Replica.
func (s *Store) BlobsSent(ctx context.Context, names ...storage.Hash) error {
	return s.change(ctx, func(d *Disk) {
		for _, h := range names {
			if _, held := d.blobs[h]; held {
				d.sent[h] = true
			}
		}
	})
}

// BlobsGone implements storage.Replica.
func (s *Store) BlobsGone(ctx context.Context, names ...storage.Hash) error {
	return s.change(ctx, func(d *Disk) {
		for _, h := range names {
			if len(d.waiting) == 0 {
				d.gone[h] = true
			}
		}
	})
}

// Forget implements storage.Replica.
func (s *Store) Forget(ctx context.Context, ids ...storage.ID) error {
	return s.change(ctx, func(d *Disk) {
		for _, id := range ids {
			d.forget(id)
		}
	})
}

// forget takes one head away, and what it replaced.
func (d *Disk) forget(id storage.ID) {
	rec := d.ops[id].Rec
	var own []storage.Op
	for _, op := range d.ops {
		if op.Rec == rec {
			own = append(own, op)
		}
	}
	for _, id := range storage.Forgotten(own, id) {
		d.settle(id)
		for _, h := range d.ops[id].Blobs {
			if d.uses[h]--; d.uses[h] == 0 {
				delete(d.uses, h)
			}
		}
		delete(d.ops, id)
		d.heads[rec] = slices.DeleteFunc(slices.Clone(d.heads[rec]), func(h storage.Op) bool { return h.ID == id })
	}
	if len(d.heads[rec]) == 0 {
		delete(d.heads, rec)
	}
	d.named = namesIn(d.ops)
	d.enter(rec)
}

// namesIn makes the set of all ops that ops name as parents.
func namesIn(ops map[storage.ID]storage.Op) map[[2]storage.ID]bool {
	named := make(map[[2]storage.ID]bool)
	for _, op := range ops {
		for _, p := range op.Parents {
			named[[2]storage.ID{op.Rec, p}] = true
		}
	}
	return named
}
