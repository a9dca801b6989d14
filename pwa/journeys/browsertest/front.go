//go:build browser

package browsertest

import (
	"bytes"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"strconv"
	"strings"
	"sync"
	"testing"
)

// Front stands before a [Server] and can make a later build out of its files: the version, wherever it is written, also inside
// the program, becomes another of the same length.
type Front struct {
	t      testing.TB
	server *httptest.Server
	old    string

	mu     sync.Mutex
	later  string // version to serve; "" is the server's own
	broken string // path that answers 503; "" is none
}

// NewFront starts one that changes nothing yet.
func NewFront(t testing.TB, s *Server) *Front {
	t.Helper()
	behind, err := url.Parse(s.Origin())
	if err != nil {
		t.Fatal(err)
	}
	f := &Front{t: t, old: versionOf(t, s)}
	proxy := &httputil.ReverseProxy{
		Rewrite:        func(r *httputil.ProxyRequest) { r.SetURL(behind); r.Out.Host = r.In.Host; f.ask(r.Out) },
		ModifyResponse: f.change,
		ErrorHandler:   func(w http.ResponseWriter, _ *http.Request, _ error) { hangUp(w) },
	}
	f.server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if f.isBroken(r.URL.Path) {
			http.Error(w, "broken for a test", http.StatusServiceUnavailable)
			return
		}
		proxy.ServeHTTP(w, r)
	}))
	t.Cleanup(f.server.Close)
	return f
}

// Origin is the scheme, host and port the app is served from.
func (f *Front) Origin() string { return f.server.URL }

// Version is the version of the server's own build.
func (f *Front) Version() string { return f.old }

// Serve serves a later build from now on, and returns its version.
func (f *Front) Serve(n int) string {
	f.mu.Lock()
	defer f.mu.Unlock()
	later := fmt.Sprintf("later%d", n)
	f.later = later + strings.Repeat("0", len(f.old)-len(later))
	return f.later
}

// Break has one path answer 503 from now on; "" mends it.
func (f *Front) Break(path string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.broken = path
}

// Down ends the front: nobody answers at its address any more.
func (f *Front) Down() { f.server.Close() }

func (f *Front) isBroken(path string) bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.broken != "" && f.broken == path
}

func (f *Front) serving() string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.later
}

// ask asks for plain files whose version can be changed, and never whether an older copy is still good.
func (f *Front) ask(r *http.Request) {
	if f.serving() != "" {
		r.Header.Set("Accept-Encoding", "identity")
		r.Header.Del("If-None-Match")
	}
}

func (f *Front) change(r *http.Response) error {
	later := f.serving()
	if later == "" {
		return nil
	}
	body, err := io.ReadAll(r.Body)
	if err != nil {
		return err
	}
	body = bytes.ReplaceAll(body, []byte(f.old), []byte(later))
	r.Body = io.NopCloser(bytes.NewReader(body))
	r.Header.Set("Content-Length", strconv.Itoa(len(body)))
	r.Header.Set("ETag", strconv.Quote(later+r.Request.URL.Path))
	return nil
}

// hangUp ends the connection like a server that is gone.
func hangUp(w http.ResponseWriter) {
	if c, _, err := http.NewResponseController(w).Hijack(); err == nil {
		c.Close()
	}
}

// versionOf reads the version out of the worker's script, where the name of its cache holds it.
func versionOf(t testing.TB, s *Server) string {
	t.Helper()
	answer, err := asking.Get(s.Origin() + "/app-worker.js")
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	script, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(script), `prefix + "`)
	version, _, end := strings.Cut(rest, `"`)
	if !ok || !end || len(version) < 8 {
		t.Fatal("the worker's script does not name its version where it used to")
	}
	return version
}
