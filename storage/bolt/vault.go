//go:build !js

package bolt

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"slices"
	"time"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/vault"
)

// ID implements vault.Vault.
func (v *Vault) ID() string { return v.id }

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
	limit, limited := limitOf(b)
	last, err := v.placeOf(b, b.Bucket(logBucket).Sequence())
	return vault.ShopStats{
		Shop: s, Records: int(c.Records), Last: last,
		Blobs: int(c.Blobs), BlobBytes: c.BlobBytes, Wanted: int(c.Wanted),
		Keep: limit.Days, Dropped: int(c.Dropped), Gone: int(c.Gone),
	}, errors.Join(err, limited)
}
