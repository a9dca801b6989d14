package server

import (
	"context"
	"errors"
	"net/http"
	"strings"
	"time"

	"torchside/storage/vault"
	"torchside/storage/wire"
)

// CodeLife is how long a pairing code can be used.
const CodeLife = 10 * time.Minute

// Limits on guessing. A code is one of 10^8. Before the lock closes, strangers together have
// lockAll tries in CodeLife: with one code open they hit it once in three million such spans.
const (
	lockOne  = 5  // wrong codes from one address
	lockAll  = 30 // wrong codes from anywhere
	lockTime = 10 * time.Minute
)

// maxSmall bounds, in bytes, a body that holds a name or a code.
const maxSmall = 4 << 10

// IssueCode makes a pairing code of a shop and gives it with its end. by tells the audit log who
// asked: a device, or "" for the owner at the server itself.
func IssueCode(ctx context.Context, v vault.Vault, shop vault.ShopID, by vault.DeviceID, now time.Time) (code string, ends time.Time, err error) {
	code = newCode()
	hash, _ := hashCode(code) // it is one
	ends = now.Add(CodeLife)
	if err := v.AddCode(ctx, vault.Code{Hash: hash, Shop: shop, Expires: ends}, now); err != nil {
		return "", time.Time{}, err
	}
	return code, ends, v.Audit(ctx, vault.AuditEntry{At: now, Shop: shop, Device: by, Event: "code made"})
}

// pair lets a device in that shows a code.
func (s *Server) pair(w http.ResponseWriter, r *http.Request, _ caller, _ []string) error {
	var q wire.PairRequest
	if err := readJSON(w, r, maxSmall, &q); err != nil {
		return err
	}
	name := strings.TrimSpace(q.Name)
	if err := vault.CheckName(name); err != nil {
		return err
	}
	hash, ok := hashCode(q.Code)
	if !ok {
		return refuse(wire.CodeMalformed, "A code is eight digits.", "Type it as the other device or the server shows it.")
	}
	from := address(r)
	if err := s.countTry(r.Context(), from); err != nil {
		return err
	}
	token := newToken()
	tokenHash, _ := hashToken(token) // it is one
	device, err := s.vault.Join(r.Context(), hash, name, tokenHash, s.now())
	if errors.Is(err, vault.ErrNoCode) {
		s.metrics.add("pair", "wrong code", 1)
		return errors.Join(refuse(wire.CodeWrongCode, "No device can join with this code: it is wrong, was used, or is over.",
			"Ask for a new one; a code works once and for ten minutes."), s.audit(r, caller{}, "wrong code", from))
	}
	if err != nil {
		return err
	}
	s.metrics.add("pair", "joined", 1)
	return s.welcome(w, r, device, token, from)
}

// welcome tells a device its token.
func (s *Server) welcome(w http.ResponseWriter, r *http.Request, d vault.Device, token, from string) error {
	if err := s.forgive(r.Context(), from); err != nil {
		return err
	}
	if err := s.audit(r, caller{d}, "device joined", d.Name+" from "+from); err != nil {
		return err
	}
	shop, err := s.shop(r.Context(), d.Shop)
	if err != nil {
		return err
	}
	return writeJSON(w, r, http.StatusOK, wire.PairReply{
		Token: token, Device: deviceOut(d, d.ID), Shop: shop, Store: s.vault.ID(),
	})
}

// Keys of the counts of wrong codes.
const keyAll = "pair"

func keyOne(address string) string { return "pair " + address }

// countTry counts a try as a wrong one before the code is looked at, so that many at once cannot
// all slip through; forgive takes it back. It refuses while the lock is closed.
func (s *Server) countTry(ctx context.Context, from string) error {
	for _, limit := range []struct {
		key string
		max int
	}{{keyOne(from), lockOne}, {keyAll, lockAll}} {
		now, refused := s.now(), time.Duration(0)
		_, err := s.vault.Attempts(ctx, limit.key, func(a vault.Attempts) vault.Attempts {
			a, refused = try(a, limit.max, now)
			return a
		})
		if err != nil {
			return err
		}
		if refused > 0 {
			s.metrics.add("pair", "locked", 1)
			return refuse(wire.CodeLocked, "Too many wrong codes were tried. Pairing is locked for a while.",
				"Wait ten minutes, then ask for a new code. Devices already in the shop are not touched by this.").after(refused)
		}
	}
	return nil
}

// try counts one try, or gives how long the lock stays closed. A lock further ahead than it can
// ever be set comes from a clock that was wrong, and is dropped.
func try(a vault.Attempts, limit int, now time.Time) (vault.Attempts, time.Duration) {
	left := a.Until.Sub(now)
	if left > 0 && left <= lockTime {
		return a, left
	}
	if left > lockTime || now.Sub(a.Last).Abs() > lockTime || !a.Until.IsZero() {
		a = vault.Attempts{}
	}
	a.Count++
	a.Last = now
	if a.Count >= limit {
		a.Until = now.Add(lockTime)
	}
	return a, 0
}

// forgive takes back a try that was right.
func (s *Server) forgive(ctx context.Context, from string) error {
	_, one := s.vault.Attempts(ctx, keyOne(from), func(vault.Attempts) vault.Attempts { return vault.Attempts{} })
	_, all := s.vault.Attempts(ctx, keyAll, func(a vault.Attempts) vault.Attempts {
		if a.Count <= 1 {
			return vault.Attempts{}
		}
		a.Count--
		a.Until = time.Time{} // it can only have been set by this try: a closed lock lets none in
		return a
	})
	return errors.Join(one, all)
}

// audit adds a line to the shop's audit log.
func (s *Server) audit(r *http.Request, who caller, event, detail string) error {
	return s.vault.Audit(r.Context(), vault.AuditEntry{
		At: s.now(), Shop: who.device.Shop, Device: who.device.ID, Event: event, Detail: detail,
	}.Cut())
}
