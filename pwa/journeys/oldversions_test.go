//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// A device is away while another changes a hose twice and the vault drops the old versions. Back again it shows the newest alone,
// and goes on from there.
func TestAwayWhileOldVersionsAreDropped(t *testing.T) {
	server, profile, first := fresh(t)
	joinByThumb(first, server.Code())
	other := browsertest.NewProfile(t, server)
	for _, p := range []*browsertest.Profile{profile, other} {
		p.Expect("ERR_INTERNET_DISCONNECTED")
	}
	second := other.Blank()
	second.GoRaw("/#join=" + server.Code())
	second.WaitReady()
	second.Tap("notice-accept")
	second.Wants("join-scanned")
	second.Tap("join")
	second.Wants("sync-report", "joined")
	goTo(first, "rig")
	enter(first, part{add: "rig-add-hose-fuel", taps: []string{"rig-grade-T"}, texts: []typed{{"rig-inside_diameter", "6.3 mm"}, {"rig-length", "5 m"}}})
	inStep(first)
	inStep(second)

	goTo(second, "rig")
	second.WantsText("Length 5 m")
	second.Offline(true)
	for _, length := range []string{"6 m", "7 m"} {
		hoseLength(first, length)
		inStep(first)
	}
	first.Offline(true)
	server.Stop()
	if n := server.DropOldVersions(); n < 2 {
		t.Fatalf("%d versions were dropped, want the two of the hose at least", n)
	}
	server.Start()
	second.Offline(false)
	inStep(second)
	goTo(second, "rig")
	second.WantsText("Length 7 m")
	second.LacksText("Two versions")
	second.Lacks("badge-rig")
	second.Shot("back-after-the-limit")

	hoseLength(second, "8 m")
	inStep(second)
	first.Offline(false)
	inStep(first)
	goTo(first, "rig")
	first.WantsText("Length 8 m")
	first.LacksText("Two versions")
}
