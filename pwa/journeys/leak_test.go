//go:build browser

package journeys

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// later is a script that sets the clock of every new document forward.
func later(minutes int) string {
	return fmt.Sprintf(`(() => {
		const Real = Date, ms = %d * 60000;
		window.Date = class extends Real {
			constructor(...given) { if (given.length) super(...given); else super(Real.now() + ms); }
			static now() { return Real.now() + ms; }
		};
	})()`, minutes)
}

// prepareLeak goes from the list of leak tests to the start readings of a section.
func prepareLeak(p *browsertest.Page, section, line string) {
	p.Tap("leak-begin-" + section + "-" + line)
	p.Wants("no_flame", "No flame")
	p.Tap("leak-prepared")
	p.Wants("leak-gauge")
}

// fillIn types texts into fields and waits until the last was read.
func fillIn(p *browsertest.Page, fields ...typed) {
	for _, f := range fields {
		p.Type(f.act, f.text)
	}
}

// verdictBy asks the command line what the page was asked.
func verdictBy(t *testing.T, volume, volumeError, seconds float64) string {
	t.Helper()
	question, err := json.Marshal(map[string]any{
		"gas": "oxygen", "volume_m3": volume, "volume_error_m3": volumeError, "start_abs_pa": 101325 + 25*psi, "end_abs_pa": 101325 + 25*psi,
		"start_temperature_k": 293.15, "end_temperature_k": 293.15, "duration_s": seconds, "pressure_reading_error_pa": psi / 4, "temperature_reading_error_k": 0.5,
		"barometer_error_pa": 200,
	})
	if err != nil {
		t.Fatal(err)
	}
	var a struct {
		Verdict string `json:"verdict"`
	}
	if err := json.Unmarshal(browsertest.Compute(t, "leak", question), &a); err != nil {
		t.Fatal(err)
	}
	return a.Verdict
}

// A test of ten minutes outlives the page and the server: the page's process is killed, the server stopped, and ten minutes later, with no
// network, the time is up, the readings give a verdict, and after one more reload test and history show the verdict.
func TestLeakTestOutlivesPageAndServer(t *testing.T) {
	server, profile, page := fresh(t)
	enterRig(page)
	goTo(page, "leak")
	shots(page, "leak-list-empty")
	page.Tap("leak-begin-oxygen_delivery-oxygen")
	page.Wants("no_flame", "No flame")
	sound(t, page, "leak-prepare")
	shots(page, "leak-prepare")
	page.Tap("leak-prepared")
	fillIn(page, typed{"leak-division", "0.5 psi"}, typed{"leak-gauge", "25 psi"}, typed{"leak-temperature", "20"}, typed{"leak-duration", "10 min"})
	page.Tap("leak-thermometer-0.5")
	page.Wants("leak-need", "must run", "In 10 min")
	page.Wants("leak.volume", "L")
	sound(t, page, "leak-start")
	shots(page, "leak-start")
	page.Tap("leak-start")
	page.Wants("timer.word", "left until")
	page.Wants("timer.bar", "left")
	page.Wants("timer.device", "Sound is ready", "set a phone alarm too")
	shots(page, "leak-runs")
	goTo(page, "setup")
	page.Wants("timer.bar", "left")
	page.Kill()
	server.Stop()

	profile.Expect("ERR_CONNECTION_REFUSED")
	profile.OnNew(later(10))
	again := profile.Open("/leak")
	again.Wants("timer.bar", "ended", "ago")
	again.Wants("timer", "I heard it")
	alarms(again)
	again.Tap(hookStarting(t, again, "leak-open-"))
	again.Wants("timer.word", "ended", "ago")
	shots(again, "leak-time-is-up")
	again.Tap("leak-same-gauge")
	again.Wants("leak-reading-gauge", "25 psi")
	again.Tap("leak-same-temperature")
	again.Wants("leak-reading-temperature", "20")
	again.Tap("leak-note")
	again.Wants("leak.verdict")
	want := verdictBy(t, handVolume, handVolumeError, 605)
	again.Wants("leak.verdict", strings.ToUpper(want[:1])+want[1:])
	shots(again, "leak-verdict-so-far")
	saving(again, func() { again.Tap("leak-end") })
	again.Wants("leak-retest", "again")
	sound(t, again, "leak-ended")
	shots(again, "leak-ended")
	again.Reload()
	again.Lacks("timer")
	again.Wants("leak-readings", "Start", "25 psi", "After 10 min")
	again.Back()
	again.Wants("leak-history-oxygen_delivery-oxygen", strings.ToUpper(want[:1])+want[1:])
	shots(again, "leak-history")
	again.Tap(hookStarting(t, again, "leak-open-"))
	again.Wants("leak-readings", "Start", "25 psi", "After 10 min")
	again.Close()
}

