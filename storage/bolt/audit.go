//go:build !js

package bolt

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/vault"
)

// Attempts implements vault.Vault.
func (v *Vault) Attempts(ctx context.Context, key string, change func(vault.Attempts) vault.Attempts) (now vault.Attempts, err error) {
	if err := vault.CheckKey(key); err != nil {
		return vault.Attempts{}, err
	}
	err = v.update(ctx, func(tx *bbolt.Tx) error {
		var old attemptsRow
		if err := getRow(tx.Bucket(attemptsBucket), []byte(key), &old); err != nil && !errors.Is(err, errNoRow) {
			return err
		}
		before := vault.Attempts{Count: old.Count, Last: old.Last, Until: old.Until}
		if now = change(before).Wall(); now == before {
			return errNothing
		}
		return remember(tx, key, old.N, now)
	})
	if err != nil {
		return vault.Attempts{}, err
	}
	return now, nil
}

// remember replaces the attempts of a key, and forgets those above the limit.
// old is the number of the change before, 0 if there was none.
func remember(tx *bbolt.Tx, key string, old uint64, now vault.Attempts) error {
	rows, order := tx.Bucket(attemptsBucket), tx.Bucket(orderBucket)
	if err := errorsOf(rows.Delete([]byte(key)), order.Delete(number(old))); err != nil {
		return err
	}
	if now == (vault.Attempts{}) {
		return nil
	}
	n, err := order.NextSequence()
	if err != nil {
		return err
	}
	row := attemptsRow{N: n, Count: now.Count, Last: now.Last, Until: now.Until}
	if err := errorsOf(putRow(rows, []byte(key), row), order.Put(number(n), []byte(key))); err != nil {
		return err
	}
	return forget(rows, order)
}

// forget keeps MaxAttempts keys. One is added at a time, so one is enough.
func forget(rows, order *bbolt.Bucket) error {
	count := 0
	c := order.Cursor()
	for k, _ := c.First(); k != nil; k, _ = c.Next() {
		count++
	}
	if count <= vault.MaxAttempts {
		return nil
	}
	first, key := c.First()
	first, key = bytes.Clone(first), bytes.Clone(key)
	return errorsOf(order.Delete(first), rows.Delete(key))
}

// Audit implements vault.Vault.
func (v *Vault) Audit(ctx context.Context, e vault.AuditEntry) error {
	e = e.Cut()
	return v.update(ctx, func(tx *bbolt.Tx) error {
		b := tx.Bucket(auditBucket)
		if e.Shop == "" {
			if err := makeRoom(b, vault.MaxStrange, ofNoShop); err != nil {
				return err
			}
		}
		if err := makeRoom(b, vault.MaxAudit, func([]byte) bool { return true }); err != nil {
			return err
		}
		n, err := b.NextSequence()
		if err != nil {
			return err
		}
		return putRow(b, number(n), auditRow{e.At, e.Shop, e.Device, e.Event, e.Detail})
	})
}

// ofNoShop tells whether an entry of the audit log belongs to no shop.
func ofNoShop(raw []byte) bool {
	var row auditRow
	return readRow(raw, &row) == nil && row.Shop == ""
}

// makeRoom deletes the oldest rows that match until there are fewer than limit.
func makeRoom(b *bbolt.Bucket, limit int, match func(raw []byte) bool) error {
	if b.Sequence() < uint64(limit) { // so many were never put
		return nil
	}
	var keys [][]byte
	err := b.ForEach(func(key, raw []byte) error {
		if match(raw) {
			keys = append(keys, bytes.Clone(key))
		}
		return nil
	})
	for i := 0; i <= len(keys)-limit && err == nil; i++ {
		err = b.Delete(keys[i])
	}
	return err
}

// AuditLog implements vault.Vault.
func (v *Vault) AuditLog(ctx context.Context, id vault.ShopID, limit int) (page []vault.AuditEntry, err error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d entries", storage.ErrInvalid, limit)
	}
	err = v.view(ctx, func(tx *bbolt.Tx) error {
		if id != "" {
			if _, err := shop(tx, id); err != nil {
				return err
			}
		}
		c := tx.Bucket(auditBucket).Cursor()
		for key, raw := c.Last(); key != nil && len(page) < limit; key, raw = c.Prev() {
			var row auditRow
			if err := readRow(raw, &row); err != nil {
				return err
			}
			if row.Shop == id {
				page = append(page, vault.AuditEntry{At: row.At, Shop: row.Shop, Device: row.Device, Event: row.Event, Detail: row.Detail})
			}
		}
		return nil
	})
	return page, err
}
