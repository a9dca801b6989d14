//go:build browser

package journeys

import (
	"fmt"
	"strconv"
	"testing"

	"torchside/pwa"
	"torchside/pwa/journeys/browsertest"
)

// emergencyShown waits for the page itself: the way out before everything, and what it may be.
func emergencyShown(p *browsertest.Page) {
	p.Wait("the emergency page", `location.pathname === "/emergency" && !!document.querySelector("[data-val=get-out]")`)
	p.WantsText("Get out, everybody, now.")
	p.WantsText("Never go back to it, move it, open it or vent it.")
	for _, id := range []string{"popped", "squeals", "fitting-fire", "warm", "smell"} {
		p.Wait("order "+id, `!!document.querySelector("[data-order=`+id+`] li")`)
	}
}

// From every page of the app it is one tap, and the way back leads to that page again; without the server too.
func TestEmergencyIsOneTapAway(t *testing.T) {
	server, profile, page := fresh(t)
	for _, r := range pwa.Routes {
		page.Go(r.Path)
		page.Tap("emergency")
		emergencyShown(page)
		page.Back()
		page.Wait("the page before", `location.pathname === `+strconv.Quote(r.Path)+` && !!document.querySelector(".shell .bar")`)
	}
	goTo(page, "setup")
	page.Tap("setup-sample")
	ask(page, "1/8 in")
	page.Tap("from-oxygen.regulator_gauge_pa")
	page.Tap("from-emergency") // of the panel that lies over the page
	emergencyShown(page)
	page.Close()
	server.Stop()
	profile.Expect("ERR_CONNECTION_REFUSED")
	page = profile.Open("/rig")
	page.Tap("emergency")
	emergencyShown(page)
	page.Tap("to-squeals")
	page.WantsText("Close the torch oxygen valve. Now.")
	page.Tap("to-app")
	page.WaitReady()
}

// With script switched off the page reads as it is, and so does the way to it.
func TestEmergencyWithoutScript(t *testing.T) {
	server, profile, page := fresh(t)
	page.Close()
	page = profile.Blank()
	page.NoScript()
	page.GoRaw("/journal")
	// Without script nothing tells where a finger has landed: what lies on top at the link's middle is the link, and it leads on.
	page.Wait("the link lies above all else", `(() => {
		const link = document.querySelector("[data-act=emergency]"), box = link.getBoundingClientRect();
		return box.height >= 56 && link.contains(document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2));
	})()`)
	browsertest.Eval[bool](page, `document.querySelector("[data-act=emergency]").click(), true`)
	emergencyShown(page)
	looked(t, page, "emergency")
	server.Stop()
	profile.Expect("ERR_CONNECTION_REFUSED")
	page.GoRaw("/emergency")
	emergencyShown(page)
}

// The pages beside the program follow the owner's choice of light or dark, whatever the phone is set to; without a script, the phone.
func TestPagesBesideTheProgramFollowTheTheme(t *testing.T) {
	_, profile, page := fresh(t)
	light := func(p *browsertest.Page, want bool, name string) {
		t.Helper()
		for _, path := range []string{"/emergency", "/abilities"} {
			p.GoRaw(path)
			p.Wait(name+": "+path+" has its colours", fmt.Sprintf(`(() => {
				const [r, g, b] = getComputedStyle(document.body).backgroundColor.match(/\d+/g).map(Number);
				return document.readyState === "complete" && (r + g + b > 384) === %t;
			})()`, want))
			p.Shot("theme-" + name + "-" + path[1:])
		}
	}
	for _, c := range []struct {
		choice, phone string
		light         bool
	}{{"light", "dark", true}, {"dark", "light", false}, {"system", "light", true}, {"system", "dark", false}} {
		page.Prefers(c.phone, false)
		page.Go("/bench")
		if act := "theme-" + c.choice; !browsertest.Eval[bool](page, `document.querySelector("[data-act=`+act+`] input").checked`) {
			saving(page, func() { page.Tap(act) })
		}
		light(page, c.light, c.choice+"-on-"+c.phone)
	}
	page.Close()
	page = profile.Blank()
	page.NoScript()
	for _, phone := range []string{"dark", "light"} {
		page.Prefers(phone, false)
		light(page, phone == "light", "without script on "+phone)
	}
}

// A program that does not come leaves the page in reach, on the very first visit.
func TestEmergencyWithoutTheProgram(t *testing.T) {
	front := browsertest.NewFront(t, browsertest.NewServer(t))
	front.Break("/web/app.wasm")
	profile := browsertest.NewProfile(t, front)
	for _, words := range []string{"503", "loading wasm failed", "worker", "CompileError", "TypeError"} {
		profile.Expect(words)
	}
	page := profile.Blank()
	page.GoRaw("/")
	page.Tap("emergency")
	emergencyShown(page)
}

// looked checks a page that is none of the app's as the others are.
func looked(t *testing.T, p *browsertest.Page, name string) {
	t.Helper()
	p.FitsFingers()
	for _, scheme := range []string{"dark", "light"} {
		p.Prefers(scheme, false)
		p.Shot("page-" + name + "-" + scheme)
	}
	p.Size(320, 640)
	p.FitsAcross()
	p.Size(390, 844)
}