// alarms looks whether a timer that has run out flashes no faster than once a second (WCAG 2.3.1 allows three), and stands still for who
// has asked for less motion.
func alarms(p *browsertest.Page) {
	const frame = `getComputedStyle(document.querySelector(".alarm-frame"))`
	p.Wait("the frame flashes once a second", frame+`.animationName === "alarm" && `+frame+`.animationDuration === "1s"`)
	p.Prefers("dark", true)
	p.Wait("the frame stands still", frame+`.animationName === "none" && `+frame+`.opacity === "1"`)
	p.Prefers("dark", false)
}

// The oxygen delivery side of handRig: 25 ft of 1/4 in hose, the outlet of a regulator and a torch; errors as calc/leak states them.
const (
	handHose        = math.Pi / 4 * (0.25 * inch) * (0.25 * inch) * 25 * foot
	handRemembered  = 60e-6 + 5e-6
	handVolume      = handHose + handRemembered
	handVolumeError = 0.15*handHose + 0.5*handRemembered
)

// A leak leads to the joint, the joint to a second test, and the second test to the first. Both gases are tested at once, and acetylene
// above 15 psi is refused with the rule.
func TestLeakIsFoundAndTestedAgain(t *testing.T) {
	_, profile, page := fresh(t)
	enterRig(page)
	goTo(page, "bench")
	saving(page, func() { page.Tap("units-us") })
	goTo(page, "leak")
	shots(page, "leak-list-us")
	prepareLeak(page, "fuel_delivery", "fuel")
	fillIn(page, typed{"leak-division", "1"}, typed{"leak-gauge", "16"}, typed{"leak-temperature", "68"})
	page.WantsText("29 CFR 1910.253(a)(2)")
	page.Tap("leak-start")
	page.Wants("leak-problem", "Not started")
	page.Wants("leak-gauge", "16")
	shots(page, "leak-acetylene-refused")
	page.Reload()
	page.Wants("leak-restored", "begun")
	page.Wants("leak-gauge", "16")
	fillIn(page, typed{"leak-gauge", "10"})
	shots(page, "leak-start-us")
	page.Tap("leak-start")
	page.Wants("timer.word", "left until")
	page.Tap("leak-close")
	prepareLeak(page, "oxygen_delivery", "oxygen")
	fillIn(page, typed{"leak-division", "1"}, typed{"leak-gauge", "25"}, typed{"leak-temperature", "68"})
	page.Tap("leak-start")
	page.Wants("timer.word", "left until")
	page.Tap("leak-close")
	page.Wait("both tests run", `document.querySelectorAll("[data-val=timer]").length === 2`)
	shots(page, "leak-both-run")
	sound(t, page, "leak-both-run")
	page.Close()

	profile.OnNew(later(30))
	again := profile.Open("/leak")
	leaks(t, again)
}

// leaks notes a fallen gauge, looks for the joint, mends it, and tests again.
func leaks(t *testing.T, p *browsertest.Page) {
	p.Tap(openOf(t, p, "oxygen delivery"))
	p.Tap("leak-reading-gauge-down")
	p.Wants("leak-reading-gauge", "24")
	p.Type("leak-reading-gauge", "12")
	p.Tap("leak-same-temperature")
	p.Tap("leak-note")
	p.Wants("leak.verdict", "Leaking")
	p.Wants("leak.per_week")
	p.Wants("leak.oxygen", "%")
	sound(t, p, "leak-leaking")
	shots(p, "leak-leaking")
	p.Tap("joint-hose_torch-bubbles")
	p.WantsText("Let the pressure off. Tighten")
	p.Tap("joint-hose_torch-fixed")
	saving(p, func() { p.Tap("leak-end") })
	p.Tap("leak-retest")
	p.Tap("leak-prepared")
	fillIn(p, typed{"leak-gauge", "25"}, typed{"leak-temperature", "68"})
	p.Tap("leak-start")
	p.Wants("timer.word", "left until")
	p.Tap("leak-same-gauge")
	p.Tap("leak-same-temperature")
	p.Wait("a second has passed", `(window.seen ??= performance.now()) + 1100 < performance.now()`)
	p.Tap("leak-note")
	p.Wants("leak.verdict", "Undecided")
	p.Wants("leak.lead", "more and read again")
	sound(t, p, "leak-undecided")
	shots(p, "leak-undecided")
	saving(p, func() { p.Tap("leak-end") })
	p.Tap("leak-first")
	p.Wants("leak.verdict", "Leaking")
	p.Tap("leak-close")
	p.Wants("leak-history-oxygen_delivery-oxygen", "Leaking", "Undecided")
	sound(t, p, "leak-trend")
	shots(p, "leak-trend")
	goTo(p, "rig")
	p.WantsText(": undecided")
}

// openOf is the way to the running test of that name.
func openOf(t *testing.T, p *browsertest.Page, name string) string {
	t.Helper()
	p.WantsText("Go on: " + name)
	return browsertest.Eval[string](p, `[...document.querySelectorAll("[data-act^=leak-open-]")].find((e) => e.innerText.includes(`+quote(name)+`)).dataset.act`)
}
