//go:build browser

package browsertest

import (
	_ "embed" // targets.js
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/chromedp/chromedp"
)

// Sizes that a gloved finger needs, in CSS pixels: the project's own rule, far above WCAG 2.2 (24, target size, AA).
const (
	mainHeight  = 72
	otherHeight = 56
	placeWidth  = 48 // of the five places side by side, so that they fit a window of 320
	targetGap   = 12
	textSize    = 18 // of what is read in lines
	labelSize   = 16 // of a word or two on a control; below it, phones zoom into fields
)

//go:embed targets.js
var targetsJS string

// FitsAcross fails the test when the page is wider than its window.
func (p *Page) FitsAcross() {
	p.t.Helper()
	type widths struct{ Page, Window int }
	w := eval[widths](p, `({ Page: document.documentElement.scrollWidth, Window: innerWidth })`)
	if w.Page > w.Window {
		p.t.Errorf("%s scrolls sideways: it is %d px wide in a window of %d; %s", p.Path(), w.Page, w.Window, p.widest())
	}
}

// widest names the element that reaches farthest to the right.
func (p *Page) widest() string {
	p.t.Helper()
	return eval[string](p, `(() => {
		let found = document.body, right = 0;
		for (const e of document.body.querySelectorAll("*")) {
			const r = e.getBoundingClientRect();
			if (r.width > 0 && r.right > right) { right = r.right; found = e; }
		}
		return "the widest is " + found.outerHTML.slice(0, 160);
	})()`)
}

// FitsFingers fails the test for every target that is too small or too close to another, and for text that is too small.
func (p *Page) FitsFingers() {
	p.t.Helper()
	rule := map[string]int{"main": mainHeight, "other": otherHeight, "place": placeWidth, "gap": targetGap, "text": textSize, "label": labelSize}
	faults := eval[[]string](p, "("+targetsJS+")("+quoted(rule)+")")
	for _, f := range faults {
		p.t.Errorf("%s: %s", p.Path(), f)
	}
}

// axe is the checker's script, from the pinned package.
var axe = sync.OnceValues(func() (string, error) {
	path := os.Getenv("TORCHSIDE_AXE")
	if path == "" {
		path = filepath.Join("..", "..", ".ci", "node_modules", "axe-core", "axe.min.js")
	}
	script, err := os.ReadFile(path)
	if err != nil {
		return "", fmt.Errorf("the checker of accessibility is missing, .ci/axe.sh fetches it: %w", err)
	}
	return string(script), nil
})

// accessFault is one rule that is broken.
type accessFault struct {
	Rule  string
	Help  string
	Where []string
}

// looks counts how often a page was looked at.
var looks atomic.Int64

// Accessible fails the test for every rule of WCAG 2.2 A and AA that axe-core finds broken, for its best practices, and for a
// number whose contrast is below AAA.
func (p *Page) Accessible() {
	p.t.Helper()
	looks.Add(1)
	p.loadAxe()
	// What the bars happen to lie over can be scrolled out from under them, so they stand in the page for this.
	eval[bool](p, `(document.querySelectorAll("nav, .dock, .status-up").forEach((e) => e.style.setProperty("position", "static")), true)`)
	defer eval[bool](p, `(document.querySelectorAll("nav, .dock, .status-up").forEach((e) => e.style.removeProperty("position")), true)`)
	p.report(`axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] })`)
	if len(p.All("data-val")) > 0 {
		p.report(`axe.run({ include: [["[data-val]"]] }, { runOnly: { type: "rule", values: ["color-contrast-enhanced"] } })`)
	}
}

func (p *Page) loadAxe() {
	p.t.Helper()
	script, err := axe()
	if err != nil {
		p.t.Fatal(err)
	}
	if eval[bool](p, `!window.axe`) {
		// The devtools protocol evaluates it, which the page's content security policy does not forbid.
		p.do("loading the checker", chromedp.Evaluate[chromedp.Void](script))
	}
}

func (p *Page) report(run string) {
	p.t.Helper()
	faults := eval[[]accessFault](p, run+`.then((r) => r.violations.map((v) => ({
		Rule: v.id, Help: v.help,
		Where: v.nodes.slice(0, 4).map((n) => n.target.join(" ") + " " + n.html.slice(0, 120) + " " + (n.any[0]?.message ?? "")) })))`)
	for _, f := range faults {
		p.t.Errorf("%s: %s (%s)\n  %s", p.Path(), f.Help, f.Rule, strings.Join(f.Where, "\n  "))
	}
}

// LinksWithin fails the test for every link that leads out of the given paths.
func (p *Page) LinksWithin(paths []string) {
	p.t.Helper()
	links := eval[[]string](p, `[...document.querySelectorAll("a[href]")].map((a) => a.href)`)
	if len(links) == 0 {
		p.t.Errorf("%s has no link at all, not even the places", p.Path())
	}
	for _, link := range links {
		path, own := strings.CutPrefix(link, p.profile.site.Origin())
		path, _, _ = strings.Cut(path, "?")
		path, _, _ = strings.Cut(path, "#")
		if !own || !slices.Contains(paths, path) {
			p.t.Errorf("%s links to %s, which is none of the app's places", p.Path(), link)
		}
	}
}

// Cached fails the test unless everything the worker keeps comes from the site itself, and returns the names of its caches.
func (p *Page) Cached() []string {
	p.t.Helper()
	type kept struct{ Names, Addresses []string }
	k := eval[kept](p, `(async () => {
		const names = await caches.keys();
		const lists = await Promise.all(names.map(async (n) => (await (await caches.open(n)).keys()).map((r) => r.url)));
		return { Names: names, Addresses: lists.flat() };
	})()`)
	for _, a := range k.Addresses {
		if !strings.HasPrefix(a, p.profile.site.Origin()+"/") {
			p.t.Errorf("the worker keeps %s, which is not the app's", a)
		}
	}
	return k.Names
}
