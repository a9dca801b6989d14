//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// A sheet that is longer than the screen opens at its heading, keeps the focus while it is open, and gives it back.
func TestSheetOpensAtItsHeading(t *testing.T) {
	_, _, page := fresh(t)
	page.Size(320, 568)
	goTo(page, "setup")
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	ask(page, "1/8 in")
	const opener = "from-fuel.regulator_gauge_pa"
	page.Tap(opener)
	page.Wait("the heading has the focus", `document.activeElement && document.activeElement.id === "from-title"`)
	if !browsertest.Eval[bool](page, `(d => d.scrollHeight > d.clientHeight)(document.getElementById("from"))`) {
		t.Fatal("the sheet fits on the screen: nothing is tested")
	}
	if at := browsertest.Eval[float64](page, `document.getElementById("from").scrollTop`); at != 0 {
		t.Errorf("the sheet opens %v px below its heading", at)
	}
	if !browsertest.Eval[bool](page, `document.getElementById("from").matches(":modal")`) {
		t.Error("the page behind the sheet can be reached")
	}
	page.Tap("from-close")
	page.Lacks("from-close")
	page.Wait("the focus is back", `document.activeElement && document.activeElement.dataset.act === "`+opener+`"`)
}
