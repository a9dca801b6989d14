package server_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
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

// zipped packs text as a client may.
func zipped(text []byte) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	_, _ = z.Write(text) // a bytes.Buffer takes everything
	_ = z.Close()
	return b.Bytes()
}

// oneShop is a vault with one shop and one device.
func oneShop(t *testing.T) (*world, phone) {
	w := newWorld(t)
	return w, w.join(w.shop("Shop"), "Phone")
}

const emptySync = `{"dev":"01890000-0000-7000-8000-000000000000","since":{"store":"","seq":0,"chain":""}}`

func TestServer_refuses_bodies_that_are_not_what_they_must_be(t *testing.T) {
	w, p := oneShop(t)
	gz := map[string]string{"Content-Encoding": "gzip"}
	for _, c := range []struct {
		name   string
		header map[string]string
		body   []byte
		want   wire.Code
	}{
		{"not JSON", nil, []byte("hello"), wire.CodeMalformed},
		{"cut off", nil, []byte(emptySync[:40]), wire.CodeMalformed},
		{"two values", nil, []byte(emptySync + emptySync), wire.CodeMalformed},
		{"empty", nil, []byte{}, wire.CodeMalformed},
		{"a list", nil, []byte("[]"), wire.CodeMalformed},
		{"deep nesting", nil, []byte(strings.Repeat("[", 200_000)), wire.CodeMalformed},
		{"a form", map[string]string{"Content-Type": "application/x-www-form-urlencoded"}, []byte("a=b"), wire.CodeMediaType},
		{"plain text", map[string]string{"Content-Type": "text/plain"}, []byte(emptySync), wire.CodeMediaType},
		{"no type", map[string]string{"Content-Type": ""}, []byte(emptySync), wire.CodeMediaType},
		{"another charset", map[string]string{"Content-Type": "application/json; charset=utf-16"}, []byte(emptySync), wire.CodeMediaType},
		{"brotli", map[string]string{"Content-Encoding": "br"}, []byte(emptySync), wire.CodeMediaType},
		{"twice packed", map[string]string{"Content-Encoding": "gzip, gzip"}, zipped(zipped([]byte(emptySync))), wire.CodeMediaType},
		{"not gzip", gz, []byte(emptySync), wire.CodeMalformed},
		{"gzip cut off", gz, zipped([]byte(emptySync))[:30], wire.CodeMalformed},
		{"gzip damaged", gz, append(zipped([]byte(emptySync))[:20], make([]byte, 40)...), wire.CodeMalformed},
		{"too long", nil, bytes.Repeat([]byte(" "), wire.MaxRequest+1), wire.CodeTooLarge},
		{"small, but unpacks to 64 MB", gz, bomb(t), wire.CodeTooLarge},
		{"no device", nil, []byte(`{"dev":"","since":{"store":"","seq":0,"chain":""}}`), wire.CodeMalformed},
		{"too many ops", nil, []byte(strings.Replace(emptySync, "}}", `},"ops":[`+strings.Repeat("{},", wire.MaxOps)+"{}]}", 1)), wire.CodeTooLarge},
	} {
		resp, refused, body := w.ask(asked{method: "POST", path: "/sync", token: p.token, header: c.header, body: c.body})
		if refused.Code != c.want {
			t.Errorf("%s: %d %s, want %s", c.name, resp.StatusCode, body, c.want)
		}
	}
	if resp, _, body := w.ask(asked{method: "POST", path: "/sync", token: p.token, body: []byte(emptySync)}); resp.StatusCode != 200 {
		t.Errorf("a good one gets %d %s: the others prove nothing", resp.StatusCode, body)
	}
}

// bomb is 64 MB of noughts, packed to a few hundred kB.
func bomb(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	z, _ := gzip.NewWriterLevel(&b, gzip.BestSpeed)
	block := make([]byte, 1<<20)
	for range 64 {
		_, _ = z.Write(block)
	}
	_ = z.Close()
	if b.Len() > wire.MaxRequest {
		t.Fatalf("%d bytes: refused before it is unpacked, which is not what is tested", b.Len())
	}
	return b.Bytes()
}

