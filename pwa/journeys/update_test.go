//go:build browser

package journeys

import (
	"slices"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// look has the page ask the server for a new version now, as browsers do by themselves once in a while.
const look = `navigator.serviceWorker.getRegistration().then((r) => r.update()).then(() => true, () => false)`

// foreignCache makes a cache that is not ours.
const foreignCache = `caches.open("neighbour").then((c) => c.put("/theirs", new Response("theirs"))).then(() => true)`

// A new version is offered and never forced: the page goes on as it is until the person taps. Then the old copy goes, and what
// others keep at the same address stays.
func TestUpdateIsOfferedNotForced(t *testing.T) {
	server := browsertest.NewServer(t)
	front := browsertest.NewFront(t, server)
	profile := browsertest.NewProfile(t, front)
	page := profile.Open("/")
	accept(page)
	cached(page, front.Version())
	browsertest.Eval[bool](page, foreignCache)

	later := front.Serve(1)
	browsertest.Eval[bool](page, look)
	page.Wants("update", "Restart")
	page.Type("setup-thickness", "1/8")
	if got := running(page); got != front.Version() {
		t.Errorf("version %s runs before anybody asked for it", got)
	}
	goTo(page, "rig")
	goTo(page, "setup")
	page.Wants("setup-thickness", "1/8")
	page.Tap("notice-update")
	cached(page, later)
	page.WaitReady()
	page.Lacks("update")
	page.Wants("setup-thickness", "1/8")
	if got := running(page); got != later {
		t.Errorf("version %s runs, wanted the new one, %s", got, later)
	}
	if names := page.Cached(); !slices.Contains(names, "neighbour") {
		t.Errorf("a cache that is not ours is gone: %v are left", names)
	}

	front.Break("/web/app.wasm")
	front.Serve(2)
	browsertest.Eval[bool](page, look)
	page.Close()
	front.Down()
	profile.Expect("ERR_")
	profile.Visit("/rig?source=home", func(p *browsertest.Page) {
		if got := running(p); got != later {
			t.Errorf("version %s runs after an update that failed, wanted the one before, %s", got, later)
		}
		p.Wants("rig-add-tip", "tip")
	})
}

// cached waits until the worker keeps the given version of ours and no other.
func cached(p *browsertest.Page, version string) {
	p.Wait("only version "+version+" is kept", `caches.keys().then((names) => {
		const ours = names.filter((n) => n.startsWith("torchside-"));
		return ours.length === 1 && ours[0] === "torchside-`+version+`";
	})`)
}

// running is the version of the page, as the program in it sees it.
func running(p *browsertest.Page) string {
	return browsertest.Eval[string](p, `fetch("/app.js").then((r) => r.text()).then((s) => /"GOAPP_VERSION":"([^"]*)"/.exec(s)?.[1] ?? "none")`)
}
