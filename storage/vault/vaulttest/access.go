package vaulttest

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"torchside/storage"
	"torchside/storage/vault"
)

// secret is the hash of a made-up token.
func secret(n int) vault.SecretHash {
	var s vault.SecretHash
	copy(s[:], fmt.Sprintf("secret %d", n))
	return s
}

// code is an open one.
func code(shop vault.ShopID, n int) vault.Code {
	return vault.Code{Hash: secret(n), Shop: shop, Expires: now.Add(10 * time.Minute)}
}

// device adds one.
func (b *bench) device(shop vault.ShopID, name string, n int) vault.Device {
	b.Helper()
	d, err := b.v.AddDevice(b.ctx(), shop, name, secret(n), now)
	b.try(err)
	return d
}

func devices(b *bench) {
	shop := b.shop("Home")
	phone, tablet := b.device(shop, "Phone", 1), b.device(shop, "Tablet", 2)
	if phone.ID == tablet.ID || phone.Shop != shop || phone.Added != now || !phone.Seen.IsZero() || !phone.Revoked.IsZero() {
		b.Errorf("added %+v and %+v", phone, tablet)
	}
	if _, err := b.v.AddDevice(b.ctx(), shop, "Other", secret(1), now); !errors.Is(err, storage.ErrInvalid) {
		b.Errorf("a token twice: got %v, want ErrInvalid", err)
	}
	if _, err := b.v.AddDevice(b.ctx(), shop, "", secret(3), now); !errors.Is(err, storage.ErrInvalid) {
		b.Errorf("no name: got %v, want ErrInvalid", err)
	}
	b.try(b.v.RenameDevice(b.ctx(), shop, phone.ID, "Old phone"))
	b.try(b.v.RevokeDevice(b.ctx(), shop, phone.ID, now))
	b.try(b.v.RevokeDevice(b.ctx(), shop, phone.ID, now.Add(time.Hour))) // keeps the first time
	b.reopen()
	phone.Name, phone.Revoked = "Old phone", now
	for n, want := range map[int]error{1: vault.ErrRevoked, 2: nil, 3: vault.ErrNoDevice} {
		found, err := b.v.DeviceByToken(b.ctx(), secret(n))
		if !errors.Is(err, want) || found != map[int]vault.Device{1: phone, 2: tablet}[n] {
			b.Errorf("token %d: got %+v, %v, want %v", n, found, err, want)
		}
	}
	all, err := b.v.Devices(b.ctx(), shop)
	if err != nil || !slices.Equal(all, []vault.Device{phone, tablet}) {
		b.Errorf("devices %+v, %v", all, err)
	}
	stats, err := b.v.Stats(b.ctx())
	if err != nil || stats.Shops[0].Devices != 1 {
		b.Errorf("stats %+v, %v: want one device that may ask", stats, err)
	}
}

func otherShop(b *bench) {
	home, club := b.shop("Home"), b.shop("Club")
	phone := b.device(home, "Phone", 1)
	for name, err := range map[string]error{
		"rename":  b.v.RenameDevice(b.ctx(), club, phone.ID, "Mine"),
		"revoke":  b.v.RevokeDevice(b.ctx(), club, phone.ID, now),
		"touch":   b.v.TouchDevice(b.ctx(), club, phone.ID, now),
		"unknown": b.v.RevokeDevice(b.ctx(), home, "unknown", now),
		"empty":   b.v.RevokeDevice(b.ctx(), home, "", now),
	} {
		if !errors.Is(err, vault.ErrNoDevice) {
			b.Errorf("%s: got %v, want ErrNoDevice", name, err)
		}
	}
	if all, err := b.v.Devices(b.ctx(), club); err != nil || len(all) != 0 {
		b.Errorf("the other shop has devices %v, %v", all, err)
	}
	if found, err := b.v.DeviceByToken(b.ctx(), secret(1)); err != nil || found != phone {
		b.Errorf("the device is %+v, %v, want %+v", found, err, phone)
	}
}

func touched(b *bench) {
	shop := b.shop("Home")
	phone := b.device(shop, "Phone", 1)
	for _, c := range []struct{ at, want time.Duration }{
		{0, 0}, {vault.TouchEvery - time.Second, 0}, {vault.TouchEvery, vault.TouchEvery}, {-time.Hour, -time.Hour},
	} {
		b.try(b.v.TouchDevice(b.ctx(), shop, phone.ID, now.Add(c.at)))
		b.reopen()
		found, err := b.v.DeviceByToken(b.ctx(), secret(1))
		if err != nil || found.Seen != now.Add(c.want) {
			b.Errorf("touched at %v: seen %v, %v, want %v", c.at, found.Seen, err, now.Add(c.want))
		}
	}
}

