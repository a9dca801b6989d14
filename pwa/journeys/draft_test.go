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
	resumes(t, page, typed{"rig-name", "Half a tip"}, typed{"rig-orifice_diameter", "0.9 m"})

	page.Type("rig-orifice_diameter", "0.037 in")
	page.Wait("the last letter has been read", `document.getElementById("rig-orifice_diameter-read").innerText.includes("0.037 in")`)
	page.Kill()
	again := profile.Open("/rig")
	resumes(t, again, typed{"rig-name", "Half a tip"}, typed{"rig-orifice_diameter", "0.037 in"})
	again.Tap("rig-save")
	again.Lacks("rig-save")
	saved(again)

	// The same with a part that is saved already: what is typed into it comes back, and changes that part once it is saved.
	part := hookStarting(t, again, "rig-part-")
	again.Tap(part)
	again.Wants("rig-name", "Half a tip")
	again.Type("rig-name", "Whole tip")
	again.Type("rig-orifice_diameter", "1 mm or")
	again.Wait("the last letter has been read", `document.getElementById("rig-orifice_diameter-error")?.innerText.length > 0`)
	again.Kill()
	third := profile.Open("/rig")
	resumes(t, third, typed{"rig-name", "Whole tip"}, typed{"rig-orifice_diameter", "1 mm or"})
	third.Reload()
	resumes(t, third, typed{"rig-name", "Whole tip"}, typed{"rig-orifice_diameter", "1 mm or"})
	third.Type("rig-orifice_diameter", "1 mm")
	saving(third, func() { third.Tap("rig-save") })
	third.Reload()
	third.WantsText("Whole tip")
	third.LacksText("Half a tip")
	if now := hookStarting(t, third, "rig-part-"); now != part {
		t.Errorf("the change was saved as another part: %s, it was %s", now, part)
	}
	again = third

	goTo(again, "setup")
	again.Type("setup-thickness", "3/3")
	again.Reload()
	again.Wants("setup-thickness", "3/3")
	goTo(again, "rig")
	again.WantsText("Whole tip")
	if browsertest.Eval[bool](again, `!!document.querySelector("[data-act^=rig-resume]")`) {
		t.Error("the form is still called unfinished after it was saved")
	}
}

// resumes goes on with the unfinished tip, which may be open already, and looks whether every letter is there.
func resumes(t *testing.T, p *browsertest.Page, fields ...typed) {
	t.Helper()
	p.Wait("the unfinished tip is offered or open", `!!document.querySelector("[data-act^=rig-resume-tip], [data-act=rig-save]")`)
	if !p.Has("rig-save") {
		p.Tap(hookStarting(t, p, "rig-resume-tip"))
	}
	p.Wants("form-restored", "not saved")
	for _, f := range fields {
		p.Wants(f.act, f.text)
	}
}

// quote writes a text for JavaScript.
func quote(s string) string { return strconv.Quote(s) }

// One sheet that is being written, open in two windows: what is typed in the one does not overwrite what is typed in the other, also
// when both windows die.
func TestDraftsOfTwoWindows(t *testing.T) {
	profile, page := carded(t)
	page.Tap("setup-log")
	page.Type("sheet-note", "begun")
	other := profile.Open("/journal")
	other.Wants("sheet-note", "begun")
	page.Type("sheet-note", "here")
	other.Type("sheet-note", "there")
	page.Type("sheet-note", "here and on")
	for _, w := range []struct {
		page *browsertest.Page
		text string
	}{{page, "here and on"}, {other, "there"}} {
		w.page.Reload()
		w.page.Wants("sheet-note", w.text)
	}
	page.Kill()
	other.Kill()
	again := profile.Open("/journal")
	resume := `document.querySelectorAll("[data-act^='sheet-resume-']")`
	for i, text := range []string{"here and on", "there"} {
		again.Wait("what is not saved yet is offered", resume+`.length === `+strconv.Itoa(2-i))
		again.Tap(browsertest.Eval[string](again, resume+`[0].dataset.act`))
		again.Wants("sheet-note")
		if got := again.Text("sheet-note"); got != "here and on" && got != "there" {
			t.Errorf("the sheet says %q", got)
		}
		again.Type("sheet-next", "seen "+text)
		saving(again, func() { again.Tap("sheet-done") })
		again.Wants("sheet-title")
		again.Back()
	}
	again.Wants("journal-total", "2 sheets")
}
