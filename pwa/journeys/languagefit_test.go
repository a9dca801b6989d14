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

// Every page in every language on a phone 360 px wide: no text is cut off, and no page is wider than the window.
func TestEveryPageFitsInEveryLanguage(t *testing.T) {
	profile := browsertest.NewProfile(t, browsertest.NewServer(t))
	page := profile.Open("/")
	accept(page)
	page.Tap("setup-sample")
	ask(page, "3 mm")
	page.Size(360, 740)
	for _, code := range []string{"en", "es", "de"} {
		browsertest.Eval[bool](page, `(localStorage.setItem("torchside/language", "`+code+`"), true)`)
		for _, r := range pwa.Routes {
			page.Go(r.Path)
			page.Wait("the page speaks "+code, `document.documentElement.lang === "`+code+`"`)
			page.FitsAcross()
			if list := browsertest.Eval[[]string](page, cutOff); len(list) > 0 {
				t.Errorf("%s in %s:\n\t%s", r.Path, code, strings.Join(list, "\n\t"))
			}
			page.Shot("language-" + code + "-" + strings.ReplaceAll(strings.Trim(r.Path, "/"), "/", "-"))
		}
	}
}
