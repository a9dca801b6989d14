package server

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/netip"
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
	locked, err := s.countTry(r.Context(), from)
	if err != nil {
		return err
	}
	token := newToken()
	tokenHash, _ := hashToken(token) // it is one
	device, err := s.vault.Join(r.Context(), hash, name, tokenHash, s.now())
	if errors.Is(err, vault.ErrNoCode) {
		s.metrics.add("pair", "wrong code", 1)
		s.audit(r, caller{}, "wrong code", "from "+from)
		if locked != "" {
			s.audit(r, caller{}, "pairing locked", locked)
		}
		return refuse(wire.CodeWrongCode, "No device can join with this code: it is wrong, was used, or is over.",
			"Ask for a new one; a code works once and for ten minutes.")
	}
	if err != nil {
		return err
	}
	s.metrics.add("pair", "joined", 1)
	return s.welcome(w, r, device, token, from)
}

// welcome tells a device its token. It is in by now and its code is used up, so nothing that fails
// here may keep the token from it.
func (s *Server) welcome(w http.ResponseWriter, r *http.Request, d vault.Device, token, from string) error {
	if err := s.forgive(r.Context(), from); err != nil {
		s.log.WarnContext(r.Context(), "wrong codes before the right one still count", "cause", err.Error())
	}
	s.audit(r, caller{d}, "device joined", d.Name+" from "+from)
	shop, err := s.shop(r.Context(), d.Shop)
	if err != nil {
		s.log.ErrorContext(r.Context(), "the name of a shop cannot be read", "shop", d.Shop, "cause", err.Error())
		shop = wire.Shop{ID: string(d.Shop)}
	}
	return writeJSON(w, r, http.StatusOK, wire.PairReply{
		Token: token, Device: deviceOut(d, d.ID), Shop: shop, Store: s.vault.ID(),
	})
}

// Keys of the counts of wrong codes.
const keyAll = "pair"

func keyOne(from string) string { return "pair " + network(from) }

// network stands for all addresses one visitor may have: of IPv6 those with the same first half, as
// each household has at least so many (RFC 6177).
func network(from string) string {
	a, err := netip.ParseAddr(from)
	if err != nil || a.Unmap().Is4() || a.IsLoopback() {
		return from
	}
	half, _ := a.WithZone("").Prefix(64) // 64 is within the length of an IPv6 address
	return half.String()
}

// countTry counts a try as a wrong one before the code is looked at, so that many at once cannot
// all slip through; forgive takes it back. It refuses while the lock is closed. locked says in
// words which lock this try closes if the code is wrong, "" if none.
func (s *Server) countTry(ctx context.Context, from string) (locked string, err error) {
	for _, limit := range []struct {
		key string
		max int
		who string
	}{{keyOne(from), lockOne, "for " + from}, {keyAll, lockAll, "for all"}} {
		now, refused := s.now(), time.Duration(0)
		a, err := s.vault.Attempts(ctx, limit.key, func(a vault.Attempts) vault.Attempts {
			a, refused = try(a, limit.max, now)
			return a
		})
		if err != nil {
			return "", err
		}
		if refused > 0 {
			if limit.key == keyAll { // whoever is kept waiting by others' guesses has not guessed
				err = s.takeBack(ctx, keyOne(from))
			}
			s.metrics.add("pair", "locked", 1)
			return "", errors.Join(refuse(wire.CodeLocked, "Too many wrong codes were tried. Pairing is locked for a while.",
				"Wait ten minutes, then ask for a new code. Devices already in the shop are not touched by this.").after(refused), err)
		}
		if a.Count >= limit.max {
			locked = fmt.Sprintf("%s, after %d wrong codes, for %v", limit.who, a.Count, lockTime)
		}
	}
	return locked, nil
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

// forgive takes back a try that was right, and those of the same visitor before it.
func (s *Server) forgive(ctx context.Context, from string) error {
	_, one := s.vault.Attempts(ctx, keyOne(from), func(vault.Attempts) vault.Attempts { return vault.Attempts{} })
	return errors.Join(one, s.takeBack(ctx, keyAll))
}

// takeBack counts one try less.
func (s *Server) takeBack(ctx context.Context, key string) error {
	_, err := s.vault.Attempts(ctx, key, func(a vault.Attempts) vault.Attempts {
		if a.Count <= 1 {
			return vault.Attempts{}
		}
		a.Count--
		a.Until = time.Time{} // it can only have been set by this try: a closed lock lets none in
		return a
	})
	return err
}

// audit adds a line to the shop's audit log. What it tells of has happened: if there is no room for
// the line, the server's log has it.
func (s *Server) audit(r *http.Request, who caller, event, detail string) {
	err := s.vault.Audit(r.Context(), vault.AuditEntry{
		At: s.now(), Shop: who.device.Shop, Device: who.device.ID, Event: event, Detail: detail,
	}.Cut())
	if err != nil {
		s.log.ErrorContext(r.Context(), "this is not in the audit log", "event", event, "device", who.device.ID, "cause", err.Error())
	}
}
