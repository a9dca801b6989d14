//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// heatCase is a question of heating: what is typed, by the name of its field.
type heatCase []typed

// askHeat asks Setup for heating or bending mild steel and leaves the card in view.
func askHeat(p *browsertest.Page, work string, q heatCase) {
	goTo(p, "setup")
	p.Wait("the question is shown", `!!document.querySelector("[data-act=setup-edit], [data-act=setup-thickness]")`)
	if p.Has("setup-edit") {
		p.Tap("setup-edit")
	}
	p.Tap("setup-work-" + work)
	for _, f := range q {
		p.Type(f.act, f.text)
	}
	p.Tap("setup-done")
	p.Wants("setup-edit", "Change")
}

// A 16 mm round bar is brought to bending heat; a seal sits 150 mm away. The card says how long it takes, what the seal must stand and
// when that comes, in metric and in US units, and the bend is laid out.
func TestHeatingABarToBendingHeat(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "setup")
	page.Tap("setup-sample")
	askHeat(page, "heat", heatCase{{"setup-thickness", "16 mm"}, {"setup-zone", "60 mm"}, {"setup-target", "950 °C"}, {"setup-distance", "150 mm"}})
	page.Wants("heating_target_k", "950", "°C")
	page.WantsText("cherry red")
	page.WantsText("in sunlight")
	page.Wants("heating_time_s")
	page.Wants("heating_point_k", "°C")
	page.WantsText("after the flame is out")
	shots(page, "heat-metric")

	goTo(page, "bench")
	saving(page, func() { page.Tap("units-us") })
	goTo(page, "setup")
	page.Wants("heating_target_k", "1742", "°F")
	page.Wants("heating_point_k", "°F")
	shots(page, "heat-us")

	page.Tap("setup-edit")
	page.Paste("setup-target", "1450 °C")
	page.Wait("too hot is refused", `document.getElementById("setup-refusal")?.innerText.includes("starts to melt")`)
	page.Paste("setup-target", "10 °F")
	page.Wait("below the start is refused", `document.getElementById("setup-refusal")?.innerText.includes("cannot cool")`)
	page.Paste("setup-target", "950 °C")
	page.Paste("setup-zone", "2 m")
	page.Wait("a zone longer than the bar is refused", `document.getElementById("setup-refusal")?.innerText.includes("longer than the piece")`)

	page.Paste("setup-zone", "")
	askHeat(page, "bend", heatCase{{"setup-radius", "32 mm"}, {"setup-legs", "300 mm"}})
	page.Wants("bend_allowance_m", "2 15/32")
	page.Wants("bend_developed_m", "14 5/16")
	page.WantsText("blue heat")
	shots(page, "bend-us")
	page.Reload()
	page.Wants("bend_developed_m", "14 5/16")
}
