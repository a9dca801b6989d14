//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// failingStore makes every write of the database fail while window.storeFails holds the name of an error.
const failingStore = `for (const name of ["put", "add"]) {
	const real = IDBObjectStore.prototype[name];
	IDBObjectStore.prototype[name] = function (...a) {
		if (window.storeFails) throw new DOMException("made to fail by a test", window.storeFails);
		return real.apply(this, a);
	};
}`

// A store that is full, or fails, is said so for as long as it lasts; what was typed stays, can be carried away as a file, and is
// saved once there is room.
func TestStoreThatRefuses(t *testing.T) {
	for _, c := range []struct{ fails, notice, says string }{
		{"QuotaExceededError", "store-full", "full"},
		{"UnknownError", "store-failed", "Not saved"},
	} {
		t.Run(c.notice, func(t *testing.T) {
			server := browsertest.NewServer(t)
			profile := browsertest.NewProfile(t, server)
			profile.OnNew(failingStore)
			page := profile.Open("/rig")
			accept(page)
			page.Tap("rig-add-torch")
			page.Type("rig-name", "Torch without room")
			browsertest.Eval[string](page, `window.storeFails = `+quote(c.fails))
			page.Tap("rig-save")
			page.Wants(c.notice, "Not saved", c.says)
			page.Wants("saved", "Not saved")
			page.Wants("rig-name", "Torch without room")
			page.Tap("notice-" + c.notice)
			file := profile.Downloaded()
			page.Wants("rig-name", "Torch without room")
			page.Wants(c.notice, "Not saved")
			carriesAway(t, server, file)

			browsertest.Eval[string](page, `window.storeFails = ""`)
			page.Tap("retry-save")
			page.Lacks(c.notice)
			saved(page)
			page.Reload()
			goTo(page, "rig")
			page.WantsText("Torch without room")
		})
	}
}

// carriesAway reads a file written while the store refused into another browser: what was refused is in it.
func carriesAway(t *testing.T, server *browsertest.Server, file string) {
	t.Helper()
	other := browsertest.NewProfile(t, server).Open("/bench")
	accept(other)
	other.Upload("import", file)
	other.Tap("import-accept")
	other.Wants("transfer-report")
	goTo(other, "rig")
	other.WantsText("Torch without room")
	other.Close()
}