func TestServer_bad_addresses_find_nothing(t *testing.T) {
	w, p := oneShop(t)
	for _, path := range []string{
		"/blob/..%2f..%2f..%2fetc%2fpasswd", "/blob/../../../../etc/passwd", "/blob/" + strings.Repeat("a", 63), "/blob/" + strings.Repeat("A", 64),
		"/blob/" + strings.Repeat("a", 64) + "/../state", "/blob/%00", "/blob/" + strings.Repeat("a", 60) + "%2e%2e%2f%2e", "/blob//", "/blob/",
		"/blob/..%5c..%5cvault.bolt", "/blob/" + strings.Repeat("a", 64) + ".tmp", "/blob/" + strings.Repeat("a", 64), "/sync/", "/devices/a/b", "/", "", "/../v2/sync",
	} {
		for _, method := range []string{"GET", "PUT"} {
			r := &http.Request{Method: method, Header: http.Header{"Authorization": {"Bearer " + p.token}, "Content-Type": {"application/octet-stream"}}}
			r.Body = io.NopCloser(strings.NewReader("x"))
			parsed, err := http.NewRequest(method, w.http.URL+wire.Prefix+path, nil)
			if err != nil {
				t.Fatal(err)
			}
			r.URL, r.RemoteAddr = parsed.URL, "192.0.2.1:1"
			out := httptest.NewRecorder()
			w.srv.ServeHTTP(out, r)
			if out.Code != 404 && out.Code != 405 && out.Code != 400 {
				t.Errorf("%s %s: %d %s", method, path, out.Code, out.Body)
			}
		}
	}
	if resp, refused, _ := w.ask(asked{method: "GET", path: "/sync", token: p.token}); refused.Code != wire.CodeMethod || resp.StatusCode != 405 {
		t.Errorf("GET /sync: %d", resp.StatusCode)
	}
}

// An op that breaks a rule is refused by itself; the good ones beside it are stored.
func TestSync_one_bad_op_blocks_nothing(t *testing.T) {
	w, p := oneShop(t)
	var m opMaker
	good := m.op(t, "good")
	text, err := json.Marshal(good)
	if err != nil {
		t.Fatal(err)
	}
	future := m.op(t, "made by a build of the year 2040")
	future.Kind, future.Schema = "hologram", 99
	futureText, _ := json.Marshal(future)
	body := fmt.Sprintf(`{"dev":%q,"since":{"store":"","seq":0,"chain":""},"ops":[{"op":7},%s,{"op":%q},null,%s]}`, m.dev, text, good.Rec, futureText)
	_, _, answer := w.ask(asked{method: "POST", path: "/sync", token: p.token, body: []byte(body)})
	var r wire.SyncReply
	if err := json.Unmarshal(answer, &r); err != nil || len(r.Acks) != 5 {
		t.Fatalf("%s: %v", answer, err)
	}
	for i, want := range []wire.Status{wire.Rejected, wire.Stored, wire.Rejected, wire.Rejected, wire.Stored} {
		if r.Acks[i].Status != want || want == wire.Rejected && r.Acks[i].Reason == "" {
			t.Errorf("op %d: %+v, want %s and a reason if rejected", i, r.Acks[i], want)
		}
	}
	if got := p.pull(t, m.dev); !strings.Contains(got, string(futureText)) || !strings.Contains(got, string(text)) {
		t.Errorf("a kind and schema of the future must come back as they were sent: %s", got)
	}
}

func TestSync_a_replay_changes_nothing_and_other_content_under_the_same_id_is_rejected(t *testing.T) {
	_, p := oneShop(t)
	var m opMaker
	op := m.op(t, "once")
	first := p.push(t, m.dev, op)
	again := p.push(t, m.dev, op, op)
	if first.Acks[0].Status != wire.Stored || again.Acks[0].Status != wire.Held || again.Acks[1].Status != wire.Held {
		t.Errorf("%+v, then %+v", first.Acks, again.Acks)
	}
	forged := op
	forged.Body = []byte("twice")
	r, err := p.Sync(t.Context(), wire.SyncRequest{Dev: m.dev, Ops: []storage.Op{forged}})
	if err != nil || r.Acks[0].Status != wire.Rejected {
		t.Errorf("%+v, %v", r.Acks, err)
	}
	if got := p.pull(t, m.dev); strings.Count(got, "\n") != 1 || !strings.Contains(got, "once") {
		t.Errorf("the vault now holds %s", got)
	}
}

