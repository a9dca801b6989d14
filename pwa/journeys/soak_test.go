//go:build browser

package journeys

import (
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"time"

	"torchside/pwa/journeys/browsertest"
)

// oneAct does one thing that a person might do: taps a control in the page, or types into a field. It leaves alone what goes away from
// the app, what takes everything with it, and what asks the system.
const oneAct = `((n, text) => {
	const shy = /^(emergency|to-abilities|wall-print|call-|export|import|language|notice|bench-erase|erase|store-|units-row|photo|sheet-photo|upkeep-photo|arm|update|restart|install|sync|join|device|pair)/;
	const can = [...document.querySelectorAll("[data-act]")].filter((e) => !shy.test(e.dataset.act) && e.offsetParent !== null && !e.disabled && !e.closest("[data-static]"));
	if (can.length === 0) return "";
	const e = can[n % can.length];
	const field = e.matches("input[type=text], input:not([type]), textarea") ? e : null;
	if (field) {
		field.focus();
		field.value = text;
		field.dispatchEvent(new InputEvent("input", { bubbles: true }));
	} else {
		e.click();
	}
	return e.dataset.act;
})`

// soakTexts are things people type, right and wrong.
var soakTexts = []string{"1/8 in", "3 mm", "", "-4", "2 bar", "12,5", "zażółć gęślą", "🔥🔥", "10 000", "20 min", "name", "0"}

// What a long time of use leaves behind: a scripted person taps and types at random, with the network coming and going. The memory that is
// still held, after each share of the time, and the threads of the program are printed; a program that ended fails. TORCHSIDE_SOAK says how
// long, such as 10m.
func BenchmarkSoak(b *testing.B) {
	long, err := time.ParseDuration(os.Getenv("TORCHSIDE_SOAK"))
	if err != nil {
		b.Skip("TORCHSIDE_SOAK does not say how long: run .ci/soak.sh")
	}
	server := browsertest.NewServer(b)
	profile := browsertest.NewProfile(b, server)
	profile.Expect("ERR_INTERNET_DISCONNECTED")
	profile.Expect("vibrate")
	profile.OnNew(timing)
	page := profile.Open("/")
	accept(page)
	page.Tap("setup-sample")
	ask(page, "1/8 in")
	random := rand.New(rand.NewPCG(20, 26))
	const shares = 5
	acts := 0
	for range b.N {
		b.Logf("act\tJS heap MB\tprogram MB\tthreads\telements")
		for share := range shares + 1 {
			b.Logf("%d\t%.1f\t%.1f\t%.0f\t%.0f", acts, page.HeapInUse()/1e6, browsertest.Eval[float64](page, `window.programMemory.buffer.byteLength`)/1e6,
				browsertest.Eval[float64](page, `torchsideThreads()`), browsertest.Eval[float64](page, `document.querySelectorAll("*").length`))
			if share == shares {
				break
			}
			acts += soak(b, page, random, long/shares)
			settle(page)
		}
	}
	b.ReportMetric(float64(acts), "acts")
	b.ReportMetric(page.HeapInUse()/1e6, "js-heap-MB")
	b.ReportMetric(browsertest.Eval[float64](page, `torchsideThreads()`), "threads")
	b.ReportMetric(0, "ns/op")
}

// soak does what oneAct does for that long, and gives how many.
func soak(b *testing.B, page *browsertest.Page, random *rand.Rand, long time.Duration) int {
	acts, offline := 0, false
	for end := time.Now().Add(long); time.Now().Before(end); acts++ {
		if acts%50 == 49 {
			offline = !offline
			page.Offline(offline)
		}
		text := soakTexts[random.IntN(len(soakTexts))]
		did := browsertest.Eval[string](page, oneAct+`(`+strconv.Itoa(random.IntN(1<<20))+`, `+quote(text)+`)`)
		browsertest.Eval[bool](page, `new Promise((done) => setTimeout(() => done(true), 60))`)
		if browsertest.Eval[bool](page, `!!document.getElementById("torchside-stopped")`) {
			b.Fatalf("the program ended after act %d, %s %q", acts, did, text)
		}
	}
	page.Offline(false)
	return acts
}

// settle goes to a page that is the same each time. A panel that is still open goes back in the history when it closes, and may take
// the first tap with it.
func settle(page *browsertest.Page) {
	browsertest.Eval[bool](page, `(document.querySelector("dialog[open] [data-act$=close]")?.click(), true)`)
	noBounce(page)
	browsertest.Eval[bool](page, `(window.goingToBench = setInterval(() => document.querySelector("[data-act=nav-bench]").click(), 1000), true)`)
	page.Wait("bench is open", `document.querySelector("[data-act=nav-bench]").getAttribute("aria-current") === "page"`)
	browsertest.Eval[bool](page, `(clearInterval(window.goingToBench), true)`)
	noBounce(page)
}
