//go:build browser

package journeys

import (
	"slices"
	"strconv"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// timedPresses are how many key presses one figure is made of, after those that warm the program up.
const (
	timedPresses = 60
	warmPresses  = 15
)

// watchCard keeps, for each key press, the time from the input event until the card has changed, and until the picture that shows
// it: the change is seen, the next picture is begun, and what was posted in it runs when it is painted.
const watchCard = `(() => {
	window.changes = [];
	window.paces = [];
	let began = 0;
	window.addEventListener("input", (e) => { began = e.timeStamp; }, { capture: true });
	const painted = new MessageChannel();
	painted.port1.onmessage = (e) => window.paces.push(performance.now() - e.data);
	new MutationObserver(() => {
		if (!began) return;
		const since = began;
		began = 0;
		window.changes.push(performance.now() - since);
		requestAnimationFrame(() => painted.port2.postMessage(since));
	}).observe(document.querySelector(".settings"), { subtree: true, childList: true, characterData: true, attributes: true });
	return true;
})()`

// How long a key press in Setup takes until the new card is on the screen, on a phone four times slower than this machine. The
// median of the rounds is given of each figure; the processor time, without the slowdown, is what other programs cannot change.
func BenchmarkSetup_key_press_to_painted_card(b *testing.B) {
	_, _, page := fresh(b)
	page.Tap("setup-sample")
	ask(page, "1/8 in")
	page.Tap("setup-edit")
	page.Wait("the card is shown", `!!document.querySelector(".settings")`)
	browsertest.Eval[bool](page, watchCard)
	page.CountWork()
	figures := map[string][]float64{}
	keep := func(unit string, v float64) { figures[unit] = append(figures[unit], v) }
	for b.Loop() {
		before := page.Work()
		presses(page, warmPresses)
		after := page.Work()
		keep("cpu-ms", (after.Task-before.Task)*1e3/warmPresses)
		keep("script-cpu-ms", (after.Script-before.Script)*1e3/warmPresses)
		keep("style+layout-cpu-ms", (after.Style+after.Layout-before.Style-before.Layout)*1e3/warmPresses)
		page.SlowCPU(4)
		changes, paces := presses(page, timedPresses)
		page.SlowCPU(1)
		keep("changed-ms", atShare(changes, 50))
		keep("painted-ms", atShare(paces, 50))
		keep("painted-p95-ms", atShare(paces, 95))
	}
	for unit, list := range figures {
		b.ReportMetric(atShare(list, 50), unit)
	}
	b.ReportMetric(0, "ns/op")
}

// presses replaces the thickness n times by another, each in one key press, and gives the milliseconds until the card had changed
// and until it was painted.
func presses(page *browsertest.Page, n int) (changes, paces []float64) {
	browsertest.Eval[bool](page, `(window.changes = [], window.paces = [], true)`)
	texts := []string{"2 mm", "3 mm", "4 mm", "5 mm"}
	for i := range n {
		page.Paste("setup-thickness", texts[i%len(texts)])
		page.Wait("the card is painted", `window.paces.length > `+strconv.Itoa(i))
	}
	return browsertest.Eval[[]float64](page, `window.changes`), browsertest.Eval[[]float64](page, `window.paces`)
}

// atShare is the figure that so many in a hundred do not exceed.
func atShare(list []float64, percent int) float64 {
	slices.Sort(list)
	return list[len(list)*percent/100]
}
