//go:build browser

package journeys

import (
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// A database that the browser lost is told of from the next start on, not passed over as a first one; the file saved before
// brings everything back.
func TestStoreThatCameUpEmpty(t *testing.T) {
	_, profile, page := fresh(t)
	saving(page, func() { page.Tap("setup-sample") })
	goTo(page, "bench")
	page.Tap("export")
	file := profile.Downloaded()
	profile.Expect("/favicon.ico")   // asked for by the browser where no page names an icon
	page.GoRaw("/web/torchside.css") // no program of the app holds the database open there
	deleted := browsertest.Eval[bool](page, `new Promise((done) => {
		const asked = indexedDB.deleteDatabase("torchside");
		asked.onsuccess = () => done(true);
		asked.onerror = asked.onblocked = () => done(false);
	})`)
	if !deleted {
		t.Fatal("the database cannot be deleted")
	}
	page.Go("/")
	page.Wants("store-emptied", "is empty", "the browser lost its database", "Read that file in")
	accept(page)
	page.Reload()
	page.Wants("store-emptied", "is empty")
	goTo(page, "bench")
	page.Upload("import", file)
	page.Tap("import-accept")
	page.Wants("transfer-report", "Read in:")
	page.Shot("store-emptied")
	page.Tap("notice-store-emptied")
	page.Lacks("store-emptied")
	page.Reload()
	page.Lacks("store-emptied")
	goTo(page, "setup")
	page.Wants("sample", "Sample rig")
}
