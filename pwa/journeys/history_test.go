//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// The way back closes what lies over a page and stays on the page, with every letter kept; the way forward and a reload bring it
// back. What is closed by its own button leaves no dead step in the history.
func TestBackClosesWhatLiesOverAPage(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "rig")
	page.Tap("rig-add-tip")
	focused(page, "question")
	page.Type("rig-name", "Half a tip")
	page.Back()
	page.Wants("unfinished", "Unfinished", "Half a tip")
	focusedAct(page, "rig-resume-tip")
	page.Forward()
	page.Wants("rig-name", "Half a tip")
	page.Reload()
	page.Wants("rig-name", "Half a tip")
	page.Tap("rig-leave")
	page.Wants("unfinished", "Half a tip")
	page.Tap("rig-add-torch")
	page.Tap("rig-save")
	page.Lacks("rig-save")
	page.Wants("unfinished", "Half a tip")
	page.Tap("rig-discard-tip")
	page.Lacks("unfinished")
	page.Tap("undo")
	page.Wants("rig-name", "Half a tip")
	page.Back()
	page.Lacks("rig-save")
	page.Back()
	page.Wait("one more step back leaves the page", `location.pathname === "/"`)
	page.Forward()
	page.Wait("and one forward comes again", `location.pathname === "/rig"`)
	page.Wants("unfinished", "Half a tip")
	page.Lacks("rig-save")
}

// A saved part that is being changed closes by the way back too, also right after a reload, and from the page a form was asked for on; every
// letter is there when it is opened again.
func TestBackClosesAChangedPart(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "rig")
	page.Tap("rig-add-torch")
	page.Type("rig-name", "Long torch")
	page.Tap("rig-save")
	page.Lacks("rig-save")
	saved(page)
	part := hookStarting(t, page, "rig-part-")
	for _, reload := range []bool{false, true} {
		page.Tap(part)
		page.Type("rig-note", "bent neck")
		if reload {
			page.Reload()
			page.Wants("rig-note", "bent neck")
		}
		page.Back()
		page.Lacks("rig-save")
		page.Wait("the list", `location.pathname + location.search === "/rig"`)
		page.Wants("unfinished", "Long torch")
		page.Tap(hookStarting(t, page, "rig-resume-torch"))
		page.Wants("rig-note", "bent neck")
		page.Back()
		page.Lacks("rig-save")
	}
}

// The sheet that tells where a number comes from closes by the way back.
func TestBackClosesTheSheet(t *testing.T) {
	_, _, page := fresh(t)
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	ask(page, "1/8 in")
	const open = `!!document.querySelector("dialog[open]")`
	for _, closing := range []func(){page.Back, func() { page.Tap("from-close") }} {
		page.Tap("from-oxygen.regulator_gauge_pa")
		page.Wait("the sheet is open", open)
		closing()
		page.Wait("the sheet is closed", "!("+open+")")
		page.Wait("its address is gone", `location.pathname + location.search === "/"`)
		focusedAct(page, "from-oxygen.regulator_gauge_pa")
	}
	page.Forward()
	page.Wait("the way forward opens it again", open)
	page.Back()
	page.Wait("and the way back closes it again", "!("+open+")")
	page.Wants("setup-edit", "Change")
}

// A form by its own address is closed by its button without leaving the app.
func TestFormByItsAddress(t *testing.T) {
	_, profile, page := fresh(t)
	page.Close()
	deep := profile.Open("/rig?add=hose&line=fuel")
	deep.Wants("rig-save", "Save")
	deep.Type("rig-length", "5 m")
	deep.Tap("rig-cancel")
	deep.Lacks("rig-save")
	deep.Wait("the bare page", `location.pathname + location.search === "/rig"`)
	deep.Wants("undo", "Take it back")
	deep.Tap("undo")
	deep.Wants("rig-length", "5 m")
}

// Enter goes from field to field and saves from the last one; Escape puts away, which can be taken back.
func TestFormByKeys(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "rig")
	page.Tap("rig-add-torch")
	page.Type("rig-name", "By keys")
	page.Press(enterKey)
	focused(page, "rig-note")
	page.Press(escapeKey)
	page.Lacks("rig-save")
	page.Wants("undo", "Take it back")
	page.Tap("undo")
	page.Wants("rig-name", "By keys")
	page.Type("rig-note", "last")
	page.Press(enterKey)
	page.Lacks("rig-save")
	page.WantsText("By keys")
	saved(page)
}

// The keys as the browser is told of them.
const (
	enterKey  = "\r"
	escapeKey = "\u001b"
)

func focused(p *browsertest.Page, id string) {
	p.Wait("the focus is on "+id, `document.activeElement?.id === `+quote(id))
}

func focusedAct(p *browsertest.Page, act string) {
	p.Wait("the focus is on "+act, `document.activeElement?.dataset.act === `+quote(act))
}
