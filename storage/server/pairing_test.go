package server_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"torchside/storage/remote"
	"torchside/storage/server"
	"torchside/storage/vault"
	"torchside/storage/wire"
)

// timeBetween is long enough for one more request of a stranger.
const timeBetween = 3 * time.Second

func (w *world) shopNamed(name string) vault.ShopID {
	w.t.Helper()
	all, err := w.vault.Shops(context.Background())
	if err != nil {
		w.t.Fatal(err)
	}
	for _, s := range all {
		if s.Name == name {
			return s.ID
		}
	}
	w.t.Fatalf("no shop %q", name)
	return ""
}

func (w *world) pair(t *testing.T, code, name string) wire.PairReply {
	t.Helper()
	r, err := remote.Pair(t.Context(), w.http.URL, code, name)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// refusedPair tries a code that must not let in.
func (w *world) refusedPair(t *testing.T, code string, want wire.Code) {
	t.Helper()
	_, err := remote.Pair(t.Context(), w.http.URL, code, "Another")
	if !errors.Is(err, &wire.Error{Code: want}) {
		t.Errorf("code %q: %v, want %s", code, err, want)
	}
}

// wrongCode is one that nobody has made: codes are eight digits, and any but the open one serves.
func wrongCode(open string, n int) string {
	code := fmt.Sprintf("%08d", n)
	if code == open {
		return "99999999"
	}
	return code
}

func TestPair_a_code_works_once(t *testing.T) {
	w := newWorld(t)
	code := w.code(w.shop("Shop"))
	r := w.pair(t, code[:4]+" "+code[4:], " Phone ")
	if r.Device.Name != "Phone" || r.Shop.Name != "Shop" || r.Store != w.vault.ID() || len(r.Token) < 43 {
		t.Errorf("joined as %+v", r)
	}
	w.refusedPair(t, code, wire.CodeWrongCode)
}

func TestPair_many_at_once_with_one_code_let_in_one(t *testing.T) {
	w := newWorld(t)
	code := w.code(w.shop("Shop"))
	var wait sync.WaitGroup
	var mu sync.Mutex
	joined := 0
	for range 5 {
		wait.Go(func() {
			if _, err := remote.Pair(t.Context(), w.http.URL, code, "Phone"); err == nil {
				mu.Lock()
				joined++
				mu.Unlock()
			}
		})
	}
	wait.Wait()
	if joined != 1 {
		t.Errorf("%d devices joined with one code", joined)
	}
}

func TestPair_a_code_ends_after_ten_minutes(t *testing.T) {
	w := newWorld(t)
	shop := w.shop("Shop")
	early, late := w.code(shop), w.code(shop)
	w.pass(server.CodeLife - time.Second)
	w.pair(t, early, "Phone")
	w.pass(2 * time.Second)
	w.refusedPair(t, late, wire.CodeWrongCode)
}

// Guessing is stopped after five wrong codes, and neither a restart nor the right code ends that.
func TestPair_wrong_codes_lock_the_address_also_over_a_restart(t *testing.T) {
	w := newWorld(t)
	shop := w.shop("Shop")
	code := w.code(shop)
	for i := range 5 {
		w.refusedPair(t, wrongCode(code, i), wire.CodeWrongCode)
		w.pass(timeBetween)
	}
	w.refusedPair(t, code, wire.CodeLocked)
	w.restart()
	w.refusedPair(t, code, wire.CodeLocked)
	w.pass(10 * time.Minute)
	w.pair(t, w.code(shop), "Phone")
}

// A right code clears the count, so a shop that types badly now and then is not locked out.
func TestPair_a_right_code_forgives_wrong_ones(t *testing.T) {
	w := newWorld(t)
	shop := w.shop("Shop")
	for range 3 {
		code := w.code(shop)
		for i := range 4 {
			w.refusedPair(t, wrongCode(code, i), wire.CodeWrongCode)
			w.pass(timeBetween)
		}
		w.pair(t, code, "Phone")
	}
}

// While pairing is locked, devices in the shop work on.
func TestPair_a_lock_does_not_touch_devices(t *testing.T) {
	w := newWorld(t)
	p := w.join(w.shop("Shop"), "Phone")
	for i := range 7 {
		_, _ = remote.Pair(t.Context(), w.http.URL, wrongCode("", i), "Guess")
		w.pass(timeBetween)
	}
	w.refusedPair(t, "12345678", wire.CodeLocked)
	if _, err := p.Devices(t.Context()); err != nil {
		t.Error(err)
	}
}

// A clock that was years ahead when the lock closed must not lock the owner out for years.
func TestPair_a_lock_set_by_a_wrong_clock_opens_when_the_clock_is_right_again(t *testing.T) {
	w := newWorld(t)
	shop := w.shop("Shop")
	right := w.clock()
	w.pass(10 * 365 * 24 * time.Hour)
	for i := range 5 {
		w.refusedPair(t, wrongCode("", i), wire.CodeWrongCode)
		w.pass(timeBetween)
	}
	w.refusedPair(t, "12345678", wire.CodeLocked)
	w.pass(right.Sub(w.clock()))
	w.restart() // the paces in memory are of the wrong time too
	w.pair(t, w.code(shop), "Phone")
}

func TestPair_refuses_what_is_no_code_or_no_name_and_keeps_the_code(t *testing.T) {
	w := newWorld(t)
	code := w.code(w.shop("Shop"))
	for _, c := range []struct{ code, name string }{
		{"", "Phone"}, {"1234567", "Phone"}, {"123456789", "Phone"}, {"1234567a", "Phone"}, {"１２３４５６７８", "Phone"},
		{code, ""}, {code, "   "}, {code, strings.Repeat("n", 200)}, {code, "bell\a"},
	} {
		w.pass(timeBetween)
		_, err := remote.Pair(t.Context(), w.http.URL, c.code, c.name)
		if !errors.Is(err, &wire.Error{Code: wire.CodeMalformed}) {
			t.Errorf("code %q, name %q: %v", c.code, c.name, err)
		}
	}
	w.pair(t, code, "Phone")
}

// A device can let the next one in, and the link is the one its own browser knows.
func TestMakeCode_lets_another_device_in(t *testing.T) {
	w := newWorld(t)
	p := w.join(w.shop("Shop"), "Phone")
	c, err := p.MakeCode(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if want := w.http.URL + "/#join=" + c.Code; c.Link != want {
		t.Errorf("link %q, want %q", c.Link, want)
	}
	if len(c.QR) < 21 || len(c.QR[0]) != len(c.QR) || !strings.HasPrefix(c.QR[0], "1111111") {
		t.Errorf("no QR code: %v", c.QR)
	}
	if ends := time.UnixMilli(c.Expires); !ends.Equal(w.clock().Add(server.CodeLife)) {
		t.Errorf("ends %v", ends)
	}
	w.pair(t, c.Code, "Tablet")
	list, err := p.Devices(t.Context())
	if err != nil || len(list.Devices) != 2 || !list.Devices[0].This || list.Devices[1].This || list.Devices[1].Name != "Tablet" {
		t.Errorf("devices %+v, %v", list, err)
	}
}

// A runaway device is told to wait before the vault is full of codes.
func TestMakeCode_is_limited(t *testing.T) {
	w := newWorld(t)
	p := w.join(w.shop("Shop"), "Phone")
	for range 40 {
		if _, err := p.MakeCode(t.Context()); errors.Is(err, &wire.Error{Code: wire.CodeTooMany}) {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
	t.Error("40 codes in a moment")
}

func TestDevices_renamed_and_revoked(t *testing.T) {
	w := newWorld(t)
	shop := w.shop("Shop")
	p, lost := w.join(shop, "Phone"), w.join(shop, "Lost")
	list, err := p.RenameDevice(t.Context(), lost.id, "Found")
	if err != nil || list.Devices[1].Name != "Found" {
		t.Fatalf("%+v, %v", list, err)
	}
	list, err = p.RevokeDevice(t.Context(), lost.id)
	if err != nil || list.Devices[1].Revoked != w.clock().UnixMilli() {
		t.Fatalf("%+v, %v", list, err)
	}
	if _, err := lost.Devices(t.Context()); !errors.Is(err, &wire.Error{Code: wire.CodeRevoked}) {
		t.Errorf("the device that was put out gets %v", err)
	}
	for _, id := range []string{"nobody", lost.id + "0", ""} {
		if _, err := p.RevokeDevice(t.Context(), id); !errors.Is(err, &wire.Error{Code: wire.CodeNotFound}) {
			t.Errorf("revoking %q: %v", id, err)
		}
	}
	log, err := w.vault.AuditLog(t.Context(), shop, 10)
	if err != nil {
		t.Fatal(err)
	}
	var events []string
	for _, e := range log {
		events = append(events, e.Event)
	}
	if got := strings.Join(events, ", "); got != "device revoked, device renamed, device joined, code made, device joined, code made" {
		t.Errorf("the audit log has %s", got)
	}
}
