//go:build browser

package journeys

import "testing"

// An owner who knows a cylinder only as "80 cubic feet" enters it so, is corrected on the way, and finds it after a reload.
func TestCylinderByItsSizeAsSold(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "rig")
	page.Tap("rig-add-cylinder-oxygen")
	page.Tap("rig-size-contents")
	page.Lacks("rig-water_volume")
	page.Type("rig-full_contents", "80")
	page.WantsText("Did you mean 80 ft³?")
	page.Tap("rig-full_contents-choice-1")
	page.Type("rig-gauge_pressure", "3000 psi")
	page.Tap("rig-save")
	page.WantsText("Pressure when full: nothing was typed")
	page.Type("rig-fill_gauge", "2200 psi")
	page.WantsText("at most a quarter above the pressure when full")
	page.Type("rig-gauge_pressure", "2000 psi")
	page.WantsText("a cylinder of 14.1 L of water, by the real density of oxygen at 70 °F")
	sound(t, page, "cylinder-by-size")
	page.Tap("rig-save")
	page.Lacks("rig-save")
	page.WantsText("Full 2.22 m³") // the list is in the owner's units
	saved(page)
	goTo(page, "bench")
	saving(page, func() { page.Tap("units-us") })
	page.Reload()
	goTo(page, "rig")
	page.WantsText("Filled to 2200 psi")
	page.Tap(hookStarting(t, page, "rig-part-"))
	page.Wants("rig-full_contents", "80 ft³")
	page.WantsText("a cylinder of 861 in³ of water")
	page.Tap("rig-size-")
	page.Wants("rig-water_volume", "861")
}
