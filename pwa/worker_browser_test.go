//go:build browser && !js

package pwa_test

import (
	"context"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"torchside/pwa"
)

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
