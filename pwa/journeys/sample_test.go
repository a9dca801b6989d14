//go:build browser

package journeys

import "testing"

// Somebody looks at the sample rig before entering their own: it comes with one tap, says what it is wherever it is seen, and
// goes with one tap, without touching what is theirs.
func TestSampleRigComesAndGoes(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "rig")
	enter(page, part{add: "rig-add-torch", texts: []typed{{"rig-name", "My own torch"}}})

	goTo(page, "setup")
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	ask(page, "1/8 in")
	page.Wants("tip", "SAMPLE 14")
	page.Wants("sample", "not yours")
	shots(page, "setup-sample")

	goTo(page, "rig")
	page.Wants("sample", "invented")
	page.WantsText("SAMPLE equal-pressure torch")
	page.WantsText("My own torch")
	shots(page, "rig-sample")
	page.Reload()
	page.Tap("rig-sample-remove")
	page.Lacks("sample")
	page.WantsText("The sample rig is removed.")
	page.LacksText("SAMPLE 14")
	page.WantsText("My own torch")
	saved(page)

	page.Reload()
	page.WantsText("My own torch")
	page.LacksText("SAMPLE")
	goTo(page, "setup")
	page.Wants("setup-missing", "A fuel cylinder")
}
