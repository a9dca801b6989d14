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
	"os/exec"
	"path/filepath"
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

func TestWorker_every_address_opens_offline(t *testing.T) {
	s, phone := newShop(t, "v1"), newPhone(t)
	install(t, phone, s)
	s.cut()
	paths := []string{"/?source=homescreen", "/journal?tab=2", "/rig/ab12"}
	for _, r := range pwa.Routes {
		paths = append(paths, r.Path)
	}
	for _, path := range paths {
		open(t, phone, s, path)
		if got := versionShown(t, phone); got != "v1" {
			t.Errorf("%s shows version %q", path, got)
		}
		if got := ask[string](t, phone, `location.pathname + location.search`); got != path {
			t.Errorf("%s has become %s", path, got)
		}
	}
}

// A file is served as itself, not as the page, also when it is opened by hand.
func TestWorker_stored_files_open_as_themselves(t *testing.T) {
	s, phone := newShop(t, "v1"), newPhone(t)
	install(t, phone, s)
	s.cut()
	open(t, phone, s, "/web/icons/icon.svg")
	if got := ask[string](t, phone, `document.documentElement.tagName`); got != "svg" {
		t.Errorf("the icon opened as %s", got)
	}
	open(t, phone, s, "/emergency")
	if got := ask[string](t, phone, `document.querySelector("h1").textContent`); got != "Emergency" {
		t.Errorf("the emergency page opened as %q", got)
	}
}

// With go-app's own worker this leaves nothing to open.
func TestWorker_an_update_that_half_fails_keeps_the_working_version(t *testing.T) {
	s, phone := newShop(t, "v1"), newPhone(t)
	install(t, phone, s)
	s.publish("v2")
	s.fail("/web/boot.js")
	state := ask[string](t, phone, `navigator.serviceWorker.getRegistration().then(r => new Promise(done => {
		r.addEventListener("updatefound", () => {
			const worker = r.installing;
			worker.addEventListener("statechange", () => done(worker.state));
		});
		r.update();
	}))`)
	if state != "redundant" {
		t.Errorf("the worker that could not store its files is %s", state)
	}
	s.cut()
	open(t, phone, s, "/bench")
	if got := versionShown(t, phone); got != "v1" {
		t.Errorf("version %q is shown", got)
	}
}

func TestWorker_an_update_is_offered_and_waits_for_the_person(t *testing.T) {
	s, phone := newShop(t, "v1"), newPhone(t)
	install(t, phone, s)
	ask[bool](t, phone, `caches.open("somebody-elses").then(() => true)`)
	s.publish("v2")
	ask[bool](t, phone, `new Promise(done => {
		addEventListener("torchside-update", () => done(true));
		navigator.serviceWorker.getRegistration().then(r => r.update());
	})`)
	if !ask[bool](t, phone, `torchsideUpdateWaiting`) {
		t.Error("a program that starts after the event cannot know of it")
	}
	time.Sleep(time.Second) // time enough to come forward unasked
	if !ask[bool](t, phone, `navigator.serviceWorker.getRegistration().then(r => r.waiting !== null)`) {
		t.Error("the new worker does not wait")
	}
	open(t, phone, s, "/leak")
	if got := versionShown(t, phone); got != "v1" {
		t.Errorf("nobody asked, and version %q is shown", got)
	}
	if !ask[bool](t, phone, `navigator.serviceWorker.ready.then(() => new Promise(done => setTimeout(() => done(torchsideUpdateWaiting), 100)))`) {
		t.Error("the next page does not offer the update")
	}
	activate(t, phone)
	if got := versionShown(t, phone); got != "v2" {
		t.Errorf("after the person's tap version %q is shown", got)
	}
	s.cut()
	open(t, phone, s, "/journal")
	if got := versionShown(t, phone); got != "v2" {
		t.Errorf("offline version %q is shown", got)
	}
	if got := ask[string](t, phone, `caches.keys().then(names => names.sort().join())`); got != "somebody-elses,torchside-v2" {
		t.Errorf("caches are %s: ours of v1 must go, others' must stay", got)
	}
}

// activate taps "restart" and waits for the page that follows.
func activate(t *testing.T, phone context.Context) {
	t.Helper()
	ask[bool](t, phone, `(window.before = true, torchsideActivate(), true)`)
	waitForReload(t, phone)
}

// waitForReload waits for a page that does not have the mark window.before.
func waitForReload(t *testing.T, phone context.Context) {
	t.Helper()
	fresh := chromedp.Evaluate[bool](`window.before === undefined && document.readyState === "complete"`)
	for range 500 {
		time.Sleep(10 * time.Millisecond)
		if loaded, err := chromedp.Run(phone, fresh); err == nil && loaded {
			return
		}
	}
	t.Fatal("the page was not loaded again")
}

