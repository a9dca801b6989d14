//go:build browser

package journeys

import (
	"strconv"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// What is typed and not saved comes back: after a reload, and after the browser's process for the window has died mid-word.
func TestDraftsAreKept(t *testing.T) {
	_, profile, page := fresh(t)
	goTo(page, "rig")
	page.Tap("rig-add-tip")
	page.Type("rig-name", "Half a tip")
	page.Type("rig-orifice_diameter", "0.9 m")
	page.Reload()
	resumes(page, typed{"rig-name", "Half a tip"}, typed{"rig-orifice_diameter", "0.9 m"})

	page.Type("rig-orifice_diameter", "0.037 in")
	page.Wait("the last letter has been read", `document.getElementById("rig-orifice_diameter-read").innerText.includes("0.037 in")`)
	page.Kill()
	again := profile.Open("/rig")
	resumes(again, typed{"rig-name", "Half a tip"}, typed{"rig-orifice_diameter", "0.037 in"})
	again.Tap("rig-save")
	again.Lacks("rig-save")
	saved(again)

	goTo(again, "setup")
	again.Type("setup-thickness", "3/3")
	again.Reload()
	again.Wants("setup-thickness", "3/3")
	goTo(again, "rig")
	again.WantsText("Half a tip")
	if again.Has("rig-resume-tip") {
		t.Error("the form is still called unfinished after it was saved")
	}
}

// resumes goes on with the unfinished tip, which may be open already, and looks whether every letter is there.
func resumes(p *browsertest.Page, fields ...typed) {
	p.Wait("the unfinished tip is offered or open", `!!document.querySelector("[data-act=rig-resume-tip], [data-act=rig-save]")`)
	if !p.Has("rig-save") {
		p.Tap("rig-resume-tip")
	}
	p.Wants("form-restored", "not saved")
	for _, f := range fields {
		p.Wants(f.act, f.text)
	}
}

// quote writes a text for JavaScript.
func quote(s string) string { return strconv.Quote(s) }
