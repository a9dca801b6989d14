package server_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/server"
	"torchside/storage/vault"
	"torchside/storage/wire"
)

// pairFrom tries a code from an address, and gives the code of the refusal or "".
func (w *world) pairFrom(address, code string) wire.Code {
	w.t.Helper()
	r := httptest.NewRequest(http.MethodPost, wire.Prefix+wire.PathPair, strings.NewReader(`{"code":"`+code+`","name":"Visitor"}`))
	r.RemoteAddr = address
	r.Header.Set("Content-Type", "application/json")
	out := httptest.NewRecorder()
	w.srv.ServeHTTP(out, r)
	var refused wire.Error
	if err := json.Unmarshal(out.Body.Bytes(), &refused); err != nil {
		w.t.Fatalf("%s: %v", out.Body, err)
	}
	return refused.Code
}

// Whoever guesses from many addresses has no more tries than all together.
func TestPair_wrong_codes_from_many_addresses_close_the_lock_for_all(t *testing.T) {
	w := newWorld(t)
	shop := w.shop("Shop")
	code := w.code(shop)
	for i := range 30 {
		if got := w.pairFrom(fmt.Sprintf("192.0.2.%d:1", i), wrongCode(code, i)); got != wire.CodeWrongCode {
			t.Fatalf("try %d: %q", i, got)
		}
	}
	for range 7 { // more than one address may try: waiting for others' guesses is no guess
		if got := w.pairFrom("198.51.100.1:1", code); got != wire.CodeLocked {
			t.Errorf("the right code from an address that never tried: %q, want locked", got)
		}
		w.pass(timeBetween)
	}
	w.restart()
	if got := w.pairFrom("198.51.100.2:1", code); got != wire.CodeLocked {
		t.Errorf("after a restart: %q, want locked", got)
	}
	w.pass(10 * time.Minute)
	if got := w.pairFrom("198.51.100.1:1", w.code(shop)); got != "" {
		t.Errorf("after ten minutes: %q, want that the right code lets in", got)
	}
	w.audited(t, "", "pairing locked for all, after 30 wrong codes, for 10m0s", "wrong code from 192.0.2.29", "wrong code from 192.0.2.0")
}

// A household with IPv6 has more addresses than anybody can count.
func TestPair_all_addresses_of_one_ipv6_network_count_as_one(t *testing.T) {
	w := newWorld(t)
	code := w.code(w.shop("Shop"))
	for i := range 5 {
		if got := w.pairFrom(fmt.Sprintf("[2001:db8:1:2::%x]:1", i+1), wrongCode(code, i)); got != wire.CodeWrongCode {
			t.Fatalf("try %d: %q", i, got)
		}
	}
	for from, want := range map[string]wire.Code{
		"[2001:db8:1:2:ffff::9]:1": wire.CodeLocked, "[2001:db8:1:3::1]:1": wire.CodeWrongCode, "[::ffff:192.0.2.1]:1": wire.CodeWrongCode,
	} {
		if got := w.pairFrom(from, wrongCode(code, 9)); got != want {
			t.Errorf("from %s: %q, want %q", from, got, want)
		}
	}
	w.audited(t, "", "pairing locked for 2001:db8:1:2::5, after 5 wrong codes, for 10m0s")
}

// audited checks that the audit log of a shop, "" for none, has lines.
func (w *world) audited(t *testing.T, shop vault.ShopID, want ...string) {
	t.Helper()
	log, err := w.vault.AuditLog(t.Context(), shop, 1000)
	if err != nil {
		t.Fatal(err)
	}
	lines := make(map[string]bool)
	for _, e := range log {
		lines[e.Event+" "+e.Detail] = true
	}
	for _, line := range want {
		if !lines[line] {
			t.Errorf("the audit log lacks %q: %v", line, lines)
		}
	}
}

// noAudit is a vault with no room for the audit log, and later none that can be read.
type noAudit struct {
	vault.Vault
	blind bool
}

