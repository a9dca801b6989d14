//go:build browser

package journeys

import "testing"

// What a fill, its rent and the filler cost is typed in once; then a weld of half a metre and a brazed joint tell what they cost, with
// the parts of the sum, in the owner's money.
func TestCostOfAJob(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "setup")
	page.Tap("setup-sample")
	page.Wants("setup-sample-remove", "Remove")
	goTo(page, "bench")
	saving(page, func() { page.Type("pref-silver_price", "90 per 100 g") })
	saving(page, func() { page.Type("pref-flux_price", "60 /kg") })
	saving(page, func() { page.Type("pref-oxygen_price", "4 /m³") })
	saving(page, func() { page.Type("pref-fuel_price", "25 /m³") })
	saving(page, func() { page.Type("pref-currency", "€") })
	goTo(page, "setup")
	page.Wait("the form is open", `!!document.querySelector("[data-act=setup-thickness]")`)
	page.Tap("setup-work-weld")
	page.Type("setup-thickness", "3 mm")
	page.Type("setup-weld_length", "500 mm")
	page.Tap("setup-done")
	page.Wants("job_cost", "€")
	page.Wants("job_time_s", "min")
	page.WantsText("This job costs")
	shots(page, "cost-weld")
	page.Tap("setup-edit")
	page.Tap("setup-work-braze")
	page.Tap("setup-joint-lap")
	page.Choose("setup-other_metal", "copper")
	page.Type("setup-seam", "40 mm")
	page.Tap("setup-done")
	page.Wants("job_cost", "€")
	page.Wait("the parts of the sum are told", `(() => {
		const tile = document.querySelector('[data-act="from-job_cost"]');
		return tile && ["Oxygen €", "acetylene €", "rod €", "flux €"].every((w) => tile.innerText.includes(w));
	})()`)
	shots(page, "cost-braze")
}
