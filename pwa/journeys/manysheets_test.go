//go:build browser

package journeys

import (
	"slices"
	"strconv"
	"testing"
	"time"

	"torchside/pwa/journeys/browsertest"
)

// manySheets is a working life of them: two a day for 27 years.
const manySheets = 20_000

// timing keeps the memory of the program, and for the next tap or letter, the time until a condition holds on the page and is painted.
const timing = `window.timed = (condition) => {
	window.took = -1;
	let began = 0;
	const start = (e) => { began = e.timeStamp; };
	for (const kind of ["click", "input"]) window.addEventListener(kind, start, { capture: true });
	const painted = new MessageChannel();
	painted.port1.onmessage = () => { window.took = performance.now() - began; };
	const seen = new MutationObserver(() => {
		if (!began || !condition()) return;
		seen.disconnect();
		for (const kind of ["click", "input"]) window.removeEventListener(kind, start, { capture: true });
		requestAnimationFrame(() => painted.port2.postMessage(0));
	});
	seen.observe(document, { subtree: true, childList: true, characterData: true, attributes: true });
	return true;
};
for (const name of ["instantiate", "instantiateStreaming"]) {
	const real = WebAssembly[name];
	WebAssembly[name] = async (...a) => {
		const made = await real.apply(WebAssembly, a);
		window.programMemory = (made.instance ?? made).exports.mem;
		return made;
	};
}`

// took gives the milliseconds from an action until the condition holds on the screen.
func took(page *browsertest.Page, condition string, action func()) float64 {
	browsertest.Eval[bool](page, `window.timed(() => `+condition+`)`)
	action()
	page.Wait("it is painted: "+condition, `window.took >= 0`)
	return browsertest.Eval[float64](page, `window.took`)
}

const (
	total = `document.querySelector('[data-val="journal-total"]')?.textContent ?? ""`
	rows  = `document.querySelectorAll(".sheet-row").length`
)

// How long the journal's page takes to open, filter, search and show more with 20 000 sheets, on a phone four times slower than this
// machine, from the tap until it is painted; and how much memory the page holds. The figures are printed; nothing is decided by them.
func BenchmarkJournal_of_20000_sheets(b *testing.B) {
	server := browsertest.NewServer(b)
	profile := browsertest.NewProfile(b, server)
	profile.OnNew(timing)
	page := profile.Open("/")
	accept(page)
	path := journalFile(b, manySheets)
	began := time.Now()
	goTo(page, "bench")
	page.Upload("import", path)
	page.WaitLong("the file is checked", `!!document.querySelector('[data-act="import-accept"]')`)
	checked := time.Since(began)
	page.Tap("import-accept")
	page.WaitLong("the file is read in", `document.querySelector('[data-val="transfer-report"]')?.textContent.startsWith("Read in:")`)
	b.ReportMetric(checked.Seconds(), "check-s")
	b.ReportMetric(time.Since(began).Seconds()-checked.Seconds(), "import-s")
	figures := map[string][]float64{}
	for b.Loop() {
		oneRound(page, func(what string, ms float64) { figures[what] = append(figures[what], ms) })
	}
	for what, list := range figures {
		slices.Sort(list)
		b.ReportMetric(list[len(list)/2], what+"-ms")
		b.ReportMetric(list[len(list)-1], what+"-worst-ms")
	}
	b.ReportMetric(browsertest.Eval[float64](page, `performance.memory.usedJSHeapSize / 1e6`), "js-heap-MB")
	b.ReportMetric(browsertest.Eval[float64](page, `window.programMemory.buffer.byteLength / 1e6`), "program-MB")
	b.ReportMetric(0, "ns/op")
}

// oneRound goes through the journal once.
func oneRound(page *browsertest.Page, keep func(what string, ms float64)) {
	goTo(page, "setup")
	page.SlowCPU(4)
	all := strconv.Itoa(manySheets)
	keep("open", took(page, rows+` === 20 && (`+total+`).startsWith("`+all+`")`, func() { page.Tap("nav-journal") }))
	keep("more", took(page, rows+` === 70`, func() { page.Tap("journal-more") }))
	keep("filter-panel", took(page, `!!document.querySelector('[data-act="filter-month"]')`, func() { page.Tap("filter") }))
	keep("filter", took(page, `(`+total+`).endsWith("found")`, func() { page.Tap("filter-work-weld") }))
	keep("second-filter", took(page, `!(`+total+`).startsWith(window.before) && (`+total+`).endsWith("found")`, func() {
		browsertest.Eval[bool](page, `(window.before = `+total+`, true)`)
		page.Tap("filter-class-1-2")
	}))
	keep("clear", took(page, `(`+total+`).startsWith("`+all+`")`, func() { page.Tap("filter-clear") }))
	page.Tap("filter")
	keep("search", took(page, `(`+total+`).endsWith("found")`, func() { page.Paste("journal-search", "hinge pud") }))
	keep("search-rare", took(page, `!(`+total+`).startsWith(window.before)`, func() {
		browsertest.Eval[bool](page, `(window.before = `+total+`, true)`)
		page.Paste("journal-search", "hinge größer żelazo 鉄")
	}))
	keep("search-end", took(page, `(`+total+`).startsWith("`+all+`")`, func() { page.Paste("journal-search", "") }))
	keep("trends", took(page, `!!document.querySelector(".plot")`, func() { page.Tap("view-trends") }))
	page.Tap("journal-back")
	keep("drills", took(page, `document.querySelectorAll(".drill-blue, .drill-straw, .drill-bronze, .drill-purple").length > 5`, func() { page.Tap("view-drills") }))
	page.Tap("journal-back")
	page.SlowCPU(1)
}
