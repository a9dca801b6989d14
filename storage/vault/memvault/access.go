package memvault

import (
	"context"
	"fmt"
	"slices"
	"time"

	"torchside/storage"
	"torchside/storage/vault"
)

// AddDevice implements vault.Vault.
func (v *Vault) AddDevice(ctx context.Context, shop vault.ShopID, name string, token vault.SecretHash, now time.Time) (added vault.Device, err error) {
	err = v.write(ctx, func(s *state) (func(), error) {
		d, err := v.newDevice(s, shop, name, token, now)
		added = d.Device
		return func() { s.devices = append(s.devices, d) }, err
	})
	if err != nil {
		return vault.Device{}, err
	}
	return added, nil
}

// newDevice makes a device that may be added.
func (v *Vault) newDevice(s *state, shop vault.ShopID, name string, token vault.SecretHash, now time.Time) (device, error) {
	if _, err := s.log(shop); err != nil {
		return device{}, err
	}
	if err := vault.CheckName(name); err != nil {
		return device{}, err
	}
	if slices.ContainsFunc(s.devices, func(d device) bool { return d.token == token }) {
		return device{}, fmt.Errorf("%w: another device has this token", storage.ErrInvalid)
	}
	id, err := vault.RandomID(v.disk.random)
	return device{vault.Device{ID: vault.DeviceID(id), Shop: shop, Name: name, Added: vault.Wall(now)}, token}, err
}

// DeviceByToken implements vault.Vault.
func (v *Vault) DeviceByToken(ctx context.Context, token vault.SecretHash) (found vault.Device, err error) {
	err = v.read(ctx, func(s *state) error {
		at := slices.IndexFunc(s.devices, func(d device) bool { return d.token == token })
		if at < 0 {
			return vault.ErrNoDevice
		}
		found = s.devices[at].Device
		if !found.Revoked.IsZero() {
			return vault.ErrRevoked
		}
		return nil
	})
	return found, err
}

// Devices implements vault.Vault.
func (v *Vault) Devices(ctx context.Context, shop vault.ShopID) (all []vault.Device, err error) {
	err = v.read(ctx, func(s *state) error {
		for _, d := range s.devices {
			if d.Shop == shop {
				all = append(all, d.Device)
			}
		}
		_, err := s.log(shop)
		return err
	})
	return all, err
}

// RenameDevice implements vault.Vault.
func (v *Vault) RenameDevice(ctx context.Context, shop vault.ShopID, id vault.DeviceID, name string) error {
	if err := vault.CheckName(name); err != nil {
		return err
	}
	return v.change(ctx, shop, id, func(d *device) { d.Name = name })
}

// RevokeDevice implements vault.Vault.
func (v *Vault) RevokeDevice(ctx context.Context, shop vault.ShopID, id vault.DeviceID, now time.Time) error {
	return v.change(ctx, shop, id, func(d *device) {
		if d.Revoked.IsZero() {
			d.Revoked = vault.Wall(now)
		}
	})
}

// TouchDevice implements vault.Vault.
func (v *Vault) TouchDevice(ctx context.Context, shop vault.ShopID, id vault.DeviceID, now time.Time) error {
	return v.change(ctx, shop, id, func(d *device) {
		if vault.TouchDue(d.Seen, now) {
			d.Seen = vault.Wall(now)
		}
	})
}

// change changes one device of a shop; what stays as it is is no commit.
func (v *Vault) change(ctx context.Context, shop vault.ShopID, id vault.DeviceID, f func(*device)) error {
	return v.write(ctx, func(s *state) (func(), error) {
		if _, err := s.log(shop); err != nil {
			return nil, err
		}
		at := slices.IndexFunc(s.devices, func(d device) bool { return d.Shop == shop && d.ID == id })
		if at < 0 {
			return nil, fmt.Errorf("device %q: %w", id, vault.ErrNoDevice)
		}
		changed := s.devices[at]
		if f(&changed); changed == s.devices[at] {
			return nil, nil
		}
		return func() { s.devices[at] = changed }, nil
	})
}

// AddCode implements vault.Vault.
func (v *Vault) AddCode(ctx context.Context, c vault.Code, now time.Time) error {
	return v.write(ctx, func(s *state) (func(), error) {
		if _, err := s.log(c.Shop); err != nil {
			return nil, err
		}
		open := slices.DeleteFunc(slices.Clone(s.codes), func(o vault.Code) bool { return !o.Expires.After(now) })
		count := 0
		for _, o := range open {
			if o.Hash == c.Hash {
				return nil, fmt.Errorf("%w: this code is open already", storage.ErrInvalid)
			}
			if o.Shop == c.Shop {
				count++
			}
		}
		if count >= vault.MaxCodes {
			return nil, fmt.Errorf("%w: %d codes of the shop are open: use one, or wait until they expire", storage.ErrInvalid, count)
		}
		c.Expires = vault.Wall(c.Expires)
		return func() { s.codes = append(open, c) }, nil
	})
}

// Join implements vault.Vault.
func (v *Vault) Join(ctx context.Context, code vault.SecretHash, name string, token vault.SecretHash, now time.Time) (joined vault.Device, err error) {
	err = v.write(ctx, func(s *state) (func(), error) {
		at := slices.IndexFunc(s.codes, func(c vault.Code) bool { return c.Hash == code && c.Expires.After(now) })
		if at < 0 {
			return nil, vault.ErrNoCode
		}
		d, err := v.newDevice(s, s.codes[at].Shop, name, token, now)
		joined = d.Device
		return func() {
			s.codes = slices.Delete(s.codes, at, at+1)
			s.devices = append(s.devices, d)
		}, err
	})
	if err != nil {
		return vault.Device{}, err
	}
	return joined, nil
}
