//go:build browser && !js

package pwa_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"github.com/andybalholm/brotli"
	"github.com/chromedp/chromedp"

	"torchside/pwa"
	"torchside/web"
)

// shop is a server whose version can be changed, whose files can fail, and which can be cut off,
// all at one address.
type shop struct {
	t       *testing.T
	wasm    []byte
	address string

	mu      sync.Mutex
	handler http.Handler
	failing string   // this address answers 503
	posts   []string // what arrived of what only the server can tell
	server  *http.Server
}

var registerRoutes = sync.OnceFunc(pwa.Register)

// newShop starts a server. The program it sends is a stand-in: most tests are about the worker,
// which does not look into files.
func newShop(t *testing.T, version string) *shop {
	t.Helper()
	return newShopWith(t, version, []byte("not a program"))
}

func newShopWith(t *testing.T, version string, wasm []byte) *shop {
	t.Helper()
	registerRoutes()
	s := &shop{t: t, wasm: wasm, address: "127.0.0.1:0"}
	s.publish(version)
	s.connect()
	t.Cleanup(s.cut)
	return s
}

// publish puts another version on the server.
func (s *shop) publish(version string) {
	s.t.Helper()
	files := fstest.MapFS{
		"dist/version":     {Data: []byte(version)},
		"dist/app.wasm.br": {Data: pack(func(w io.Writer) io.WriteCloser { return brotli.NewWriterLevel(w, 1) }, s.wasm)},
		"dist/app.wasm.gz": {Data: pack(func(w io.Writer) io.WriteCloser { return gzip.NewWriter(w) }, s.wasm)},
	}
	copyStatic(s.t, files)
	site, err := web.Open(files)
	if err != nil {
		s.t.Fatal(err)
	}
	var static []string
	for _, a := range site.Addresses("/web/") {
		if a != web.WasmAddress {
			static = append(static, a)
		}
	}
	orders, _ := site.Body("/web/orders.json")
	built, err := pwa.Build(pwa.Config{Version: version, WasmLength: site.WasmLength, Static: static, Orders: orders})
	if err != nil {
		s.t.Fatal(err)
	}
	for a, body := range built {
		if err := site.Add(a, body); err != nil {
			s.t.Fatal(err)
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.handler = pwa.WithSecurityHeaders(site)
}

func pack(encoder func(io.Writer) io.WriteCloser, body []byte) []byte {
	var b bytes.Buffer
	w := encoder(&b)
	_, _ = w.Write(body) // a bytes.Buffer takes everything
	_ = w.Close()
	return b.Bytes()
}

func copyStatic(t *testing.T, files fstest.MapFS) {
	t.Helper()
	err := fs.WalkDir(web.Embedded(), "static", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		body, err := fs.ReadFile(web.Embedded(), name)
		files[name] = &fstest.MapFile{Data: body}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// serverOnly are the beginnings of addresses that only the server can answer.
var serverOnly = []string{"/api/", "/healthz", "/metrics"}

// ServeHTTP answers as the server does, and notes what arrives of what only the server can tell.
func (s *shop) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	handler, failing := s.handler, s.failing
	api := slices.ContainsFunc(serverOnly, func(start string) bool { return strings.HasPrefix(r.URL.Path, start) })
	if api {
		s.posts = append(s.posts, r.Method+" "+r.URL.Path)
	}
	s.mu.Unlock()
	switch {
	case api:
		w.WriteHeader(http.StatusNoContent)
	case r.URL.Path == failing:
		http.Error(w, "not now", http.StatusServiceUnavailable)
	default:
		handler.ServeHTTP(w, r)
	}
}

func (s *shop) fail(address string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.failing = address
}

func (s *shop) connect() {
	s.t.Helper()
	l, err := net.Listen("tcp", s.address)
	if err != nil {
		s.t.Fatal(err)
	}
	s.address = l.Addr().String()
	s.server = &http.Server{Handler: s}
	go s.server.Serve(l) // ends when the cable is cut
}

func (s *shop) cut() { _ = s.server.Close() }

// newPhone is a browser with a profile of its own.
func newPhone(t *testing.T, more ...chromedp.ExecAllocatorOption) context.Context {
	t.Helper()
	opts := append([]chromedp.ExecAllocatorOption{}, chromedp.DefaultExecAllocatorOptions[:]...)
	opts = append(opts, chromedp.Flag("disable-dev-shm-usage", true))
	if path := os.Getenv("CHROME"); path != "" {
		opts = append(opts, chromedp.ExecPath(path))
	}
	if os.Geteuid() == 0 {
		opts = append(opts, chromedp.NoSandbox) // root may not use the sandbox
	}
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), append(opts, more...)...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	ctx, cancel = context.WithTimeout(ctx, time.Minute)
	t.Cleanup(cancel)
	return ctx
}

// open goes to an address and waits for the page.
func open(t *testing.T, phone context.Context, s *shop, path string) {
	t.Helper()
	if err := chromedp.Do(phone, chromedp.Navigate("http://"+s.address+path)); err != nil {
		t.Fatalf("%s does not open: %v", path, err)
	}
}

// ask evaluates an expression, which may be a promise.
func ask[T any](t *testing.T, phone context.Context, expression string) T {
	t.Helper()
	answer, err := chromedp.Run(phone, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatalf("%s: %v", expression, err)
	}
	return answer
}

// install visits the shop once and waits until the worker is in charge.
func install(t *testing.T, phone context.Context, s *shop) {
	t.Helper()
	open(t, phone, s, "/")
	ask[bool](t, phone, `navigator.serviceWorker.ready.then(async () => {
		while (!navigator.serviceWorker.controller) await new Promise(r => setTimeout(r, 10));
		return true;
	})`)
}

// versionShown is the version of the page on screen, from the script that started it.
func versionShown(t *testing.T, phone context.Context) string {
	t.Helper()
	return ask[string](t, phone, `goappGetenv("GOAPP_VERSION")`)
}
