//go:build browser

package journeys

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"torchside/pwa/journeys/browsertest"
)

// heard keeps what is read aloud, and how it was asked for.
const heard = `window.heard = []; Object.defineProperty(window, "speechSynthesis", { value: {
	speak: (words) => window.heard.push(words.text), cancel: () => window.heard.push("hush"), getVoices: () => [] } });`

// bounce is how long a second tap on the same button counts as the bounce of a glove.
const bounce = 450 * time.Millisecond

// orderAt waits until the open order is at a step.
func orderAt(p *browsertest.Page, n int) {
	p.Wait("step "+strconv.Itoa(n), `document.querySelector("[data-val=order-count]")?.textContent.startsWith("Step `+strconv.Itoa(n)+` of ")`)
}

// covered lists the lines of the open step that the way on lies over, and those no scrolling brings between the corner and the bottom bar,
// at the top of the page and further down.
const covered = `(async () => {
	const faults = new Set(), seen = new Set(), all = new Set();
	const screen = document.querySelector(".order-screen"), on = document.querySelector("[data-act=order-next], [data-act=order-end]");
	const drawn = () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
	const lines = () => {
		const list = [], walk = document.createTreeWalker(screen, NodeFilter.SHOW_TEXT);
		while (walk.nextNode()) {
			const node = walk.currentNode;
			if (!node.data.trim() || on.contains(node) || !node.parentElement.checkVisibility()) continue;
			const range = document.createRange();
			range.selectNodeContents(node);
			[...range.getClientRects()].forEach((box, n) => list.push({ box, name: node.data.trim().slice(0, 40) + " (line " + (n + 1) + ")" }));
		}
		return list;
	};
	const bar = () => document.querySelector(".bar").getBoundingClientRect();
	for (let at = 0; ; at += 120) {
		scrollTo(0, at);
		await drawn();
		const over = on.getBoundingClientRect();
		for (const { box, name } of lines()) {
			all.add(name);
			if (box.top < over.bottom && box.bottom > over.top && box.left < over.right && box.right > over.left) faults.add("the way on lies over " + name);
			if (box.top >= 0 && box.bottom <= bar().top) seen.add(name);
		}
		if (at >= document.documentElement.scrollHeight - innerHeight) break;
	}
	for (const name of all) if (!seen.has(name)) faults.add("no scrolling shows " + name);
	scrollTo(0, 0);
	await drawn();
	const top = on.getBoundingClientRect();
	window.inSight = top.bottom <= bar().top + 1;
	return [...faults, ...(all.size > 2 ? [] : ["there is nothing to read"])];
})()`

// through goes through an order from its first step to the end by the big button and returns the names of its steps.
func through(t *testing.T, p *browsertest.Page, id string) []string {
	t.Helper()
	p.Tap("order-open-" + id)
	orderAt(p, 1)
	words := strings.Fields(p.Text("order-count"))
	n, err := strconv.Atoi(words[len(words)-1])
	if err != nil {
		t.Fatal(err)
	}
	var steps []string
	below := map[int64]int{}
	for i := 1; ; i++ {
		steps = append(steps, browsertest.Eval[string](p, `document.querySelector("[data-val=order-do]").dataset.step`))
		if p.Text("order-do") == "" || !strings.HasPrefix(p.Text("order-source"), "Source: ") {
			t.Errorf("%s, step %d is empty or has no source", id, i)
		}
		for _, size := range [][2]int64{{360, 640}, {390, 844}} {
			p.Size(size[0], size[1])
			for _, words := range browsertest.Eval[[]string](p, covered) {
				t.Errorf("%s, step %d, %d × %d: %s", id, i, size[0], size[1], words)
			}
			if !browsertest.Eval[bool](p, `inSight`) {
				below[size[0]]++
			}
		}
		if i == n {
			break
		}
		p.Tap("order-next")
		orderAt(p, i+1)
		time.Sleep(bounce)
	}
	t.Logf("%s: of %d steps are longer than a window of 360 × 640: %d, of 390 × 844: %d", id, n, below[360], below[390])
	p.Tap("order-end")
	p.Wait("the list", `!!document.querySelector("[data-act=order-open-setup]")`)
	return steps
}

