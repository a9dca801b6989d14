//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// Readings over a month tell how long the oxygen lasts; a bad one is refused and stays; an acetylene cylinder that lay down settles, with
// its timer in the bar; all of it without a network.
func TestCylinderLog(t *testing.T) {
	server, profile, page := fresh(t)
	goTo(page, "setup")
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	toBench(page, "to-cylinders")
	page.Wants("cylinder-caution", "29 CFR 1910.253(b)(4)(iii)")
	oxygen := cylinderID(page, "oxygen")
	page.Type("cylinder-"+oxygen+"-value", "9000 bar")
	page.WantsText("allowed")
	page.Tap("cylinder-note-" + oxygen)
	page.Wants("cylinder-problem", "Not noted")
	shots(page, "cylinders-refused")
	page.Type("cylinder-"+oxygen+"-value", "140 bar")
	noBounce(page)
	saving(page, func() { page.Tap("cylinder-note-" + oxygen) })
	page.Wants("cylinder-left", "left")
	acetylene := cylinderID(page, "acetylene")
	page.Tap("cylinder-laid-" + acetylene)
	page.Wants("cylinder-settle", "Lying", "not to be used")
	page.Tap("cylinder-upright-" + acetylene)
	page.Wants("cylinder-settle", "Settling, until", "NAVEDTRA 14250")
	page.Wants("timer", "Settling")
	sound(t, page, "cylinders")
	shots(page, "cylinders")
	page.Close()
	server.Stop()

	profile.Expect("ERR_CONNECTION_REFUSED")
	profile.OnNew(later(30 * 24 * 60))
	again := profile.Open("/bench/cylinders")
	again.Wants("cylinder-settle", "Settled")
	again.Type("cylinder-"+oxygen+"-value", "100 bar")
	again.Type("cylinder-"+oxygen+"-note", "gate hinge")
	saving(again, func() { again.Tap("cylinder-note-" + oxygen) })
	again.Wants("cylinder-forecast", "in 30 days", "down to the reserve on")
	again.Tap("cylinder-log-" + oxygen)
	again.Wants("cylinder-line", "gate hinge", "used")
	shots(again, "cylinders-forecast")
	again.Close()
}

// cylinderID is the id of the cylinder of a gas.
func cylinderID(p *browsertest.Page, gas string) string {
	find := `document.querySelector("[data-val=cylinder-` + gas + `] [data-act^=cylinder-note-]")`
	p.Wait("there is the cylinder of "+gas, `!!`+find)
	return browsertest.Eval[string](p, find+`.dataset.act.slice("cylinder-note-".length)`)
}
