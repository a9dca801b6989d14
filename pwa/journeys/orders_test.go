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
	for i := 1; ; i++ {
		steps = append(steps, browsertest.Eval[string](p, `document.querySelector("[data-val=order-do]").dataset.step`))
		if p.Text("order-do") == "" || !strings.HasPrefix(p.Text("order-source"), "Source: ") {
			t.Errorf("%s, step %d is empty or has no source", id, i)
		}
		if i == n {
			break
		}
		p.Tap("order-next")
		orderAt(p, i+1)
		time.Sleep(bounce)
	}
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
	page.Wants("order-missing", "Ask Setup")
	ask(page, "1/8 in")
	oxygen := page.Text("oxygen.regulator_gauge_pa")
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