func (noAudit) Audit(context.Context, vault.AuditEntry) error { return storage.ErrFull }

func (v noAudit) Devices(ctx context.Context, shop vault.ShopID) ([]vault.Device, error) {
	if v.blind {
		return nil, storage.ErrFull
	}
	return v.Vault.Devices(ctx, shop)
}

// What was done is never answered as if it were not: a token that does not reach its device is a
// device nobody has, and a phone put out must not look let in.
func TestServer_what_was_done_is_told_also_when_it_cannot_be_noted(t *testing.T) {
	w := newWorld(t)
	shop := w.shop("Shop")
	p, lost, code := w.join(shop, "Phone"), w.join(shop, "Lost"), w.code(shop)
	v := &noAudit{Vault: w.vault}
	w.srv = server.New(server.Config{Vault: v, Log: slog.New(slog.NewJSONHandler(w.log, nil)), Now: w.clock})
	w.http.Config.Handler = w.srv
	if joined := w.pair(t, code, "Tablet"); joined.Token == "" || joined.Shop.Name != "Shop" {
		t.Errorf("joined as %+v", joined)
	}
	if list, err := p.RenameDevice(t.Context(), lost.id, "Gone"); err != nil || list.Devices[1].Name != "Gone" {
		t.Errorf("renamed: %+v, %v", list, err)
	}
	v.blind = true
	_, err := p.RevokeDevice(t.Context(), lost.id)
	if said := (*wire.Error)(nil); !errors.As(err, &said) || !strings.Contains(said.Message, "was put out of the shop, but the list") || strings.Contains(said.Message, "Nothing") {
		t.Errorf("put out, and the list cannot be read: %v", err)
	}
	if d, err := w.vault.Devices(t.Context(), shop); err != nil || d[1].Revoked.IsZero() {
		t.Errorf("it is let in: %+v, %v", d, err)
	}
	w.http.Close() // waits until the last line is written
	for _, event := range []string{"device joined", "device renamed", "device revoked"} {
		if !strings.Contains(w.log.String(), `"msg":"this is not in the audit log","event":"`+event+`"`) {
			t.Errorf("the server's log lacks %q: %s", event, w.log)
		}
	}
}

// lame is a vault of which every call that a route makes fails.
type lame struct {
	vault.Vault
	err error
}

func (l lame) DeviceByToken(context.Context, vault.SecretHash) (vault.Device, error) {
	return vault.Device{}, l.err
}

func (l lame) Attempts(context.Context, string, func(vault.Attempts) vault.Attempts) (vault.Attempts, error) {
	return vault.Attempts{}, l.err
}

// What ails the vault is told by its kind, with a way out and without its files.
func TestServer_every_route_says_what_ails_the_vault(t *testing.T) {
	x := newIsolated(t)
	for err, want := range map[error]wire.Code{
		storage.ErrFull: wire.CodeFull, storage.ErrLost: wire.CodeUnavailable, storage.ErrClosed: wire.CodeUnavailable,
		storage.ErrCorrupt: wire.CodeInternal, io.ErrUnexpectedEOF: wire.CodeInternal,
	} {
		wrapped := fmt.Errorf("/srv/vault.bolt: %w", err)
		srv := server.New(server.Config{Vault: lame{x.vault, wrapped}, Log: slog.New(slog.NewJSONHandler(x.log, nil)), Now: x.clock})
		x.http.Config.Handler = srv
		for _, route := range srv.Routes() {
			q := x.request(t, route)
			if q.token = x.mine.token; q.body == nil {
				q.body = []byte{}
			}
			_, refused, body := x.ask(q)
			if refused.Code != want || refused.Do == "" || strings.Contains(string(body), "vault.bolt") {
				t.Errorf("%s %s with %v: %s, want %s", route.Method, route.Path, err, body, want)
			}
		}
	}
}
