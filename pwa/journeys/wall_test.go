//go:build browser

package journeys

import (
	"os"
	"path/filepath"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// The card for the wall is one page on A4 and on Letter, in both presets of units, also for the rig entered by hand, and offline.
func TestWallCard(t *testing.T) {
	server, profile, page := fresh(t)
	toBench(page, "to-card")
	page.Wants("wall-missing", "Still needed")
	goTo(page, "setup")
	page.Tap("setup-sample")
	page.Wants("sample", "Sample rig")
	toBench(page, "to-card")
	page.Wants("wall", "Get out now", "Never", "Weld steel", "Shut down", "It squeals")
	page.Wants("wall-table", "bar", "Cut steel", "Heat or bend steel")
	sound(t, page, "wall")
	shots(page, "wall")
	onePage(t, page, "metric")
	goTo(page, "bench")
	saving(page, func() { page.Tap("units-us") })
	page.Close()
	server.Stop()
	profile.Expect("ERR_CONNECTION_REFUSED")
	offline := profile.Open("/bench/card")
	offline.Wants("wall-table", "psi", "1/8 in")
	onePage(t, offline, "us")
	offline.Close()
}

// onePage prints the page on A4 and on Letter, and looks whether it is one page with everything on it.
func onePage(t *testing.T, p *browsertest.Page, name string) {
	t.Helper()
	for paper, size := range map[string][2]float64{"a4": {8.27, 11.69}, "letter": {8.5, 11}} {
		file, pages := p.Printed(size[0], size[1])
		if pages != 1 {
			t.Errorf("%s, %s: %d pages, want 1", name, paper, pages)
		}
		if dir := os.Getenv("TORCHSIDE_SHOTS"); dir != "" {
			if err := os.WriteFile(filepath.Join(dir, "wall-"+name+"-"+paper+".pdf"), file, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}
