package pages

import (
	"strings"
	"testing"

	"torchside/pwa/pwatest"
	"torchside/pwa/state"
)

// A run ends whenever it does: what it brings to light may not push its own button away under the finger that comes down on it.
func TestDevices_keeps_the_button_of_a_run_above_what_runs_find(t *testing.T) {
	d := &Devices{Sync: state.Sync{Linked: state.Linked{ID: "d1", Shop: "Home"}}, Splits: state.Splits{Rig: []state.Split{{ID: "r1", Title: "Fuel hose", Path: "/rig"}}}}
	page := pwatest.HTML(t, d)
	button, found := strings.Index(page, `data-act="sync-now"`), strings.Index(page, `data-act="split-r1"`)
	if button < 0 || found < button {
		t.Errorf("the button stands at %d, what was changed in two places at %d", button, found)
	}
}

// Why changes were refused and why a run failed are told in words, each.
func TestDevices_tells_what_is_refused_beside_a_run_that_failed(t *testing.T) {
	d := &Devices{Sync: state.Sync{Linked: state.Linked{ID: "d1", Shop: "Home"}, Refused: 2, Reasons: []string{"too large"}, Reason: "The server was not reached."}}
	pwatest.Wants(t, pwatest.HTML(t, d), "2 of the changes", "Its reason: too large", "The server was not reached.")
}
