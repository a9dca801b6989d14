//go:build browser

package journeys

import (
	"fmt"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// deepLinks are all places, and what a home screen or a link adds to them.
var deepLinks = []string{"/", "/leak", "/journal", "/rig", "/bench", "/flame", "/bench/cuts", "/?source=home", "/rig?x=1", "/leak?source=shortcut", "/journal?source=home"}

// widths are those of small and common phones and of a tablet, in CSS pixels.
var widths = [][2]int64{{320, 568}, {360, 780}, {390, 844}, {768, 1024}}

// The main job, whole: somebody enters a rig by hand, gets a card whose numbers agree with the command line's, loses the
// network, and still has both.
func TestFirstLight(t *testing.T) {
	server, profile, page := fresh(t)
	enterRig(page)
	page.Reload()
	page.WantsText("Old faithful")
	goTo(page, "bench")
	page.Tap("units-us")
	saved(page)
	ask(page, "1/8 in")
	page.Wants("setup-question", "1/8 in")
	agrees(t, page, "us", computed(t, handRigSI(), 0.125*inch))
	before := cardText(page)
	shots(page, "setup-by-hand-us")
	goTo(page, "rig")
	shots(page, "rig-by-hand-us")
	page.Cached()
	page.Close()

	server.Stop()
	profile.Expect("ERR_CONNECTION_REFUSED")
	opensOffline(t, profile)
	profile.Visit("/rig", func(p *browsertest.Page) {
		p.WantsText("Old faithful")
		for _, tip := range []string{"No. 0", "No. 1", "No. 2"} {
			p.WantsText(tip)
		}
	})
	offline := profile.Open("/?source=home")
	sameCard(t, offline, before)
	recomputes(t, offline)
}

// opensOffline opens every place afresh, each in a window of its own, and reloads it there.
func opensOffline(t *testing.T, profile *browsertest.Profile) {
	t.Helper()
	for _, path := range deepLinks {
		profile.Visit(path, func(p *browsertest.Page) {
			p.Reload()
			if p.Path() != path {
				t.Errorf("%s became %s", path, p.Path())
			}
			p.FitsAcross()
		})
	}
}

// recomputes asks for other thicknesses and the other units.
func recomputes(t *testing.T, p *browsertest.Page) {
	t.Helper()
	for _, c := range []struct {
		typed string
		si    float64
	}{{"1/16", inch / 16}, {"3/16 in", 3 * inch / 16}, {"2 mm", 0.002}} {
		ask(p, c.typed)
		agrees(t, p, "us", computed(t, handRigSI(), c.si))
	}
	goTo(p, "bench")
	p.Tap("units-metric")
	saved(p)
	ask(p, "3,2 mm")
	agrees(t, p, "metric", computed(t, handRigSI(), 0.0032))
	shots(p, "setup-by-hand-metric")
	goTo(p, "rig")
	shots(p, "rig-by-hand-metric")
}

// shots checks that a page fits every width, dark and light, and takes its picture where one is wanted.
func shots(p *browsertest.Page, name string) {
	for _, scheme := range []string{"dark", "light"} {
		theme(p, scheme)
		for _, w := range widths {
			p.Size(w[0], w[1])
			p.FitsAcross()
			p.Shot(fmt.Sprintf("%s-%d-%s", name, w[0], scheme))
		}
	}
	p.Size(390, 844)
	theme(p, "dark")
}

// theme shows the page as it is with that theme chosen, and waits until the colours have come to rest.
func theme(p *browsertest.Page, scheme string) {
	browsertest.Eval[int](p, `(async () => {
		document.documentElement.dataset.theme = "`+scheme+`";
		await new Promise((done) => requestAnimationFrame(done));
		const moving = document.getAnimations().filter((a) => a instanceof CSSTransition);
		await Promise.all(moving.map((a) => a.finished.catch(() => {})));
		return moving.length;
	})()`)
}
