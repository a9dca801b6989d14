//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
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

// A photo of a task is shown large by a tap, on the entry being written and on one of its history. The way back closes the photo, then the
// task, and keeps what was typed; forward and a reload open it again; a photo of a sheet closes so too.
func TestUpkeepPhotoLarge(t *testing.T) {
	_, _, page := fresh(t)
	toBench(page, "to-upkeep")
	page.Tap("upkeep-open-shop-look")
	page.Type("upkeep-note", "seal whole")
	page.Upload("photo-files", fileOf(t, "seal.jpg", cameraFile(t, upright(900, 600, 120), 1, 90)))
	largeAndBack(t, page, "photo-0", true)
	page.Wants("upkeep-note", "seal whole")
	saving(page, func() { page.Tap("upkeep-done") })
	page.Wants("upkeep-history", "seal whole")
	largeAndBack(t, page, "upkeep-history", true)
	page.Back()
	page.Wants("upkeep-fine", "Extinguisher: in place")
	page.Forward()
	page.Wants("upkeep-history", "seal whole")
	goTo(page, "rig")
	page.Tap("rig-add-tip")
	page.Back()
	page.Wait("the list of parts", `location.pathname + location.search === "/rig" && !!document.querySelector("[data-act=rig-add-tip]")`)
	toBench(page, "to-upkeep")
	page.Wants("upkeep-fine", "Extinguisher: in place") // who comes back looks for the list
	beginSheet(page)
	page.Type("sheet-note", "half")
	page.Upload("photo-files", fileOf(t, "bead.jpg", cameraFile(t, upright(900, 600, 180), 1, 90)))
	largeAndBack(t, page, "photo-0", false)
	page.Wants("sheet-note", "half")
}

// largeAndBack opens the first photo within a hook and goes back; forward opens it again where the page can.
func largeAndBack(t *testing.T, p *browsertest.Page, hook string, forward bool) {
	t.Helper()
	const open = `!!document.querySelector("dialog[open] [data-val=photo-large] img[data-photo-state=shown]")`
	p.Wait("the photo in "+hook, `!!document.querySelector("[data-val=`+hook+`] [data-act^=photo-open-]")`)
	before := browsertest.Eval[string](p, `location.pathname + location.search`)
	p.Tap("photo-open-0")
	p.Wait("it is large", open)
	p.Wait("it has an address", `location.search.includes("look=0")`)
	if ratio := browsertest.Eval[float64](p, `(() => {
		const box = document.querySelector("[data-val=photo-large] img").getBoundingClientRect();
		return box.width / innerWidth;
	})()`); ratio < 0.8 {
		t.Errorf("the photo is %.0f %% of the window wide", ratio*100)
	}
	shots(p, "large-"+hook)
	p.Back()
	p.Wait("the way back closes it", `!document.querySelector("dialog[open]")`)
	p.Wait("and stays on the page", `location.pathname + location.search === `+quote(before))
	if !forward {
		return
	}
	p.Forward()
	p.Wait("the way forward opens it", open)
	p.Reload()
	p.Wait("a reload keeps it", open)
	p.Tap("photo-look-close")
	p.Wait("its button closes it", `!document.querySelector("dialog[open]") && location.pathname + location.search === `+quote(before))
}
