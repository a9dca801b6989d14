//go:build browser

package journeys

import (
	"strings"
	"testing"

	"torchside/pwa"
	"torchside/pwa/journeys/browsertest"
)

// cutOff lists the texts that reach out of the window, of what frames them, or of what cuts off the rest.
const cutOff = `(() => {
	const found = [];
	const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	for (let n = walker.nextNode(); n; n = walker.nextNode()) {
		const e = n.parentElement;
		if (!n.data.trim() || ["SCRIPT", "STYLE", "NOSCRIPT", "OPTION", "TITLE"].includes(e.tagName) || e.closest("svg, .visually-hidden, [hidden]")) continue;
		if (e.scrollHeight > e.clientHeight + 1 && getComputedStyle(e).overflowY === "hidden" && e.clientHeight > 1) { found.push("cut off below: " + n.data.trim()); continue; }
		const range = document.createRange();
		range.selectNodeContents(n);
		const t = range.getBoundingClientRect();
		if (t.width <= 1 || t.height <= 1) continue;
		const out = (f) => t.right > f.right + 1 || t.left < f.left - 1;
		if (t.right > innerWidth + 1 || t.left < -1) { found.push("out of the window: " + n.data.trim()); continue; }
		const frame = e.closest("[data-act], .choice, .card, td, th");
		if (frame && frame.clientWidth > 1 && out(frame.getBoundingClientRect())) { found.push("out of its frame: " + n.data.trim()); continue; }
		for (let a = e; a && a !== document.body; a = a.parentElement) {
			const style = getComputedStyle(a);
			const f = a.getBoundingClientRect();
			if (f.width <= 1 || f.height <= 1) break; // for screen readers alone
			if (style.overflowX !== "visible" && style.overflowX !== "auto" && style.overflowX !== "scroll" && out(f)) { found.push("cut off: " + n.data.trim()); break; }
		}
	}
	return found;
})()`

// In each language every page, from the safety notice and the first steps on, fits narrow phones, shows its texts whole, and can be
// touched and read out.
func TestLanguage_everyPageFits(t *testing.T) {
	for _, code := range []string{"en", "es", "de"} {
		t.Run(code, func(t *testing.T) {
			profile := browsertest.NewProfile(t, browsertest.NewServer(t))
			profile.OnNew(`localStorage.setItem("torchside/language", "` + code + `");`)
			page := profile.Open("/")
			fits(t, page, code+"-notice")
			page.Tap("notice-accept")
			page.Wants("guide-step")
			fits(t, page, code+"-first-steps")
			page.Tap("guide-next")
			page.Wait("the rig is asked for", `!!document.querySelector("[data-act=guide-sample]")`)
			fits(t, page, code+"-first-rig")
			page.Tap("guide-skip")
			page.Lacks("guide-skip")
			page.Tap("setup-sample")
			page.Wants("sample")
			ask(page, "1/8 in")
			page.Wait("the card is there", `!!document.querySelector("[data-act=setup-edit]")`)
			for _, r := range pwa.Routes {
				page.Go(r.Path)
				fits(t, page, code+"-"+strings.Trim(strings.ReplaceAll(r.Path, "/", "-"), "-"))
			}
		})
	}
}

// fits looks at a page on two narrow phones.
func fits(t *testing.T, page *browsertest.Page, name string) {
	t.Helper()
	t.Run(name, func(t *testing.T) {
		p := page.For(t)
		for _, width := range []int64{320, 360} {
			p.Size(width, 720)
			p.FitsAcross()
			if list := browsertest.Eval[[]string](p, cutOff); len(list) > 0 {
				t.Errorf("%d px: %q", width, list)
			}
		}
		p.FitsFingers()
		p.Accessible()
		p.Shot("language-" + name)
		p.Size(390, 844)
	})
}
