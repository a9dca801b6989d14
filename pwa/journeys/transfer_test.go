//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// A rig moves to another phone as one file: the same parts, the same card. Reading the file in again changes nothing.
func TestRigMovesAsOneFile(t *testing.T) {
	server, profile, page := fresh(t)
	goTo(page, "bench")
	page.Tap("units-us")
	saved(page)
	enterRig(page)
	rig := rigText(page)
	ask(page, "1/8 in")
	card := cardText(page)
	goTo(page, "bench")
	page.Tap("export")
	page.Wants("transfer-report", "Written")
	file := profile.Downloaded()

	other := browsertest.NewProfile(t, server).Open("/bench")
	accept(other)
	for _, first := range []bool{true, false} {
		goTo(other, "bench")
		other.Upload("import", file)
		if first {
			other.Wants("import-preview", "not here yet", "No conflicts")
			other.Tap("import-accept")
			other.Wants("transfer-report", "Read in", "0 changes already here")
		} else {
			other.Wants("import-preview", "Nothing new")
			other.Tap("import-leave")
		}
		if got := rigText(other); got != rig {
			t.Errorf("the rig is another:\n%s\nwas:\n%s", got, rig)
		}
		ask(other, "1/8 in")
		sameCard(t, other, card)
	}
}
