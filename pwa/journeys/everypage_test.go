//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa"
	"torchside/pwa/journeys/browsertest"
)

// Every page, empty and full, dark and light: usable by touch, by screen reader, at 320 px and with letters twice as large; and
// no link leads out of the app.
func TestEveryPage(t *testing.T) {
	_, _, page := fresh(t)
	everywhere(t, page, "empty")
	goTo(page, "setup")
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	ask(page, "1/8 in")
	everywhere(t, page, "full")
	goTo(page, "setup")
	page.Tap("from-oxygen.regulator_gauge_pa")
	page.Wait("the sheet is open", `!!document.querySelector("dialog[open]")`)
	sound(t, page, "sheet")
	page.Tap("from-close")
	page.Tap("setup-edit")
	page.Tap("setup-more")
	sound(t, page, "setup-form")
	goTo(page, "rig")
	for _, kind := range []string{"cylinder-oxygen", "cylinder-fuel", "regulator-oxygen", "hose-fuel", "arrestor-oxygen", "torch", "tip"} {
		page.Tap("rig-add-" + kind)
		page.Tap("rig-save")
		page.Wait("an empty form is refused or saved", `!!document.querySelector("[data-val=form-problem]") || !document.querySelector("[data-act=rig-save]")`)
		sound(t, page, "form-"+kind)
		if page.Has("rig-cancel") {
			page.Tap("rig-cancel")
		}
		page.Lacks("rig-save")
	}
}

// everywhere looks at all five places.
func everywhere(t *testing.T, p *browsertest.Page, name string) {
	for _, r := range pwa.Routes {
		if r.Place == "" {
			continue // reached from a page
		}
		goTo(p, r.Place)
		sound(t, p, name+"-"+r.Place)
	}
	goTo(p, "bench")
	p.Tap("to-flame")
	p.Wants("flame.class", "Neutral")
	p.Tap("flame-steps")
	p.Tap("flame-table")
	sound(t, p, name+"-flame")
}

// sound checks one page as it stands.
func sound(t *testing.T, p *browsertest.Page, name string) {
	t.Helper()
	t.Run(name, func(t *testing.T) {
		p := p.For(t)
		p.LinksWithin(places())
		p.FitsFingers()
		for _, scheme := range []string{"dark", "light"} {
			theme(p, scheme)
			p.Accessible()
			p.Shot("page-" + name + "-" + scheme)
		}
		theme(p, "dark")
		p.Size(320, 640)
		p.FitsAcross()
		p.Size(390, 844)
		browsertest.Eval[string](p, `document.documentElement.style.fontSize = "200%"`)
		p.FitsAcross()
		browsertest.Eval[string](p, `document.documentElement.style.fontSize = ""`)
	})
}

// places are all addresses a link may lead to: those of the app, and the pages beside it.
func places() []string {
	list := []string{"/emergency", "/abilities"}
	for _, r := range pwa.Routes {
		list = append(list, r.Path)
	}
	return list
}
