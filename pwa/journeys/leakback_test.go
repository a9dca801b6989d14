//go:build browser

package journeys

import "testing"

const onLeak = `location.pathname === "/leak"`

// The way back goes through the stages of a leak test with every letter kept, and from a test that runs to the list; the way forward
// to stages that are over changes nothing.
func TestBackGoesThroughTheStagesOfALeakTest(t *testing.T) {
	_, _, page := fresh(t)
	enterRig(page)
	goTo(page, "leak")
	prepareLeak(page, "oxygen_delivery", "oxygen")
	fillIn(page, typed{"leak-division", "0.5 psi"}, typed{"leak-gauge", "25 psi"}, typed{"leak-temperature", "20"})
	page.Back()
	page.Wants("no_flame", "No flame")
	page.Wait("still at the leak test", onLeak)
	page.Forward()
	page.Wants("leak-gauge", "25 psi")
	page.Back()
	page.Wants("no_flame", "No flame")
	page.Back()
	page.Wants("leak-begin-oxygen_delivery-oxygen")
	page.Wait("the bare page", `location.pathname + location.search === "/leak"`)
	page.Forward()
	page.Wants("leak-prepared")
	page.Tap("leak-prepared")
	page.Wants("leak-gauge", "25 psi")
	page.Tap("leak-start")
	page.Wants("timer.word", "left until")
	page.Wait("the address of the test", `location.search.startsWith("?test=")`)
	page.Reload()
	page.Wants("leak-reading-gauge")
	page.Type("leak-reading-gauge", "24.5 psi")
	page.Back()
	page.Wants("leak-begin-oxygen_delivery-oxygen")
	page.Wait("the bare page", `location.pathname + location.search === "/leak"`)
	page.Forward()
	page.Wants("leak-reading-gauge", "24.5 psi")
	page.Forward()
	page.Wait("the test stays", `location.search.startsWith("?test=")`)
	page.Wants("leak-reading-gauge", "24.5 psi")
}

// After a save the way forward does not open an empty form.
func TestForwardAfterASaveChangesNothing(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "rig")
	enter(page, part{add: "rig-add-torch", texts: []typed{{"rig-name", "Forward"}}})
	const bare = `location.pathname + location.search === "/rig"`
	page.Wait("the bare page", bare)
	page.Tap("rig-add-tip")
	page.Back()
	page.Lacks("rig-save")
	page.Forward()
	page.Wait("the bare page again", bare)
	page.Lacks("rig-save")
	page.WantsText("Forward")
}
