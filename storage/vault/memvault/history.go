package memvault

import (
	"context"
	"fmt"
	"slices"
	"time"

	"torchside/storage"
	"torchside/storage/vault"
)

// linkOf is what stays of an op for ever, and its attachments.
func linkOf(op storage.Op) vault.Link {
	return vault.Link{ID: op.ID, Rec: op.Rec, Parents: slices.Clone(op.Parents), Blobs: slices.Clone(op.Blobs)}
}

// Links returns the whole log, dropped ops too, for tests of what was dropped.
func (v *Vault) Links(ctx context.Context, shop vault.ShopID) (links []vault.Link, err error) {
	err = v.read(ctx, func(s *state) error {
		l, err := s.log(shop)
		if err == nil {
			links = l.links()
		}
		return err
	})
	return links, err
}

func (l *log) links() []vault.Link {
	links := make([]vault.Link, 0, len(l.entries))
	for _, e := range l.entries {
		links = append(links, e.link)
	}
	return links
}

// goneError is nil unless an attachment was let go of.
func (l *log) goneError(h storage.Hash) error {
	if !l.gone[h] {
		return nil
	}
	return &vault.GoneError{Hash: h, Tag: l.line.Tag()}
}

// SetKeep implements vault.History.
func (v *Vault) SetKeep(ctx context.Context, shop vault.ShopID, days int, now time.Time) error {
	return v.write(ctx, func(s *state) (func(), error) {
		l, err := s.log(shop)
		if err != nil {
			return nil, err
		}
		limit, err := vault.NewLimit(days, now, uint64(len(l.entries)))
		if err != nil {
			return nil, err
		}
		return func() { l.limit = limit }, nil
	})
}

// MarkDay implements vault.History.
func (v *Vault) MarkDay(ctx context.Context, now time.Time) error {
	return v.write(ctx, func(s *state) (func(), error) {
		marked := make(map[*log]vault.Limit)
		for _, l := range s.logs {
			if limit := l.limit; limit.Mark(now, uint64(len(l.entries))) {
				marked[l] = limit
			}
		}
		if len(marked) == 0 {
			return nil, nil
		}
		return func() {
			for l, limit := range marked {
				l.limit = limit
			}
		}, nil
	})
}

// Trim implements vault.History.
func (v *Vault) Trim(ctx context.Context, shop vault.ShopID) (done vault.Trimmed, err error) {
	err = v.write(ctx, func(s *state) (func(), error) {
		l, err := s.log(shop)
		if err != nil {
			return nil, err
		}
		drop, free := v.disk.plan(l.links(), int(l.limit.Most()))
		if len(drop) == 0 {
			return nil, nil
		}
		tag, err := vault.RandomID(v.disk.random)
		if err != nil {
			return nil, fmt.Errorf("trim: %w", err)
		}
		done = vault.Trimmed{Ops: len(drop), Blobs: len(free)}
		for _, i := range drop {
			done.Bytes += int64(len(l.entries[i].raw))
		}
		for _, h := range free {
			done.BlobBytes += int64(len(l.blobs[h]))
		}
		return func() { l.drop(drop, free, tag) }, nil
	})
	if err != nil {
		return vault.Trimmed{}, err
	}
	return done, nil
}

// drop takes texts and attachments away. Snapshots share the entries, so these are copied.
func (l *log) drop(drop []int, free []storage.Hash, tag string) {
	l.entries = slices.Clone(l.entries)
	for _, i := range drop {
		e := &l.entries[i]
		e.raw, e.link.Blobs, e.link.Dropped = nil, nil, true
	}
	for _, h := range free {
		delete(l.blobs, h)
		delete(l.partial, h)
		delete(l.wanted, h)
		l.gone[h] = true
	}
	l.line.Cut(uint64(slices.Max(drop)+1), tag)
}
