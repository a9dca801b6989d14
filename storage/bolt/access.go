//go:build !js

package bolt

import (
	"bytes"
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

// device reads a row as the contract gives it.
func (r deviceRow) device(id []byte) vault.Device {
	return vault.Device{ID: vault.DeviceID(id), Shop: r.Shop, Name: r.Name, Added: r.Added, Seen: r.Seen, Revoked: r.Revoked}
}

// AddDevice implements vault.Vault.
func (v *Vault) AddDevice(ctx context.Context, id vault.ShopID, name string, token vault.SecretHash, now time.Time) (added vault.Device, err error) {
	err = v.update(ctx, func(tx *bbolt.Tx) error {
		added, err = addDevice(tx, id, name, token, now)
		return err
	})
	if err != nil {
		return vault.Device{}, err
	}
	return added, nil
}

func addDevice(tx *bbolt.Tx, id vault.ShopID, name string, token vault.SecretHash, now time.Time) (vault.Device, error) {
	if _, err := shop(tx, id); err != nil {
		return vault.Device{}, err
	}
	if err := vault.CheckName(name); err != nil {
		return vault.Device{}, err
	}
	if tx.Bucket(tokensBucket).Get(token[:]) != nil {
		return vault.Device{}, fmt.Errorf("%w: another device has this token", storage.ErrInvalid)
	}
	own, err := vault.RandomID(rand.Reader)
	if err != nil {
		return vault.Device{}, err
	}
	n, err := tx.Bucket(devicesBucket).NextSequence()
	if err != nil {
		return vault.Device{}, err
	}
	row := deviceRow{N: n, Shop: id, Name: name, Token: token[:], Added: vault.Wall(now)}
	err = errorsOf(putRow(tx.Bucket(devicesBucket), []byte(own), row), tx.Bucket(tokensBucket).Put(token[:], []byte(own)))
	return row.device([]byte(own)), err
}

// DeviceByToken implements vault.Vault.
func (v *Vault) DeviceByToken(ctx context.Context, token vault.SecretHash) (found vault.Device, err error) {
	err = v.view(ctx, func(tx *bbolt.Tx) error {
		id := tx.Bucket(tokensBucket).Get(token[:])
		if id == nil {
			return vault.ErrNoDevice
		}
		var row deviceRow
		if err := getRow(tx.Bucket(devicesBucket), id, &row); err != nil {
			return fmt.Errorf("%w: device %s of a token: %w", storage.ErrCorrupt, id, err)
		}
		if found = row.device(id); !row.Revoked.IsZero() {
			return vault.ErrRevoked
		}
		return nil
	})
	return found, err
}

// eachDevice reads all devices.
func eachDevice(tx *bbolt.Tx, f func(id []byte, row deviceRow)) error {
	return tx.Bucket(devicesBucket).ForEach(func(id, raw []byte) error {
		var row deviceRow
		if err := readRow(raw, &row); err != nil {
			return fmt.Errorf("device %s: %w", id, err)
		}
		f(id, row)
		return nil
	})
}

// admitted counts the devices that may ask, by shop.
func admitted(tx *bbolt.Tx) (map[vault.ShopID]int, error) {
	n := make(map[vault.ShopID]int)
	err := eachDevice(tx, func(_ []byte, row deviceRow) {
		if row.Revoked.IsZero() {
			n[row.Shop]++
		}
	})
	return n, err
}

// Devices implements vault.Vault.
func (v *Vault) Devices(ctx context.Context, id vault.ShopID) (all []vault.Device, err error) {
	var order []uint64
	err = v.view(ctx, func(tx *bbolt.Tx) error {
		if _, err := shop(tx, id); err != nil {
			return err
		}
		return eachDevice(tx, func(own []byte, row deviceRow) {
			if row.Shop == id {
				at, _ := slices.BinarySearch(order, row.N)
				order, all = slices.Insert(order, at, row.N), slices.Insert(all, at, row.device(own))
			}
		})
	})
	return all, err
}

// RenameDevice implements vault.Vault.
func (v *Vault) RenameDevice(ctx context.Context, id vault.ShopID, own vault.DeviceID, name string) error {
	if err := vault.CheckName(name); err != nil {
		return err
	}
	return v.changeDevice(ctx, id, own, func(row *deviceRow) bool {
		row.Name = name
		return true
	})
}

// RevokeDevice implements vault.Vault.
func (v *Vault) RevokeDevice(ctx context.Context, id vault.ShopID, own vault.DeviceID, now time.Time) error {
	return v.changeDevice(ctx, id, own, func(row *deviceRow) bool {
		first := row.Revoked.IsZero()
		if first {
			row.Revoked = vault.Wall(now)
		}
		return first
	})
}

// TouchDevice implements vault.Vault.
func (v *Vault) TouchDevice(ctx context.Context, id vault.ShopID, own vault.DeviceID, now time.Time) error {
	return v.changeDevice(ctx, id, own, func(row *deviceRow) bool {
		due := vault.TouchDue(row.Seen, now)
		if due {
			row.Seen = vault.Wall(now)
		}
		return due
	})
}

// changeDevice changes one device of a shop where f says that there is a change.
func (v *Vault) changeDevice(ctx context.Context, id vault.ShopID, own vault.DeviceID, f func(*deviceRow) bool) error {
	return v.update(ctx, func(tx *bbolt.Tx) error {
		if _, err := shop(tx, id); err != nil {
			return err
		}
		var row deviceRow
		err := getRow(tx.Bucket(devicesBucket), []byte(own), &row)
		switch {
		case errors.Is(err, errNoRow), err == nil && row.Shop != id:
			return fmt.Errorf("device %q: %w", own, vault.ErrNoDevice)
		case err != nil:
			return err
		case !f(&row):
			return errNothing
		}
		return putRow(tx.Bucket(devicesBucket), []byte(own), row)
	})
}

// AddCode implements vault.Vault.
func (v *Vault) AddCode(ctx context.Context, c vault.Code, now time.Time) error {
	return v.update(ctx, func(tx *bbolt.Tx) error {
		if _, err := shop(tx, c.Shop); err != nil {
			return err
		}
		open, err := openCodes(tx, c.Shop, now)
		if err != nil {
			return err
		}
		if open >= vault.MaxCodes {
			return fmt.Errorf("%w: %d codes of the shop are open: use one, or wait until they expire", storage.ErrInvalid, open)
		}
		if tx.Bucket(codesBucket).Get(c.Hash[:]) != nil {
			return fmt.Errorf("%w: this code is open already", storage.ErrInvalid)
		}
		return putRow(tx.Bucket(codesBucket), c.Hash[:], codeRow{c.Shop, vault.Wall(c.Expires)})
	})
}

// openCodes counts those of a shop and throws away what has expired.
func openCodes(tx *bbolt.Tx, id vault.ShopID, now time.Time) (open int, err error) {
	var expired [][]byte
	err = tx.Bucket(codesBucket).ForEach(func(hash, raw []byte) error {
		var row codeRow
		if err := readRow(raw, &row); err != nil {
			return err
		}
		switch {
		case !row.Expires.After(now):
			expired = append(expired, bytes.Clone(hash))
		case row.Shop == id:
			open++
		}
		return nil
	})
	for _, hash := range expired {
		if err == nil {
			err = tx.Bucket(codesBucket).Delete(hash)
		}
	}
	return open, err
}

// Join implements vault.Vault.
func (v *Vault) Join(ctx context.Context, code vault.SecretHash, name string, token vault.SecretHash, now time.Time) (joined vault.Device, err error) {
	err = v.update(ctx, func(tx *bbolt.Tx) error {
		var row codeRow
		err := getRow(tx.Bucket(codesBucket), code[:], &row)
		switch {
		case errors.Is(err, errNoRow), err == nil && !row.Expires.After(now):
			return vault.ErrNoCode
		case err != nil:
			return err
		}
		if joined, err = addDevice(tx, row.Shop, name, token, now); err != nil {
			return err
		}
		return tx.Bucket(codesBucket).Delete(code[:])
	})
	if err != nil {
		return vault.Device{}, err
	}
	return joined, nil
}
