//go:build !js

package bolt

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"syscall"
	"time"

	"go.etcd.io/bbolt"
	berrors "go.etcd.io/bbolt/errors"

	"torchside/storage"
	"torchside/storage/vault"
)

// Vault is an open vault.
type Vault struct {
	db     *bbolt.DB
	id     string
	folder string
	path   string
	lock   *os.File // of the folder, held until Close

	mu     sync.Mutex
	broken error // why no call is answered any more

	pieces [16]sync.Mutex // one writer an attachment, by its first digit
}

var _ vault.Vault = (*Vault)(nil)

// errNothing ends a transaction that has nothing to write.
var errNothing = errors.New("nothing to write")

// view runs f in a transaction that reads.
func (v *Vault) view(ctx context.Context, f func(*bbolt.Tx) error) error {
	if err := v.ready(ctx); err != nil {
		return err
	}
	return v.closed(guard(v.path, func() error { return v.db.View(f) }))
}

// update runs f in a transaction that writes, which is on the disk when it
// returns nil. When f returns errNothing, nothing is written and that is fine.
func (v *Vault) update(ctx context.Context, f func(*bbolt.Tx) error) error {
	if err := v.ready(ctx); err != nil {
		return err
	}
	var own error // of f, not of the medium
	err := guard(v.path, func() error {
		return v.db.Update(func(tx *bbolt.Tx) error {
			if own = f(tx); own == nil {
				own = ctx.Err()
			}
			return own
		})
	})
	switch {
	case errors.Is(err, errNothing):
		return nil
	case err == nil || own != nil:
		return v.closed(err)
	}
	return v.fail(err)
}

// fail sorts out a commit that did not work. A full disk was noticed before the
// transaction counted. After any other fault it is unknown what is on the disk,
// and the system may have dropped what it could not write: then only opening
// the vault again tells.
func (v *Vault) fail(err error) error {
	err = v.closed(full(err))
	if errors.Is(err, storage.ErrFull) || errors.Is(err, storage.ErrClosed) {
		return err
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	if !errors.Is(err, storage.ErrCorrupt) {
		err = fmt.Errorf("%w: the vault %s could not be written (%w): start torchside again", storage.ErrLost, v.path, err)
	}
	v.broken = err
	return err
}

// ready tells whether calls can be answered.
func (v *Vault) ready(ctx context.Context) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	v.mu.Lock()
	defer v.mu.Unlock()
	return v.broken
}

// closed gives the library's error the contract's name.
func (v *Vault) closed(err error) error {
	if errors.Is(err, berrors.ErrDatabaseNotOpen) {
		return storage.ErrClosed
	}
	return err
}

// guard runs f and turns what the library does with damaged pages, which is to
// panic or to read outside the file, into a DamageError.
func guard(path string, f func() error) (err error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		if r := recover(); r != nil {
			err = damage(path, fmt.Sprint(r))
		}
	}()
	return f()
}

// full names the errors of a full disk. The library passes some of them on as
// text alone. A file as large as the file system allows is no different.
func full(err error) error {
	if err == nil || errors.Is(err, storage.ErrFull) {
		return err
	}
	for _, no := range []error{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG} {
		if errors.Is(err, no) || strings.Contains(err.Error(), no.Error()) {
			return fmt.Errorf("%w: %w", storage.ErrFull, err)
		}
	}
	return err
}

// ID implements vault.Vault.
func (v *Vault) ID() string { return v.id }

// Close implements vault.Vault.
func (v *Vault) Close() error {
	err := v.db.Close()
	if closed := v.lock.Close(); err == nil && !errors.Is(closed, fs.ErrClosed) { // by a Close before
		err = closed
	}
	if err != nil && !errors.Is(err, fs.ErrClosed) {
		return fmt.Errorf("the vault %s: %w", v.path, err)
	}
	return nil
}

// shop returns the bucket of a shop.
func shop(tx *bbolt.Tx, id vault.ShopID) (*bbolt.Bucket, error) {
	b := tx.Bucket(shopsBucket).Bucket([]byte(id))
	if b == nil || id == "" {
		return nil, fmt.Errorf("shop %q: %w", id, vault.ErrNoShop)
	}
	return b, nil
}

