//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// toBench opens a page that Bench leads to.
func toBench(p *browsertest.Page, act string) {
	goTo(p, "bench")
	p.Tap(act)
}

// A fire watch, a settling cylinder and two timers of one name run at once and are seen from every page; bad times are refused; all of
// it outlives the page and the server, and an hour later the fire watch is over, with no network.
func TestTimersOutliveThePage(t *testing.T) {
	server, profile, page := fresh(t)
	toBench(page, "to-timers")
	page.Wants("timer-caution", "29 CFR 1910.252(a)(2)")
	page.Wants("timer-rules", "1:00:00", "NFPA 51B", "30:00")
	sound(t, page, "timers")
	shots(page, "timers-fire")
	refusesTimes(page)
	page.Tap("timer-purpose-fire_watch")
	noBounce(page)
	saving(page, func() { page.Tap("timer-start") })
	page.Wants("timer.bar", "left")
	page.Wants("timer.device", "Sound is ready")
	page.Tap("timer-purpose-settling")
	page.Type("timer-lain", "90 min")
	page.Wants("timer-rules", "3:00:00", "twice the", "2:00:00", "45:00")
	shots(page, "timers-settling")
	noBounce(page)
	page.Tap("timer-start")
	page.Wait("two timers run", `document.querySelectorAll("[data-val=timer]").length === 2`)
	page.Tap("timer-purpose-free")
	for _, n := range []string{"3", "4"} {
		page.Type("timer-run", "100 min")
		page.Type("timer-name", "Glue")
		noBounce(page)
		page.Tap("timer-start")
		page.Wait(n+" timers run", `document.querySelectorAll("[data-val=timer]").length === `+n)
	}
	page.WantsText("Glue (2)")
	sound(t, page, "timers-run")
	shots(page, "timers-run")
	for _, place := range []string{"setup", "leak", "journal", "rig"} {
		goTo(page, place)
		page.Wait("all four are seen", `document.querySelectorAll("[data-val=timer]").length === 4`)
	}
	page.Kill()
	server.Stop()

	profile.Expect("ERR_CONNECTION_REFUSED")
	profile.OnNew(later(25))
	mid := profile.Open("/journal")
	mid.Wants("timer.bar", "Go round the room now")
	shots(mid, "timers-round")
	mid.Tap(hookStarting(t, mid, "timer-round-"))
	mid.Wait("no round is asked for", `![...document.querySelectorAll("[data-val='timer.bar']")].some((e) => e.innerText.includes("round"))`)
	mid.Close()
	profile.OnNew(later(37)) // on top of the 25
	end := profile.Open("/rig")
	end.Wants("timer.bar", "ended", "ago")
	end.Tap(hookStarting(t, end, "timer-heard-"))
	end.Wait("three timers run", `document.querySelectorAll("[data-val=timer]").length === 3`)
	toBench(end, "to-timers")
	end.Wants("timers-over", "Fire watch", "ran its 1:00:00", "1 round of the room")
	end.Tap(browsertest.Eval[string](end, `document.querySelector("[data-act^=timer-stop-]").dataset.act`))
	end.Wait("two timers run", `document.querySelectorAll("[data-val=timer]").length === 2`)
	end.Tap("undo")
	end.Wait("three timers run again", `document.querySelectorAll("[data-val=timer]").length === 3`)
	shots(end, "timers-over")
	end.Close()
}

// refusesTimes types times that cannot be, each of which is answered beside the field, and leaves the field empty.
func refusesTimes(p *browsertest.Page) {
	p.Tap("timer-purpose-cooling")
	for _, bad := range []typed{{"soon", "allowed"}, {"0", "read 0 min; allowed is 0.1 to 4320 min"}, {"10000", "read 10000 min; allowed is 0.1 to 4320 min"}} {
		p.Type("timer-run", bad.act)
		p.WantsText(bad.text)
		p.Wants("timer-run", bad.act)
	}
	p.Tap("timer-start")
	p.Wants("timer-problem", "Not started")
	p.Lacks("timer")
	p.Shot("timers-refused")
	p.Type("timer-run", "")
}

// The reminder of a lit torch is off until it is switched on; then Setup offers to start it, it asks, and leads to the fire watch.
func TestTorchLeftLit(t *testing.T) {
	_, profile, page := fresh(t)
	goTo(page, "setup")
	page.Tap("setup-sample")
	ask(page, "1/8 in")
	page.Lacks("torch-lit")
	toBench(page, "to-timers")
	saving(page, func() { page.Tap("torch-every-5") })
	goTo(page, "setup")
	page.Tap("torch-lit")
	page.Wants("timer.bar", "left")
	page.Lacks("torch-lit")
	page.Close()
	profile.OnNew(later(6))
	again := profile.Open("/")
	again.Wants("timer.bar", "Is it still lit?")
	shots(again, "torch-asks")
	again.Tap(hookStarting(t, again, "torch-is-out-"))
	again.Wants("timer-caution", "Watch from the last flame")
	again.Lacks("timer")
	sound(t, again, "torch-out")
}

// noBounce lets pass the time in which the same tap again is taken for a bounce of the glove.
func noBounce(p *browsertest.Page) {
	browsertest.Eval[bool](p, `new Promise((done) => setTimeout(() => done(true), 500))`)
}

// firstHook is the first control whose hook begins so and which says the words, once there is one.
func firstHook(p *browsertest.Page, prefix, words string) string {
	find := `[...document.querySelectorAll("[data-act^='` + prefix + `']")].find((e) => e.innerText.includes(` + quote(words) + `))`
	p.Wait("there is "+prefix+" "+words, `!!`+find)
	return browsertest.Eval[string](p, find+`.dataset.act`)
}