func codes(b *bench) {
	home, club := b.shop("Home"), b.shop("Club")
	b.try(b.v.AddCode(b.ctx(), code(home, 1), now))
	b.try(b.v.AddCode(b.ctx(), code(club, 2), now))
	if err := b.v.AddCode(b.ctx(), code(club, 1), now); !errors.Is(err, storage.ErrInvalid) {
		b.Errorf("the same code again: got %v, want ErrInvalid", err)
	}
	b.reopen()
	d, err := b.v.Join(b.ctx(), secret(2), "Phone", secret(10), now)
	b.try(err)
	found, err := b.v.DeviceByToken(b.ctx(), secret(10))
	if err != nil || found != d || d.Shop != club || d.Name != "Phone" {
		b.Errorf("joined %+v, found %+v, %v", d, found, err)
	}
	end := now.Add(10 * time.Minute)
	for name, c := range map[string]struct {
		code int
		at   time.Time
	}{"used": {2, now}, "unknown": {3, now}, "expired": {1, end}} {
		if _, err := b.v.Join(b.ctx(), secret(c.code), "X", secret(11), c.at); !errors.Is(err, vault.ErrNoCode) {
			b.Errorf("a code %s: got %v, want ErrNoCode", name, err)
		}
	}
	_, err = b.v.Join(b.ctx(), secret(1), "In time", secret(12), end.Add(-time.Millisecond))
	b.try(err)
	for n := range vault.MaxCodes {
		b.try(b.v.AddCode(b.ctx(), code(home, 100+n), now))
	}
	if err := b.v.AddCode(b.ctx(), code(home, 99), now); !errors.Is(err, storage.ErrInvalid) {
		b.Errorf("one code too many: got %v, want ErrInvalid", err)
	}
	b.try(b.v.AddCode(b.ctx(), code(club, 98), now))
	b.try(b.v.AddCode(b.ctx(), vault.Code{Hash: secret(99), Shop: home, Expires: end.Add(time.Hour)}, end)) // the others have expired
}

func refusedName(b *bench) {
	shop := b.shop("Home")
	b.device(shop, "Phone", 1)
	b.try(b.v.AddCode(b.ctx(), code(shop, 2), now))
	for name, token := range map[string]int{"": 3, "a\x00": 3, "Twin": 1} {
		if _, err := b.v.Join(b.ctx(), secret(2), name, secret(token), now); !errors.Is(err, storage.ErrInvalid) {
			b.Errorf("name %q, token %d: got %v, want ErrInvalid", name, token, err)
		}
	}
	_, err := b.v.Join(b.ctx(), secret(2), "Tablet", secret(3), now)
	b.try(err)
}

func attempts(b *bench) {
	fail := func(a vault.Attempts) vault.Attempts {
		return vault.Attempts{Count: a.Count + 1, Last: now, Until: now.Add(time.Duration(a.Count) * time.Minute)}
	}
	same := func(a vault.Attempts) vault.Attempts { return a }
	for range 3 {
		_, err := b.v.Attempts(b.ctx(), "pair", fail)
		b.try(err)
		b.reopen()
	}
	got, err := b.v.Attempts(b.ctx(), "pair", same)
	want := vault.Attempts{Count: 3, Last: now, Until: now.Add(2 * time.Minute)}
	if err != nil || got != want {
		b.Errorf("got %+v, %v, want %+v", got, err, want)
	}
	_, err = b.v.Attempts(b.ctx(), "pair", func(vault.Attempts) vault.Attempts { return vault.Attempts{} })
	b.try(err)
	if got, err := b.v.Attempts(b.ctx(), "pair", same); err != nil || got != (vault.Attempts{}) {
		b.Errorf("after clearing: %+v, %v", got, err)
	}
	for _, bad := range []string{"", strings.Repeat("x", vault.MaxKey+1)} {
		if _, err := b.v.Attempts(b.ctx(), bad, fail); !errors.Is(err, storage.ErrInvalid) {
			b.Errorf("key %q: got %v, want ErrInvalid", bad, err)
		}
	}
}

func audit(b *bench) {
	home, club := b.shop("Home"), b.shop("Club")
	for i := range 6 {
		shop := []vault.ShopID{home, club, ""}[i%3]
		b.try(b.v.Audit(b.ctx(), vault.AuditEntry{At: now, Shop: shop, Device: "d", Event: fmt.Sprint(i), Detail: strings.Repeat("ü", i*100)}))
	}
	b.reopen()
	for shop, want := range map[vault.ShopID][]string{home: {"3", "0"}, club: {"4", "1"}, "": {"5", "2"}} {
		for _, limit := range []int{1, 9} {
			got, err := b.v.AuditLog(b.ctx(), shop, limit)
			b.try(err)
			if len(got) != min(limit, 2) || got[0].Event != want[0] || got[len(got)-1].Event != want[len(got)-1] {
				b.Errorf("shop %q, limit %d: got %+v, want %v", shop, limit, got, want)
			}
			if got[0].At != now || got[0].Device != "d" || len(got[0].Detail) > vault.MaxDetail || got[0].Detail == "" {
				b.Errorf("entry %+v", got[0])
			}
		}
	}
	if _, err := b.v.AuditLog(b.ctx(), home, 0); !errors.Is(err, storage.ErrInvalid) {
		b.Errorf("limit 0: got %v, want ErrInvalid", err)
	}
}