// shopList returns all shops in order.
func shopList(tx *bbolt.Tx) ([]vault.Shop, error) {
	type numbered struct {
		vault.Shop
		n uint64
	}
	var all []numbered
	err := tx.Bucket(shopsBucket).ForEachBucket(func(id []byte) error {
		var row shopRow
		if err := getRow(tx.Bucket(shopsBucket).Bucket(id), infoKey, &row); err != nil {
			return fmt.Errorf("shop %s: %w", id, err)
		}
		all = append(all, numbered{vault.Shop{ID: vault.ShopID(id), Name: row.Name, Created: row.Created}, row.N})
		return nil
	})
	slices.SortFunc(all, func(a, b numbered) int { return int(a.n) - int(b.n) })
	var shops []vault.Shop
	for _, s := range all {
		shops = append(shops, s.Shop)
	}
	return shops, err
}

// Shops implements vault.Vault.
func (v *Vault) Shops(ctx context.Context) (shops []vault.Shop, err error) {
	err = v.view(ctx, func(tx *bbolt.Tx) error {
		shops, err = shopList(tx)
		return err
	})
	return shops, err
}

// freeName tells whether a shop may have a name.
func freeName(tx *bbolt.Tx, name string, but vault.ShopID) error {
	if err := vault.CheckName(name); err != nil {
		return err
	}
	shops, err := shopList(tx)
	if err != nil {
		return err
	}
	for _, other := range shops {
		if other.Name == name && other.ID != but {
			return fmt.Errorf("%w: there is a shop %q already", storage.ErrInvalid, name)
		}
	}
	return nil
}

// CreateShop implements vault.Vault.
func (v *Vault) CreateShop(ctx context.Context, name string, now time.Time) (made vault.Shop, err error) {
	err = v.update(ctx, func(tx *bbolt.Tx) error {
		if err := freeName(tx, name, ""); err != nil {
			return err
		}
		id, err := vault.RandomID(rand.Reader)
		if err != nil {
			return err
		}
		made = vault.Shop{ID: vault.ShopID(id), Name: name, Created: vault.Wall(now)}
		b, err := tx.Bucket(shopsBucket).CreateBucket([]byte(id))
		if err != nil {
			return err
		}
		return fillShop(tx, b, made)
	})
	if err != nil {
		return vault.Shop{}, err
	}
	return made, nil
}

func fillShop(tx *bbolt.Tx, b *bbolt.Bucket, s vault.Shop) error {
	n, err := tx.Bucket(shopsBucket).NextSequence()
	if err != nil {
		return err
	}
	for _, name := range shopBuckets {
		if _, err := b.CreateBucket(name); err != nil {
			return err
		}
	}
	return errors.Join(putRow(b, infoKey, shopRow{n, s.Name, s.Created}), b.Put(countsKey, counts{}.bytes()))
}

// RenameShop implements vault.Vault.
func (v *Vault) RenameShop(ctx context.Context, id vault.ShopID, name string) error {
	return v.update(ctx, func(tx *bbolt.Tx) error {
		b, err := shop(tx, id)
		if err != nil {
			return err
		}
		if err := freeName(tx, name, id); err != nil {
			return err
		}
		var row shopRow
		if err := getRow(b, infoKey, &row); err != nil {
			return err
		}
		row.Name = name
		return putRow(b, infoKey, row)
	})
}

// Stats implements vault.Vault.
func (v *Vault) Stats(ctx context.Context) (stats vault.Stats, err error) {
	err = v.view(ctx, func(tx *bbolt.Tx) error {
		stats = vault.Stats{FileBytes: tx.Size()}
		shops, err := shopList(tx)
		if err != nil {
			return err
		}
		admitted, err := admitted(tx)
		if err != nil {
			return err
		}
		for _, s := range shops {
			row, err := v.shopStats(tx, s)
			if err != nil {
				return err
			}
			row.Devices = admitted[s.ID]
			stats.Shops = append(stats.Shops, row)
		}
		return nil
	})
	return stats, err
}

func (v *Vault) shopStats(tx *bbolt.Tx, s vault.Shop) (row vault.ShopStats, err error) {
	b, err := shop(tx, s.ID)
	if err != nil {
		return row, err
	}
	c, err := readCounts(b.Get(countsKey))
	if err != nil {
		return row, err
	}
	last, err := v.placeOf(b, b.Bucket(logBucket).Sequence())
	return vault.ShopStats{
		Shop: s, Records: int(c.Records), Last: last,
		Blobs: int(c.Blobs), BlobBytes: c.BlobBytes, Wanted: int(c.Wanted),
	}, err
}
