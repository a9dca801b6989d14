//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// plate is a row of the cut list as it is typed.
func plate(p *browsertest.Page, id, thickness, length string) {
	p.Type("cuts-"+id+"-plate", thickness)
	p.Type("cuts-"+id+"-cut", length)
}

// Three plates outlast the oxygen; the list says after which piece, offline, hose included, and a reload finds it as it was.
func TestCutListOutlastsTheOxygen(t *testing.T) {
	server, profile, page := fresh(t)
	goTo(page, "setup")
	page.Tap("setup-sample")
	askHeat(page, "cut", heatCase{{"setup-thickness", "10 mm"}})
	page.Cached()
	server.Stop()
	profile.Expect("ERR_CONNECTION_REFUSED")
	page.Tap("setup-to-cuts")
	page.Wants("cuts.empty", "Fill in")
	plate(page, "1", "10 mm", "12 m")
	page.Wants("cuts.lasts", "The gas lasts for 1 piece")
	page.Tap("cuts-add")
	plate(page, "2", "8 mm", "10 m")
	page.Tap("cuts-add")
	plate(page, "3", "10 mm", "9 m")
	page.Wants("cuts.lasts", "Oxygen runs out first, after piece 2 of 3.")
	page.WantsText("Piece 3 (row 3) stops")
	page.WantsText("Missing for the whole list")
	page.Wants("cuts.row1.oxygen", "bar")
	page.Wants("cuts.row2.tip", "SAMPLE cutting")
	shots(page, "cuts-metric")

	page.Reload()
	page.Wants("cuts.lasts", "after piece 2 of 3.")
	page.Tap("cuts-3-remove")
	page.Lacks("cuts-3-plate")
	page.Tap("cuts-back")
	page.Wants("cuts.lasts", "after piece 2 of 3.")
	page.Paste("cuts-3-plate", "2 m")
	page.Wait("2 m is refused beside the field", `document.querySelector(".field-bad")?.innerText.includes("thicker steel")`)
	page.Shot("cuts-bad")
	page.Paste("cuts-3-plate", "10 mm")
	page.Wants("cuts.lasts", "after piece 2 of 3.")

	goTo(page, "bench")
	saving(page, func() { page.Tap("units-us") })
	page.Tap("to-cuts")
	page.Wants("cuts.lasts", "after piece 2 of 3.")
	page.Wants("cuts.row1.oxygen", "psi")
	page.Wants("cuts.oxygen", "ft³")
	shots(page, "cuts-us")
}
