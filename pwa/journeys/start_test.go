//go:build browser

package journeys

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"os"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/journeys/browsertest"
)

// slow4G is a poor connection: 1.6 Mbit/s, 150 ms to and fro.
const (
	slow4GDelay = 150 * time.Millisecond
	slow4GBytes = 1.6e6 / 8
)

// tapper taps a control again and again, 20 times a second, from the first instant of a page on, until the page answers; then it keeps the
// milliseconds since the page was asked for.
func tapper(control, answered string) string {
	return `window.answeredAfter = 0;
const tapping = setInterval(() => {
	if (` + answered + `) {
		window.answeredAfter = performance.now();
		clearInterval(tapping);
		return;
	}
	document.querySelector(` + strconv.Quote(control) + `)?.click();
}, 50);`
}

const painted = `performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? 0`

// floorPage is what .ci/floor shows.
type floorPage struct{ app.Compo }

func (*floorPage) Render() app.UI { return app.Button().ID("floor").Text(0) }

var floorRoute = sync.OnceFunc(func() { app.Route("/", func() app.Composer { return &floorPage{} }) })

// floorSite serves the smallest go-app program as the app is served: packed, and kept by go-app's own worker.
type floorSite struct{ server *httptest.Server }

// Origin is where it is served.
func (f floorSite) Origin() string { return f.server.URL }

func newFloor(b *testing.B) floorSite {
	b.Helper()
	name := os.Getenv("TORCHSIDE_FLOOR")
	if name == "" {
		b.Skip("TORCHSIDE_FLOOR does not name the packed program to compare with: run .ci/startbench.sh")
	}
	wasm, err := os.ReadFile(name)
	if err != nil {
		b.Fatal(err)
	}
	floorRoute()
	handler := &app.Handler{Name: "floor", Version: "1", Icon: app.Icon{Default: "/robots.txt", Large: "/robots.txt", SVG: "/robots.txt", Maskable: "/robots.txt"}}
	f := floorSite{httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch r.URL.Path {
		case "/web/app.wasm":
			w.Header().Set("Content-Type", "application/wasm")
			w.Header().Set("Content-Encoding", "br")
			http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(wasm))
		case "/favicon.ico":
			w.WriteHeader(http.StatusNoContent)
		default:
			handler.ServeHTTP(w, r)
		}
	}))}
	b.Cleanup(f.server.Close)
	return f
}

// starts measures one site: the first visit over a poor connection, then a later one without any.
func starts(b *testing.B, site browsertest.Site, first, later string, between func(*browsertest.Page), keep func(string, float64)) {
	profile := browsertest.NewProfile(b, site)
	profile.Expect("") // the smallest program asks for what it does not have
	profile.OnlyNew(first)
	page := profile.Blank()
	page.SlowNetwork(slow4GDelay, slow4GBytes)
	page.SlowCPU(4)
	page.GoRaw("/")
	page.WaitLong("the first tap is answered", `window.answeredAfter > 0`)
	keep("painted", browsertest.Eval[float64](page, painted))
	keep("first", browsertest.Eval[float64](page, `window.answeredAfter`))
	page.SlowNetwork(0, 0)
	page.SlowCPU(1)
	page.WaitLong("everything is kept", `navigator.serviceWorker.controller !== null || (navigator.serviceWorker.ready.then((r) => { window.workerReady = r.active !== null; }), window.workerReady === true)`)
	between(page)
	page.Close()

	profile.OnlyNew(later)
	page = profile.Blank()
	page.Offline(true)
	page.SlowCPU(4)
	page.GoRaw("/")
	page.WaitLong("a tap is answered without network", `window.answeredAfter > 0`)
	keep("later", browsertest.Eval[float64](page, `window.answeredAfter`))
	page.Offline(false)
	page.Close()
}

// How long the app and the smallest go-app program take until the first tap is answered, on a phone four times slower than this machine.
func BenchmarkStart_beside_the_floor(b *testing.B) {
	floor := newFloor(b)
	figures := map[string][]float64{}
	keepFor := func(who string) func(string, float64) {
		return func(what string, ms float64) { figures[who+"-"+what] = append(figures[who+"-"+what], ms) }
	}
	counted := tapper("#floor", `Number(document.querySelector("#floor")?.textContent) > 0`)
	for b.Loop() {
		starts(b, floor, counted, counted, func(*browsertest.Page) {}, keepFor("floor"))
		server := browsertest.NewServer(b)
		starts(b, server, tapper(`[data-act="notice-accept"]`, `!!document.querySelector('[data-act="guide-next"]')`),
			tapper(`[data-act="nav-rig"]`, `location.pathname === "/rig" && document.querySelector(".question")?.textContent.length > 0 && !!document.querySelector('[data-act^="rig-add-"]')`),
			pastTheFirstSteps, keepFor("app"))
		server.Stop()
	}
	for what, list := range figures {
		b.ReportMetric(atShare(list, 50), what+"-ms")
	}
	b.ReportMetric(figureRatio(figures, "later"), "later-ratio")
	b.ReportMetric(figureRatio(figures, "first"), "first-ratio")
	b.ReportMetric(0, "ns/op")
}

// pastTheFirstSteps waits until the notice is known to be read, and puts the first steps away: a later visit begins with Setup.
func pastTheFirstSteps(p *browsertest.Page) {
	saved(p)
	saving(p, func() { p.Tap("guide-skip") })
}

// figureRatio sets the app's median beside the floor's.
func figureRatio(figures map[string][]float64, what string) float64 {
	return atShare(figures["app-"+what], 50) / atShare(figures["floor-"+what], 50)
}
