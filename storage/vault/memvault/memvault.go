package memvault

import (
	"context"
	"fmt"
	"slices"
	"time"

	"torchside/storage"
	"torchside/storage/vault"
)

// Vault is the open handle on a Disk.
type Vault struct {
	disk   *Disk
	number int
}

var _ vault.Vault = (*Vault)(nil)

// read runs f on the state of the moment.
func (v *Vault) read(ctx context.Context, f func(*state) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	v.disk.mu.Lock()
	defer v.disk.mu.Unlock()
	if v.number != v.disk.opened {
		return storage.ErrClosed
	}
	return f(v.disk.state)
}

// write runs f as one transaction: f looks at the state first and returns an
// error before it has changed anything, or returns how to change it. A nil
// change is no commit.
func (v *Vault) write(ctx context.Context, f func(*state) (change func(), err error)) error {
	return v.read(ctx, func(s *state) error {
		change, err := f(s)
		switch {
		case err != nil || change == nil:
			return err
		case v.disk.full:
			return fmt.Errorf("the vault: %w", storage.ErrFull)
		}
		return v.disk.commit(change)
	})
}

// commit makes a change, unless a crash is due.
func (d *Disk) commit(change func()) error {
	due := false
	if d.crash != nil {
		d.crash.commits--
		due = d.crash.commits <= 0
	}
	if !due {
		change()
		return nil
	}
	if d.crash.moment == AfterCommit {
		change()
	}
	d.kill()
	return ErrCrashed
}

// ID implements vault.Vault.
func (v *Vault) ID() string {
	v.disk.mu.Lock()
	defer v.disk.mu.Unlock()
	return v.disk.state.id
}

// Shops implements vault.Vault.
func (v *Vault) Shops(ctx context.Context) (shops []vault.Shop, err error) {
	err = v.read(ctx, func(s *state) error {
		shops = slices.Clone(s.shops)
		return nil
	})
	return shops, err
}

// CreateShop implements vault.Vault.
func (v *Vault) CreateShop(ctx context.Context, name string, now time.Time) (shop vault.Shop, err error) {
	err = v.write(ctx, func(s *state) (func(), error) {
		if err := s.freeName(name, ""); err != nil {
			return nil, err
		}
		id, err := vault.RandomID(v.disk.random)
		if err != nil {
			return nil, err
		}
		shop = vault.Shop{ID: vault.ShopID(id), Name: name, Created: vault.Wall(now)}
		return func() {
			s.shops = append(s.shops, shop)
			s.logs[shop.ID] = &log{
				seqs: make(map[storage.ID]int), records: make(map[storage.ID]bool), wanted: make(map[storage.Hash]bool),
				blobs: make(map[storage.Hash][]byte), partial: make(map[storage.Hash][]byte), gone: make(map[storage.Hash]bool),
			}
		}, nil
	})
	if err != nil {
		return vault.Shop{}, err
	}
	return shop, nil
}

// freeName tells whether a shop may have a name.
func (s *state) freeName(name string, but vault.ShopID) error {
	if err := vault.CheckName(name); err != nil {
		return err
	}
	for _, other := range s.shops {
		if other.Name == name && other.ID != but {
			return fmt.Errorf("%w: there is a shop %q already", storage.ErrInvalid, name)
		}
	}
	return nil
}

// RenameShop implements vault.Vault.
func (v *Vault) RenameShop(ctx context.Context, shop vault.ShopID, name string) error {
	return v.write(ctx, func(s *state) (func(), error) {
		if _, err := s.log(shop); err != nil {
			return nil, err
		}
		if err := s.freeName(name, shop); err != nil {
			return nil, err
		}
		at := slices.IndexFunc(s.shops, func(o vault.Shop) bool { return o.ID == shop })
		return func() { s.shops[at].Name = name }, nil
	})
}

// Stats implements vault.Vault.
func (v *Vault) Stats(ctx context.Context) (stats vault.Stats, err error) {
	err = v.read(ctx, func(s *state) error {
		for _, shop := range s.shops {
			l := s.logs[shop.ID]
			counts := vault.ShopStats{
				Shop: shop, Records: len(l.records), Last: l.place(s.id, len(l.entries)),
				Blobs: len(l.blobs), Wanted: len(l.wanted), Keep: l.limit.Days, Gone: len(l.gone),
			}
			for _, e := range l.entries {
				if e.raw == nil {
					counts.Dropped++
				}
			}
			for _, b := range l.blobs {
				counts.BlobBytes += int64(len(b))
			}
			for _, d := range s.devices {
				if d.Shop == shop.ID && d.Revoked.IsZero() {
					counts.Devices++
				}
			}
			stats.Shops = append(stats.Shops, counts)
		}
		return nil
	})
	return stats, err
}

// Close implements vault.Vault.
func (v *Vault) Close() error {
	v.disk.mu.Lock()
	defer v.disk.mu.Unlock()
	if v.number == v.disk.opened {
		v.disk.opened++
	}
	return nil
}
