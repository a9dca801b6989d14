package server_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/remote"
	"torchside/storage/server"
	"torchside/storage/vault"
	"torchside/storage/wire"
)

func TestServer_a_full_disk_is_said_and_stores_nothing_half(t *testing.T) {
	w, p := oneShop(t)
	var m opMaker
	photo := []byte("a photo")
	p.push(t, m.dev, m.op(t, "before", storage.HashOf(photo)))
	w.disk.SetFull(true)
	_, err := p.Sync(t.Context(), wire.SyncRequest{Dev: m.dev, Ops: []storage.Op{m.op(t, "while full"), m.op(t, "while full")}})
	full := &wire.Error{Code: wire.CodeFull}
	if !errors.Is(err, full) {
		t.Errorf("pushing: %v", err)
	}
	if err := p.PutPiece(t.Context(), storage.HashOf(photo), 0, photo, true); !errors.Is(err, full) {
		t.Errorf("a photo: %v", err)
	}
	resp, _, _ := w.ask(asked{method: "POST", path: "/codes", token: p.token})
	if resp.StatusCode != 503 {
		t.Errorf("a code: %d", resp.StatusCode)
	}
	if got := p.pull(t, m.dev); strings.Contains(got, "while full") || !strings.Contains(got, "before") {
		t.Errorf("the vault holds %s", got)
	}
	w.disk.SetFull(false)
	p.push(t, m.dev, m.op(t, "after"))
}

// A client that sends a byte now and then, or nothing, is cut off; others are served meanwhile.
func TestServer_clients_that_do_not_move_are_cut_off(t *testing.T) {
	w, p := oneShop(t)
	w.srv.SetStall(50 * time.Millisecond)
	conn, err := net.Dial("tcp", strings.TrimPrefix(w.http.URL, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	_, err = fmt.Fprintf(conn, "POST %s/sync HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer %s\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n\r\n{", wire.Prefix, p.token)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := p.Devices(t.Context()); err != nil {
		t.Errorf("another request meanwhile: %v", err)
	}
	_ = conn.SetReadDeadline(time.Now().Add(time.Minute)) // so that a server that never closes fails the test
	answer, err := io.ReadAll(conn)
	if err != nil || !strings.HasPrefix(string(answer), "HTTP/1.1 400") {
		t.Errorf("%q, %v", answer, err)
	}
}

// broken is a vault whose disk cannot be read.
type broken struct{ vault.Vault }

var errBroken = errors.New("/srv/vault.bolt: input/output error")

func (broken) Push(context.Context, vault.ShopID, []storage.Op) ([]vault.Ack, error) {
	return nil, errBroken
}

// Why the vault failed is for the log: it names files, which are no stranger's business.
func TestServer_what_broke_is_in_the_log_and_not_in_the_answer(t *testing.T) {
	w, p := oneShop(t)
	srv := httptest.NewServer(server.New(server.Config{Vault: broken{w.vault}, Log: slog.New(slog.NewJSONHandler(w.log, nil)), Now: w.clock}))
	var m opMaker
	_, err := remote.New(srv.URL, p.token).Sync(t.Context(), wire.SyncRequest{Dev: m.op(t, "x").Dev, Ops: []storage.Op{m.op(t, "y")}})
	if !errors.Is(err, &wire.Error{Code: wire.CodeInternal}) || strings.Contains(err.Error(), "vault.bolt") {
		t.Errorf("answered %v", err)
	}
	srv.Close() // waits until the last line is written
	if !strings.Contains(w.log.String(), errBroken.Error()) {
		t.Errorf("the log does not say what broke: %s", w.log)
	}
}

// Neither tokens nor codes nor what a shop writes may be in the log.
func TestServer_the_log_holds_no_secrets(t *testing.T) {
	w, p := oneShop(t)
	var m opMaker
	photo := []byte("a photo")
	p.push(t, m.dev, m.op(t, "the content of a sheet", storage.HashOf(photo)))
	_ = p.PutPiece(t.Context(), storage.HashOf(photo), 0, []byte("wrong"), true)
	c, err := p.MakeCode(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	joined := w.pair(t, c.Code, "Tablet")
	w.refusedPair(t, c.Code, wire.CodeWrongCode)
	w.disk.SetFull(true)
	_, _ = p.MakeCode(t.Context())
	w.http.Close() // waits until the last line is written
	log := w.log.String()
	for _, secret := range []string{p.token, joined.Token, c.Code, "the content of a sheet", storage.HashOf(photo), "Tablet"} {
		if strings.Contains(log, secret) {
			t.Errorf("the log holds %q", secret)
		}
	}
	for _, line := range strings.Split(strings.TrimSpace(log), "\n") {
		if !json.Valid([]byte(line)) {
			t.Errorf("not JSON: %s", line)
		}
	}
	for _, part := range []string{`"route":"POST /sync","status":200`, `"code":"wrong_code"`, `"level":"ERROR"`, `"code":"bad_hash"`} {
		if !strings.Contains(log, part) {
			t.Errorf("the log lacks %s: %s", part, log)
		}
	}
}
