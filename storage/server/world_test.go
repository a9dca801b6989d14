package server_test

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/remote"
	"torchside/storage/server"
	"torchside/storage/vault"
	"torchside/storage/vault/memvault"
	"torchside/storage/wire"
)

// world is a vault in memory with a server before it and a clock that tests set.
type world struct {
	t     *testing.T
	disk  *memvault.Disk
	vault vault.Vault
	srv   *server.Server
	http  *httptest.Server
	log   *syncBuffer
	allow []string // origins of other sites

	mu  sync.Mutex
	now time.Time
}

type syncBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *syncBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *syncBuffer) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

func newWorld(t *testing.T) *world {
	t.Helper()
	disk, err := memvault.NewDisk(rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	w := &world{t: t, disk: disk, log: &syncBuffer{}, now: time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC)}
	w.restart()
	t.Cleanup(func() { w.http.Close() })
	return w
}

// restart opens the vault anew and puts a new server before it, as after the end of the process.
func (w *world) restart() {
	if w.http != nil {
		w.http.Close()
	}
	w.vault = w.disk.Open()
	w.srv = server.New(server.Config{
		Vault: w.vault, Log: slog.New(slog.NewJSONHandler(w.log, &slog.HandlerOptions{Level: slog.LevelDebug})), Now: w.clock, Allow: w.allow,
	})
	w.http = httptest.NewServer(w.srv)
}

func (w *world) clock() time.Time {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.now
}

func (w *world) pass(d time.Duration) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.now = w.now.Add(d)
}

func (w *world) shop(name string) vault.ShopID {
	w.t.Helper()
	s, err := w.vault.CreateShop(context.Background(), name, w.clock())
	if err != nil {
		w.t.Fatal(err)
	}
	return s.ID
}

func (w *world) code(shop vault.ShopID) string {
	w.t.Helper()
	code, _, err := server.IssueCode(context.Background(), w.vault, shop, "", w.clock())
	if err != nil {
		w.t.Fatal(err)
	}
	return code
}

// phone is a device that has joined.
type phone struct {
	*remote.Client
	token string
	id    string
}

func (w *world) join(shop vault.ShopID, name string) phone {
	w.t.Helper()
	r, err := remote.Pair(w.t.Context(), w.http.URL, w.code(shop), name)
	if err != nil {
		w.t.Fatal(err)
	}
	return phone{remote.New(w.http.URL, r.Token), r.Token, r.Device.ID}
}

// asked is one raw request.
type asked struct {
	method, path string
	token        string // as "Bearer …" if not empty
	header       map[string]string
	body         []byte
}

// ask sends it and gives status, refusal (if one) and body.
func (w *world) ask(q asked) (*http.Response, wire.Error, []byte) {
	w.t.Helper()
	r, err := http.NewRequestWithContext(w.t.Context(), q.method, w.http.URL+wire.Prefix+q.path, bytes.NewReader(q.body))
	if err != nil {
		w.t.Fatal(err)
	}
	if q.token != "" {
		r.Header.Set("Authorization", "Bearer "+q.token)
	}
	if q.body != nil {
		r.Header.Set("Content-Type", "application/json")
	}
	for name, value := range q.header {
		r.Header.Set(name, value)
	}
	resp, err := http.DefaultTransport.RoundTrip(r)
	if err != nil {
		w.t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		w.t.Fatal(err)
	}
	var refused wire.Error
	if resp.StatusCode >= 400 {
		if err := json.Unmarshal(body, &refused); err != nil || refused.Code == "" || refused.Message == "" {
			w.t.Errorf("%s %s: the refusal %q is not in its form (%v)", q.method, q.path, body, err)
		}
		if refused.Code.HTTP() != resp.StatusCode {
			w.t.Errorf("%s %s: code %q came with status %d", q.method, q.path, refused.Code, resp.StatusCode)
		}
	}
	return resp, refused, body
}

// opMaker makes ops as a device does, one new record each.
type opMaker struct {
	dev storage.ID
	n   uint64
}

func (m *opMaker) op(t *testing.T, body string, blobs ...storage.Hash) storage.Op {
	t.Helper()
	id := func() storage.ID {
		id, err := storage.NewID(storage.HLC{Milli: 1_770_000_000_000 + int64(m.n)}, rand.Reader)
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	if m.dev == "" {
		m.dev = id()
	}
	m.n++
	return storage.Op{
		ID: id(), Rec: id(), Kind: "sheet", Schema: 1, Dev: m.dev, N: m.n,
		HLC: storage.HLC{Milli: 1_770_000_000_000 + int64(m.n)}, At: "2026-03-01T08:00:00.000+01:00",
		Body: []byte(body), Blobs: blobs,
	}
}

// push sends ops from nothing and gives the reply.
func (p phone) push(t *testing.T, dev storage.ID, ops ...storage.Op) wire.SyncReply {
	t.Helper()
	r, err := p.Sync(t.Context(), wire.SyncRequest{Dev: dev, Ops: ops})
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range r.Acks {
		if a.Status == wire.Rejected {
			t.Fatalf("rejected: %+v", a)
		}
	}
	return r
}

// pull gives everything the shop holds, as text.
func (p phone) pull(t *testing.T, dev storage.ID) string {
	t.Helper()
	var all strings.Builder
	q := wire.SyncRequest{Dev: dev}
	for {
		r, err := p.Sync(t.Context(), q)
		if err != nil {
			t.Fatal(err)
		}
		for _, op := range r.Ops {
			fmt.Fprintln(&all, string(op))
		}
		if q.Since = r.Next; !r.More {
			return all.String()
		}
	}
}
