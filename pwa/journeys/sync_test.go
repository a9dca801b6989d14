//go:build browser

package journeys

import (
	"strings"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// mostTaps is how many taps a second device may take to join from a scanned code.
const mostTaps = 5

// withoutLocks makes a browser one without Web Locks: its windows then agree through the store.
const withoutLocks = `Object.defineProperty(Navigator.prototype, "locks", { value: undefined })`

// inStep asks for an exchange and waits until everything is on the server.
func inStep(p *browsertest.Page) {
	devices(p)
	p.Wait("no run is under way", `!document.querySelector("[data-act=sync-now]")?.disabled`)
	// All of the page is watched: the list of conflicts may come meanwhile, and the button is then another element.
	browsertest.Eval[bool](p, `(window.ran = false, new MutationObserver((all) => {
		const of = (e) => e.dataset?.act === "sync-now";
		window.ran ||= all.some((m) => of(m.target)) || !!document.querySelector("[data-act=sync-now]:disabled");
	}).observe(document.body, { subtree: true, childList: true, attributes: true, attributeFilter: ["disabled"] }), true)`)
	p.Tap("sync-now")
	p.Wait("a run is over", `window.ran && !document.querySelector("[data-act=sync-now]").disabled`)
	p.Wait("everything is on the server", `document.querySelector("[data-val=sync]")?.dataset.state === "server"`)
}

// devices goes to the page of devices.
func devices(p *browsertest.Page) {
	goTo(p, "bench")
	p.Tap("to-devices")
	p.Wants("sync-shop", "My shop")
}

// hoseLength changes the length of the only hose.
func hoseLength(p *browsertest.Page, length string) {
	goTo(p, "rig")
	p.Tap(onlyHose(p))
	p.Type("rig-length", length)
	p.Tap("rig-save")
	p.Lacks("rig-save")
	saved(p)
}

// onlyHose is the hook of the only part of the rig.
func onlyHose(p *browsertest.Page) string {
	p.Wait("the hose is listed", `!!document.querySelector("[data-act^=rig-part-]")`)
	return browsertest.Eval[string](p, `document.querySelector("[data-act^=rig-part-]").dataset.act`)
}

// Two devices join a shop, edit the same hose without the network, and keep both versions until one is chosen; a photo arrives on the
// other device; a device that is put out gets nothing more and loses nothing.
func TestTwoDevicesShareAShop(t *testing.T) {
	server, profile, first := fresh(t)
	joinByThumb(first, server.Code())

	other := browsertest.NewProfile(t, server)
	other.OnNew(withoutLocks)
	for _, p := range []*browsertest.Profile{profile, other} {
		p.Expect("ERR_INTERNET_DISCONNECTED") // an exchange that falls due while the network is away
	}
	second := other.Blank()
	c := taps{page: second}
	second.GoRaw("/#join=" + server.Code())
	second.WaitReady()
	c.tap("notice-accept")
	second.Wants("join-scanned")
	second.Shot("join")
	c.tap("join")
	second.Wants("sync-report", "joined")
	if c.n > mostTaps {
		t.Errorf("joining took %d taps, at most %d are allowed", c.n, mostTaps)
	}
	if address := browsertest.Eval[string](second, `location.href`); strings.Contains(address, "join") {
		t.Errorf("the code stays in the address %s", address)
	}

	goTo(first, "rig")
	enter(first, part{add: "rig-add-hose-fuel", taps: []string{"rig-grade-T"}, texts: []typed{{"rig-inside_diameter", "6.3 mm"}, {"rig-length", "5 m"}}})
	inStep(first)
	inStep(second)
	editApart(t, first, second)
	photoArrives(t, first, second)
	putOut(t, first, second, other)
}

// joinByThumb types a code.
func joinByThumb(p *browsertest.Page, code string) {
	goTo(p, "bench")
	p.Tap("to-devices")
	p.Type("join-code", code)
	p.Type("join-name", "Bench tablet")
	p.Tap("join")
	p.Wants("sync-report", "My shop")
	p.Wants("sync-device", "Bench tablet")
}

// editApart changes one hose on both devices without the network.
func editApart(t *testing.T, first, second *browsertest.Page) {
	t.Helper()
	for length, p := range map[string]*browsertest.Page{"6 m": first, "7 m": second} {
		goTo(p, "rig")
		onlyHose(p)
		p.Offline(true)
		hoseLength(p, length)
		p.Wait("the change waits", `document.querySelector("[data-val=sync]")?.dataset.state === "waiting"`)
	}
	first.Offline(false)
	inStep(first)
	second.Offline(false)
	inStep(second)
	goTo(second, "rig")
	second.WantsText("Two versions")
	second.Shot("conflict-rig")
	second.Wants("badge-rig", "1")
	devices(second)
	second.Wants("split-count", "1 to choose")
	sound(t, second, "conflict-list")
	second.Tap(hookStarting(t, second, "split-"))
	second.WantsText("Length 6 m")
	second.WantsText("Length 7 m")
	sound(t, second, "conflict-part")
	second.Tap(browsertest.Eval[string](second, `[...document.querySelectorAll("[data-act^=pick-length-]")].find((e) => e.closest("label, button").innerText.includes("6 m")).dataset.act`))
	second.Tap("rig-save")
	second.Lacks("rig-save")
	saved(second)
	inStep(second)
	inStep(first)
	for _, p := range []*browsertest.Page{first, second} {
		goTo(p, "rig")
		p.WantsText("Length 6 m")
		p.LacksText("Two versions")
		p.Lacks("badge-rig")
	}
}

// photoArrives takes a photo on one device and finds it on the other, to the last byte.
func photoArrives(t *testing.T, first, second *browsertest.Page) {
	t.Helper()
	beginSheet(first)
	first.Upload("photo-files", photo(t, "bead.jpg", 160))
	first.Wait("the photo is there", `document.querySelectorAll("[data-act^=photo-open-]").length === 1`)
	first.Tap("sheet-work-weld")
	first.Choose("sheet-metal", "mild_steel")
	saving(first, func() { first.Tap("sheet-done") })
	inStep(first)
	inStep(second)
	sent, came := storedBlobs(t, first), storedBlobs(t, second)
	if len(sent) == 0 {
		t.Fatal("the first device holds no photo: nothing is tested")
	}
	for name, data := range sent {
		if string(came[name]) != string(data) {
			t.Errorf("%.8s did not arrive as it was sent", name)
		}
	}
}

// putOut puts the second device out by the first.
func putOut(t *testing.T, first, second *browsertest.Page, other *browsertest.Profile) {
	t.Helper()
	other.Expect("401")
	devices(first)
	first.Wait("the list is read", `document.querySelectorAll("[data-act^=device-revoke-]").length === 1`)
	first.Tap(browsertest.Eval[string](first, `document.querySelector("[data-act^=device-revoke-]").dataset.act`))
	first.Tap("device-revoke-yes")
	first.WantsText("Put out")
	sound(t, first, "devices")
	devices(second)
	second.Tap("sync-now")
	second.WantsText("no longer lets this device in")
	goTo(second, "rig")
	second.WantsText("Length 6 m")
	devices(second)
	sound(t, second, "put-out")
}
