//go:build browser

package journeys

import (
	"testing"
	"time"

	"torchside/pwa/journeys/browsertest"
)

// The first ten minutes of somebody who has never seen the app: notice, units, a rig to look around with, a card, the way to the
// first leak test. It goes on where it was after a reload, and does not come again.
func TestFirstTenMinutes(t *testing.T) {
	profile := browsertest.NewProfile(t, browsertest.NewServer(t))
	began := time.Now()
	page := profile.Open("/")
	page.Wants("safety-notice", "maker comes first")
	page.Tap("notice-accept")
	page.Wants("guide-step", "2 of 5")
	sound(t, page, "guide-units")
	shots(page, "guide-units")
	saving(page, func() { page.Tap("guide-units-us") })
	saving(page, func() { page.Tap("guide-region-us") })
	saving(page, func() { page.Tap("guide-next") })
	page.Wants("guide-step", "3 of 5")
	page.Reload()
	page.Wants("guide-step", "3 of 5")
	sound(t, page, "guide-rig")
	shots(page, "guide-rig")
	page.Tap("guide-sample")
	page.Wants("guide-rig", "not for your torch")
	noBounce(page)
	page.Tap("guide-card")
	page.Wants("guide-step", "4 of 5")
	page.WantsText("5.4 psi")
	sound(t, page, "guide-card")
	shots(page, "guide-card")
	page.Tap("guide-next")
	page.Wants("guide-step", "5 of 5")
	page.Tap("install-help")
	page.WantsText("Add to Home Screen")
	sound(t, page, "guide-leak")
	shots(page, "guide-leak")
	page.Tap("guide-leak")
	page.Wait("the leak test", `location.pathname === "/leak"`)
	goTo(page, "setup")
	saving(page, func() { page.Tap("guide-done") })
	page.Lacks("guide-done")
	page.Reload()
	page.Lacks("guide-step")
	page.WantsText("5.4 psi")
	t.Logf("the first steps, without reading: %.1f s", time.Since(began).Seconds())
}

// Whoever wants none of it is through with one tap, and with the own parts the steps lead on as well.
func TestFirstStepsWithTheOwnRig(t *testing.T) {
	profile := browsertest.NewProfile(t, browsertest.NewServer(t))
	page := profile.Open("/")
	page.Wants("safety-notice", "maker comes first")
	page.Tap("notice-accept")
	page.Tap("guide-next")
	page.Wants("guide-step", "3 of 5")
	enterRig(page)
	goTo(page, "setup")
	page.Wants("guide-rig", "enough for a card")
	page.Tap("guide-card")
	page.Wants("guide-step", "4 of 5")
	saving(page, func() { page.Tap("guide-skip") })
	page.Lacks("guide-step")
}