// What the worker must leave alone reaches the server, or fails as it would without a worker.
func TestWorker_leaves_the_interface_and_posts_alone(t *testing.T) {
	s, phone := newShop(t, "v1"), newPhone(t)
	install(t, phone, s)
	if got := ask[int](t, phone, `fetch("/api/v1/sync", {method: "POST", body: "x"}).then(r => r.status)`); got != http.StatusNoContent {
		t.Errorf("a post got %d", got)
	}
	if got := ask[int](t, phone, `fetch("/api/v1/state").then(r => r.status)`); got != http.StatusNoContent {
		t.Errorf("a question to the server got %d", got)
	}
	if got := ask[int](t, phone, `fetch("/app.js", {method: "POST"}).then(r => r.status)`); got != http.StatusMethodNotAllowed {
		t.Errorf("a post to a stored address got %d, want the server's own refusal", got)
	}
	s.cut()
	for _, request := range []string{`fetch("/api/v1/state")`, `fetch("/app.js", {method: "POST"})`} {
		if got := ask[string](t, phone, request+`.then(() => "answered", () => "failed")`); got != "failed" {
			t.Errorf("%s was %s while the server is off", request, got)
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if got := strings.Join(s.posts, ", "); got != "POST /api/v1/sync, GET /api/v1/state" {
		t.Errorf("the server got %s", got)
	}
}

// Somebody looks whether the server is well, or what it answers, in the browser that has the app: neither the page nor a copy that
// came into the cache may stand in for the answer.
func TestWorker_never_stands_in_for_what_only_the_server_can_tell(t *testing.T) {
	s, phone := newShop(t, "v1"), newPhone(t)
	install(t, phone, s)
	addresses := []string{"/healthz", "/metrics", "/metrics?all", "/api/v1/devices", "/api", "/ca"}
	for _, a := range addresses {
		ask[bool](t, phone, `caches.open("torchside-v1").then(c => c.put("`+a+`", new Response("<p>old", {headers: {"Content-Type": "text/html"}}))).then(() => true)`)
	}
	s.cut()
	for _, a := range addresses {
		if got := ask[string](t, phone, `fetch("`+a+`").then(r => r.text(), () => "failed")`); got != "failed" {
			t.Errorf("%s was answered with %.60q while the server is off", a, got)
		}
		if err := chromedp.Do(phone, chromedp.Navigate("http://"+s.address+a)); err == nil {
			t.Errorf("%s opens while the server is off", a)
		}
		open(t, phone, s, "/") // the app itself still does
	}
}

// The panel that stands in for a program that has ended, and the way back.
func TestBoot_a_stopped_program_leaves_a_way_to_start_again(t *testing.T) {
	s, phone := newShop(t, "v1"), newPhone(t)
	install(t, phone, s)
	ask[bool](t, phone, `(torchsideShowRestart(), torchsideShowRestart(), window.before = true, true)`)
	if got := ask[int](t, phone, `document.querySelectorAll("[role=alert] [data-act=restart]").length`); got != 1 {
		t.Errorf("%d ways to start again, want one", got)
	}
	if height := ask[float64](t, phone, `document.activeElement.getBoundingClientRect().height`); height < 72 {
		t.Errorf("the button is %.0f px high, want 72", height)
	}
	if err := chromedp.Do(phone, chromedp.Click(`[data-act=restart]`)); err != nil {
		t.Fatal(err)
	}
	waitForReload(t, phone)
}

// go-app refuses user agents with "bot" in them, which some phones have, and leaves a page dead
// whose program has ended.
func TestBoot_a_real_program_starts_on_any_phone_and_its_end_is_told(t *testing.T) {
	out := filepath.Join(t.TempDir(), "panics.wasm")
	build := exec.Command("go", "build", "-o", out, "./testdata/panics")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if text, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	wasm, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	agent := "Mozilla/5.0 (Linux; Android 14; CUBOT KINGKONG) Chrome/156 Mobile"
	s, phone := newShopWith(t, "v1", wasm), newPhone(t, chromedp.Flag("user-agent", agent))
	open(t, phone, s, "/?wasm=false")
	if err := chromedp.Do(phone, chromedp.Click("#boom")); err != nil {
		t.Fatalf("the program did not start: %v", err)
	}
	if err := chromedp.Do(phone, chromedp.WaitVisible("[role=alert] [data-act=restart]")); err != nil {
		t.Errorf("nobody is told that the program has ended: %v", err)
	}
}
