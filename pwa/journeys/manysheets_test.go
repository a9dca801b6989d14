//go:build browser

package journeys

import (
	"os"
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
	const look = () => {
		if (!began || !condition()) return;
		seen.disconnect();
		document.removeEventListener("load", look, true);
		for (const kind of ["click", "input"]) window.removeEventListener(kind, start, { capture: true });
		requestAnimationFrame(() => painted.port2.postMessage(0));
	};
	const seen = new MutationObserver(look);
	document.addEventListener("load", look, true); // of pictures
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
	path := everythingFile(b)
	began := time.Now()
	goTo(page, "bench")
	page.Upload("import", path)
	page.WaitLong("the file is checked", `!!document.querySelector('[data-act="import-accept"]')`)
	checked := time.Since(began)
	page.Tap("import-accept")
	page.WaitLong("the file is read in", `document.querySelector('[data-val="transfer-report"]')?.textContent.startsWith("Read in:")`)
	imported := time.Since(began) - checked
	figures := map[string][]float64{}
	for b.Loop() {
		oneRound(page, func(what string, ms float64) { figures[what] = append(figures[what], ms) })
	}
	// After the rounds: their beginning throws away what was reported before.
	b.ReportMetric(checked.Seconds(), "check-s")
	b.ReportMetric(imported.Seconds(), "import-s")
	for what, list := range figures {
		slices.Sort(list)
		b.ReportMetric(list[len(list)/2], what+"-ms")
		b.ReportMetric(list[len(list)-1], what+"-worst-ms")
	}
	b.ReportMetric(browsertest.Eval[float64](page, `performance.memory.usedJSHeapSize / 1e6`), "js-heap-MB")
	b.ReportMetric(browsertest.Eval[float64](page, `window.programMemory.buffer.byteLength / 1e6`), "program-MB")
	beside(page, b.ReportMetric)
	handedOver(profile, page, b.ReportMetric)
	b.ReportMetric(0, "ns/op")
}

// beside opens what lies beside the journal's list, on the slowed phone: the leak tests, the newest of them, and the newest sheet with its
// photo.
func beside(page *browsertest.Page, keep func(value float64, unit string)) {
	goTo(page, "setup")
	page.SlowCPU(4)
	keep(took(page, leakTests+` > 0`, func() { page.Tap("nav-leak") }), "leak-tests-ms")
	keep(browsertest.Eval[float64](page, `document.querySelectorAll("*").length`), "leak-tests-elements")
	keep(took(page, `!!document.querySelector('[data-val="leak-section"]')`, func() {
		page.Tap(browsertest.Eval[string](page, `document.querySelector("[data-act^=leak-open-]").dataset.act`))
	}), "leak-test-ms")
	keep(took(page, leakTests+` > 0`, func() { page.Tap("leak-close") }), "leak-close-ms")
	goTo(page, "journal")
	page.Wait("the sheets are listed", rows+` > 0`)
	keep(took(page, shownPhoto, func() {
		page.Tap(browsertest.Eval[string](page, `document.querySelector(".sheet-row[data-act]").dataset.act`))
	}), "sheet-with-photo-ms")
	page.SlowCPU(1)
}

// shownPhoto is true once the first photo of an open sheet is drawn; only what is in sight is, so it goes there.
const shownPhoto = `(() => {
	const photo = document.querySelector('[data-val="sheet-title"]') && document.querySelector("img.photo-img");
	photo?.scrollIntoView({ block: "center", behavior: "instant" });
	return photo?.naturalWidth > 0;
})()`

// leakTests is how many tests are listed.
const leakTests = `document.querySelectorAll("[data-act^=leak-open-]").length`

// handedOver hands everything over, and looks ten times a second how much memory that takes.
func handedOver(profile *browsertest.Profile, page *browsertest.Page, keep func(value float64, unit string)) {
	goTo(page, "bench")
	before := page.HeapInUse()
	program := browsertest.Eval[float64](page, `window.programMemory.buffer.byteLength`)
	browsertest.Eval[bool](page, `(window.most = 0, window.watch = setInterval(() => {
		window.most = Math.max(window.most, performance.memory.usedJSHeapSize);
	}, 100), true)`)
	began := time.Now()
	page.Tap("export")
	page.WaitLong("the file is written", `document.querySelector('[data-val="transfer-report"]')?.textContent.startsWith("Written")`)
	keep(time.Since(began).Seconds(), "export-s")
	path := profile.Downloaded()
	keep(browsertest.Eval[float64](page, `(clearInterval(window.watch), window.most)`)/1e6-before/1e6, "export-js-rise-MB")
	keep(browsertest.Eval[float64](page, `window.programMemory.buffer.byteLength`)/1e6-program/1e6, "export-program-rise-MB")
	if info, err := os.Stat(path); err == nil {
		keep(float64(info.Size())/1e6, "export-MB")
	}
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