func TestSync_clocks_ten_years_off_are_no_reason_to_refuse(t *testing.T) {
	w, p := oneShop(t)
	var m opMaker
	past, ahead := m.op(t, "past"), m.op(t, "ahead")
	past.HLC.Milli, past.At = w.clock().AddDate(-10, 0, 0).UnixMilli(), "2016-03-01T08:00:00.000Z"
	ahead.HLC.Milli, ahead.At = w.clock().AddDate(10, 0, 0).UnixMilli(), "2036-03-01T08:00:00.000Z"
	p.push(t, m.dev, past, ahead)
	if got := p.pull(t, m.dev); strings.Count(got, "\n") != 2 {
		t.Errorf("got %s", got)
	}
}

func TestSync_a_checkpoint_of_another_vault_or_another_past_is_a_mismatch(t *testing.T) {
	w, p := oneShop(t)
	var m opMaker
	r := p.push(t, m.dev, m.op(t, "one"), m.op(t, "two"))
	other := r.Next
	for name, spoil := range map[string]func(){
		"another store":   func() { other.Store = strings.Repeat("0", len(other.Store)) },
		"another chain":   func() { other.Chain = strings.Repeat("0", len(other.Chain)) },
		"ahead":           func() { other.Seq = 1000 },
		"no chain at all": func() { other.Chain = "" },
		"far ahead":       func() { other.Seq = 1<<64 - 1 },
	} {
		other = r.Next
		spoil()
		got, err := p.Sync(t.Context(), wire.SyncRequest{Dev: m.dev, Since: other})
		if err != nil || !got.Mismatch || len(got.Ops) > 0 || got.Store != w.vault.ID() {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
	got, err := p.Sync(t.Context(), wire.SyncRequest{Dev: m.dev, Since: r.Next})
	if err != nil || got.Mismatch || len(got.Ops) > 0 {
		t.Errorf("the right one: %+v, %v", got, err)
	}
}

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

func TestBlob_pieces_in_order_and_with_the_right_content_only(t *testing.T) {
	w, p := oneShop(t)
	var m opMaker
	photo := bytes.Repeat([]byte("0123456789abcdef"), wire.MaxPiece/8) // two pieces
	h := storage.HashOf(photo)
	put := func(offset int64, data []byte, last bool, want wire.Code) {
		t.Helper()
		err := p.PutPiece(t.Context(), h, offset, data, last)
		if want == "" && err != nil || want != "" && !errors.Is(err, &wire.Error{Code: want}) {
			t.Errorf("at %d: %v, want %q", offset, err, want)
		}
	}
	put(0, photo[:wire.MaxPiece], false, wire.CodeNotFound) // no op names it yet
	p.push(t, m.dev, m.op(t, "with a photo", h))
	put(0, photo[:wire.MaxPiece+1], false, wire.CodeTooLarge)
	put(5, photo[5:100], false, wire.CodeOffset)
	put(0, photo[:wire.MaxPiece], false, "")
	put(wire.MaxPiece+1, photo[wire.MaxPiece+1:], true, wire.CodeOffset)
	if s, err := p.BlobState(t.Context(), h); err != nil || s.Have != wire.MaxPiece || s.Complete {
		t.Errorf("state %+v, %v", s, err)
	}
	if _, err := p.GetPiece(t.Context(), h, 0); !errors.Is(err, &wire.Error{Code: wire.CodeNotFound}) {
		t.Errorf("half a photo is handed out: %v", err)
	}
	put(wire.MaxPiece, append([]byte("x"), photo[wire.MaxPiece+1:]...), true, wire.CodeBadHash)
	put(0, photo[:wire.MaxPiece], false, "")
	put(wire.MaxPiece, photo[wire.MaxPiece:], true, "")
	var got []byte
	for int64(len(got)) < int64(len(photo)) {
		piece, err := p.GetPiece(t.Context(), h, int64(len(got)))
		if err != nil || len(piece.Data) == 0 || piece.Size != int64(len(photo)) {
			t.Fatalf("%d bytes of %d, %v", len(piece.Data), piece.Size, err)
		}
		got = append(got, piece.Data...)
	}
	if !bytes.Equal(got, photo) {
		t.Error("the photo came back changed")
	}
	for _, query := range []string{"?offset=-1", "?offset=x", "?offset=99999999999999999999", "?offset=0&last=maybe"} {
		_, refused, body := w.ask(asked{method: "PUT", path: wire.BlobPath(h) + query, token: p.token, body: []byte("x"),
			header: map[string]string{"Content-Type": "application/octet-stream"}})
		if refused.Code != wire.CodeMalformed {
			t.Errorf("%s: %s", query, body)
		}
	}
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
