package memvault

import (
	"context"
	"fmt"
	"slices"

	"torchside/storage"
	"torchside/storage/vault"
)

// Attempts implements vault.Vault.
func (v *Vault) Attempts(ctx context.Context, key string, change func(vault.Attempts) vault.Attempts) (now vault.Attempts, err error) {
	if err := vault.CheckKey(key); err != nil {
		return vault.Attempts{}, err
	}
	err = v.write(ctx, func(s *state) (func(), error) {
		before := s.attempts[key]
		if now = change(before).Wall(); now == before {
			return nil, nil
		}
		return func() { s.remember(key, now) }, nil
	})
	if err != nil {
		return vault.Attempts{}, err
	}
	return now, nil
}

// remember keeps the attempts of a key, and forgets those above the limit.
func (s *state) remember(key string, a vault.Attempts) {
	s.touched = slices.DeleteFunc(s.touched, func(k string) bool { return k == key })
	delete(s.attempts, key)
	if a == (vault.Attempts{}) {
		return
	}
	s.attempts[key] = a
	s.touched = append(s.touched, key)
	if len(s.touched) > vault.MaxAttempts {
		delete(s.attempts, s.touched[0])
		s.touched = s.touched[1:]
	}
}

// Audit implements vault.Vault.
func (v *Vault) Audit(ctx context.Context, e vault.AuditEntry) error {
	return v.write(ctx, func(s *state) (func(), error) {
		return func() {
			s.audit = append(s.audit, e.Cut())
			if e.Shop == "" {
				s.dropStrange()
			}
			s.audit = s.audit[max(0, len(s.audit)-vault.MaxAudit):]
		}, nil
	})
}

// dropStrange keeps MaxStrange entries of no shop, the newest. One is added at a time.
func (s *state) dropStrange() {
	ofNone := func(e vault.AuditEntry) bool { return e.Shop == "" }
	n := 0
	for _, e := range s.audit {
		if ofNone(e) {
			n++
		}
	}
	if n > vault.MaxStrange {
		at := slices.IndexFunc(s.audit, ofNone)
		s.audit = slices.Concat(s.audit[:at], s.audit[at+1:])
	}
}

// AuditLog implements vault.Vault.
func (v *Vault) AuditLog(ctx context.Context, shop vault.ShopID, limit int) (page []vault.AuditEntry, err error) {
	if limit < 1 {
		return nil, fmt.Errorf("%w: limit of %d entries", storage.ErrInvalid, limit)
	}
	err = v.read(ctx, func(s *state) error {
		if _, err := s.log(shop); err != nil && shop != "" {
			return err
		}
		for _, e := range slices.Backward(s.audit) {
			if e.Shop == shop && len(page) < limit {
				page = append(page, e)
			}
		}
		return nil
	})
	return page, err
}
