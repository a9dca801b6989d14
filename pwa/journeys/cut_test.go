//go:build browser

package journeys

import "testing"

// A plate is cut: the card gives pressures with the hose, speed, kerf and what the iron's own heat does, in both units. What oxygen
// does not cut is refused with the reason, galvanised plate is cautioned, and a reload asks the same again.
func TestCuttingAPlate(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "setup")
	page.Tap("setup-sample")
	askHeat(page, "cut", heatCase{{"setup-thickness", "10 mm"}})
	page.Wants("tip", "SAMPLE cutting")
	page.Wants("oxygen.regulator_gauge_pa", "bar")
	page.Wants("hand_speed_m_s", "mm/min")
	page.Wants("kerf_m", "1.6", "mm")
	page.Wants("cut_heat_ratio", "1.0")
	page.WantsText("By the middle of the numbers")
	shots(page, "cut-metric")

	goTo(page, "bench")
	saving(page, func() { page.Tap("units-us") })
	goTo(page, "setup")
	page.Wants("oxygen.regulator_gauge_pa", "psi")
	page.Wants("hand_speed_m_s", "in/min")
	page.Wants("oxygen.per_length_std_m3", "ft³")
	shots(page, "cut-us")

	page.Tap("setup-edit")
	page.Tap("setup-start-pierce")
	page.Tap("setup-coating-painted")
	page.Wait("piercing is cautioned", `!!document.querySelector('[data-warning="pierce"]') && !!document.querySelector('[data-warning="coating"]')`)
	page.Tap("setup-metal-galvanised_steel")
	page.Wait("zinc is cautioned", `!!document.querySelector('[data-warning="zinc_coating"]')`)
	for metal, why := range map[string]string{"stainless_steel": "chromium oxide melts near", "cast_iron": "below its oxide", "aluminium": "its oxide near", "copper": "before it takes fire"} {
		page.Tap("setup-metal-" + metal)
		page.Wait(metal+" is refused", `document.getElementById("setup-refusal")?.innerText.includes("`+why+`")`)
	}
	page.Shot("cut-refused")
	page.Tap("setup-metal-mild_steel")
	page.Paste("setup-purity", "90 %")
	page.Wait("poor oxygen is refused", `document.querySelector(".field-bad")?.innerText.includes("no cut is possible")`)
	page.Paste("setup-purity", "98.5 %")
	page.Wait("less than usual costs", `!!document.querySelector('[data-warning="impure_oxygen"]')`)
	page.Paste("setup-thickness", "2 m")
	page.Wait("2 m is refused", `document.querySelector(".field-bad")?.innerText.includes("thicker steel")`)
	page.Paste("setup-thickness", "10 mm")
	page.Tap("setup-done")
	page.Wants("start_time_s")
	page.Reload()
	page.Wants("start_time_s")
	page.WantsText("Preheat the spot to pierce")
}
