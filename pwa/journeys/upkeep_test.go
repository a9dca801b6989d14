//go:build browser

package journeys

import (
	"testing"
)

// What is due stands on Rig and at its place in the bar; a stamp is read, bad ones are refused; what was done is noted with a day and is
// there after a reload, without a network.
func TestUpkeepOfARig(t *testing.T) {
	server, profile, page := fresh(t)
	goTo(page, "setup")
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	toBench(page, "to-upkeep")
	page.Wants("upkeep-unknown", "Requalification", "Extinguisher")
	sound(t, page, "upkeep")
	shots(page, "upkeep-list")
	page.Tap(firstHook(page, "upkeep-open-", "Requalification (hydrostatic"))
	page.Type("upkeep-stamp", "worn off")
	page.WantsText("allowed: month and year as stamped")
	page.Type("upkeep-stamp", "06 A123 12 +*")
	page.Wants("upkeep-stamp-says", "Tested in 2012-06", "from memory")
	sound(t, page, "upkeep-task")
	shots(page, "upkeep-stamp")
	saving(page, func() { page.Tap("upkeep-take") })
	page.Wants("upkeep-when", "Due 2017-06-01")
	page.Wants("upkeep-history", "Stamp: 06 A123 12 +*")
	page.Wants("due-rig", "1")
	goTo(page, "rig")
	page.Wants("rig-due", "Requalification")
	shots(page, "upkeep-rig")
	page.Tap("rig-to-upkeep")
	page.Tap("upkeep-open-shop-look")
	page.Type("upkeep-note", "seal whole")
	saving(page, func() { page.Tap("upkeep-done") })
	page.Wants("upkeep-history", "seal whole")
	shots(page, "upkeep-done")
	page.Close()
	server.Stop()
	profile.Expect("ERR_CONNECTION_REFUSED")
	again := profile.Open("/bench/upkeep")
	again.Wants("upkeep-overdue", "Requalification")
	again.Wants("upkeep-fine", "Extinguisher: in place", "last done")
	again.Close()
}