// Every order of work, without the server: whole, in the safe order, with the numbers of the card and the valve order of the owner.
func TestOrdersOfWorkOffline(t *testing.T) {
	server, profile, page := fresh(t)
	goTo(page, "setup")
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	page.Close()
	server.Stop()
	profile.Expect("ERR_CONNECTION_REFUSED")
	page = profile.Open("/bench")
	page.Tap("to-orders")
	page.Wait("the list", `!!document.querySelector("[data-act=order-open-setup]")`)
	sound(t, page, "orders")
	page.Go("/orders?order=light&step=6")
	page.Wants("order-missing", "Ask Setup")
	ask(page, "1/8 in")
	oxygen := page.Text("oxygen.regulator_gauge_pa")
	page.Go("/orders?order=light")
	page.Wants("order.shade")
	shots(page, "order-shade")
	page.Size(360, 640)
	page.Shot("order-shade-small")
	page.Size(390, 844)
	page.Go("/orders")
	want := map[string]string{
		"squeals": "oxygen-shut fuel-shut stopped cylinders", "popped": "oxygen-shut listen", "warm": "get-out keep-away call say never",
		"fitting-fire": "reach close not-out", "smell": "no-spark close air", "frozen": "stop thaw test", "creeping": "close release screws-out",
		"pause": "fuel-shut hang", "close": "fuel-shut fuel-cylinder oxygen-cylinder fuel-bleed oxygen-bleed screws-out",
		"light": "dress tip torch-shut screws-out oxygen-open oxygen-set oxygen-purge", "light-cutting": "dress tip torch-shut screws-out oxygen-open oxygen-set-cutting",
		"setup": "upright settled look crack regulators screws-out",
	}
	for id, start := range want {
		if steps := strings.Join(through(t, page, id), " "); !strings.HasPrefix(steps, start) {
			t.Errorf("%s goes %s, wanted %s", id, steps, start)
		}
	}

	page.Go("/orders?order=light&step=6")
	page.Wants("order.oxygen")
	if got := page.Text("order.oxygen"); got != oxygen {
		t.Errorf("the order says %q, the card %q", got, oxygen)
	}
	sound(t, page, "order-step")
	page.Tap("order-next")
	page.Wants("order.purge_oxygen", "s")
	page.Reload()
	orderAt(page, 7)
	page.Go("/orders")
	page.Tap("order-open-pause")
	orderAt(page, 1)
	page.Back()
	page.Wait("the way back closes the order", `!!document.querySelector("[data-act=order-open-pause]")`)
}

// What the owner chose where sources differ is kept with the torch; a whole order stands on one page; the way back closes it.
func TestOrderChoiceOfTheTorch(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "setup")
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	page.Go("/orders?order=close")
	page.Wants("order-do", "Close the torch fuel valve")
	page.Tap("order-choice-shut_first")
	sound(t, page, "order-choice")
	saving(page, func() { page.Tap("shut_first-oxygen") })
	page.Wants("order-do", "Close the torch oxygen valve")
	page.Reload()
	page.Wants("order-do", "Close the torch oxygen valve")
	page.Tap("order-whole")
	page.Wants("order-all", "Close the torch oxygen valve")
	page.WantsText("Fire watch: stay 60 minutes")
	sound(t, page, "order-whole")
	page.Go("/orders?order=squeals")
	page.Wants("get-out", "Get out, everybody, now.")
	page.Wants("order-do", "Close the torch oxygen valve. Now.")
	sound(t, page, "order-squeals")
	page.Tap("order-close")
	page.Tap("order-open-close")
	page.Wants("order-do", "Close the torch oxygen valve, then")
}

// Reading aloud begins when it is asked for, speaks each step as it comes, and stops when the page is left.
func TestOrderReadAloud(t *testing.T) {
	server := browsertest.NewServer(t)
	profile := browsertest.NewProfile(t, server)
	profile.OnNew(heard)
	page := profile.Open("/")
	accept(page)
	page.Go("/orders?order=warm")
	page.Wants("order-do", "Get out.")
	page.Tap("order-aloud")
	page.Wait("the first step is read", `window.heard.at(-1)?.startsWith("Step 1. Get out.")`)
	page.Tap("order-next")
	page.Wait("the second step is read", `window.heard.at(-1)?.startsWith("Step 2. Keep people away")`)
	goTo(page, "rig")
	page.Wait("it is silent", `window.heard.at(-1) === "hush"`)
}
