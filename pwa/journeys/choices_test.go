//go:build browser

package journeys

import (
	"strings"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// Theme, units, a single unit and the hose colours are kept, offline too, and hold on every page.
func TestChoicesAreKept(t *testing.T) {
	server, profile, page := fresh(t)
	goTo(page, "setup")
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	goTo(page, "bench")
	for _, act := range []string{"theme-light", "units-us", "region-us"} {
		saving(page, func() { page.Tap(act) })
	}
	saving(page, func() { page.Choose("unit-pressure", "kPa") })
	page.Close()
	server.Stop()
	profile.Expect("ERR_CONNECTION_REFUSED")

	again := profile.Open("/bench")
	for _, act := range []string{"theme-light", "units-us", "region-us"} {
		again.Wait(act+" is still chosen", `document.querySelector("[data-act=`+act+`] input").checked`)
	}
	ask(again, "1/8")
	for key, unit := range map[string]string{"oxygen.regulator_gauge_pa": "kPa", "oxygen.flow_std_m3_s": "ft³/h"} {
		if text := again.Text(key); !strings.HasSuffix(text, unit) {
			t.Errorf("%s shows %q, wanted %s", key, text, unit)
		}
	}
	again.WantsText("green hose")
	if got := ground(again); got < 128 {
		t.Errorf("the light theme has a ground of brightness %d of 255", got)
	}
}

// The theme that goes with the phone follows it, and whoever asked for stillness gets it.
func TestThemeFollowsThePhone(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "bench")
	page.Tap("theme-system")
	saved(page)
	page.Prefers("light", true)
	light := ground(page)
	page.Prefers("dark", true)
	if dark := ground(page); dark > 64 || light < 192 {
		t.Errorf("the ground has brightness %d on a dark phone and %d on a light one", dark, light)
	}
	for _, r := range []string{"setup", "rig", "leak"} {
		goTo(page, r)
		if n := browsertest.Eval[int](page, `document.getAnimations().length`); n > 0 {
			t.Errorf("%d things move on %s although stillness was asked for", n, r)
		}
	}
}

// ground is the brightness of the page's background, 0 to 255.
func ground(p *browsertest.Page) int {
	return browsertest.Eval[int](p, `(() => {
		const [r, g, b] = getComputedStyle(document.body).backgroundColor.match(/\d+/g).map(Number);
		return Math.round((r + g + b) / 3);
	})()`)
}
