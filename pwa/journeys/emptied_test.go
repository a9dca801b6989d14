//go:build browser

package journeys

import (
	"testing"
)

// A database that the browser lost is told of from the next start on, not passed over as a first one; the file saved before
// brings everything back.
func TestStoreThatCameUpEmpty(t *testing.T) {
	_, profile, page := fresh(t)
	saving(page, func() { page.Tap("setup-sample") })
	goTo(page, "bench")
	page.Tap("export")
	file := profile.Downloaded()
	page.GoRaw("/web/torchside.css") // no program of the app holds the database open there
	page.Wait("the database is deleted", `new Promise((done) => {
		const asked = indexedDB.deleteDatabase("torchside");
		asked.onsuccess = () => done(true);
		asked.onerror = asked.onblocked = () => done(false);
	})`)
	page.Go("/")
	page.Wants("store-emptied", "is empty", "the browser lost its database", "Read that file in")
	accept(page)
	page.Reload()
	page.Wants("store-emptied", "is empty")
	goTo(page, "bench")
	page.Upload("import", file)
	page.Wants("transfer-report", "Read in:")
	page.Shot("store-emptied")
	page.Tap("notice-store-emptied")
	page.Lacks("store-emptied")
	page.Reload()
	page.Lacks("store-emptied")
	goTo(page, "setup")
	page.Wants("sample", "Sample rig")
}
