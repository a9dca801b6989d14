//go:build browser

package journeys

import (
	"os"
	"path/filepath"
	"testing"

	"torchside/pwa/journeys/browsertest"
)

// unreadable makes the browser refuse to read any file, and window.claims the size that files are said to have.
const unreadable = `{
	const size = Object.getOwnPropertyDescriptor(Blob.prototype, "size").get;
	Object.defineProperty(File.prototype, "size", { get() { return window.claims ?? size.call(this); } });
	window.readings = 0;
	Blob.prototype.arrayBuffer = () => {
		window.readings++;
		return Promise.reject(new DOMException("taken out while it was read", "NotReadableError"));
	};
}`

// A file that cannot be read says why; one that is too large says so without being read. The same button works afterwards.
func TestFileThatCannotBeRead(t *testing.T) {
	profile := browsertest.NewProfile(t, browsertest.NewServer(t))
	profile.OnNew(unreadable)
	page := profile.Open("/bench")
	accept(page)
	file := filepath.Join(t.TempDir(), "torchside.zip")
	if err := os.WriteFile(file, []byte("any"), 0o600); err != nil {
		t.Fatal(err)
	}
	page.Upload("import", file)
	page.Wants("transfer-report", "the browser could not read the file", "taken out while it was read")
	browsertest.Eval[int](page, `window.claims = 9e9`)
	page.Upload("import", file)
	page.Wants("transfer-report", "9.0 GB", "at most")
	if n := browsertest.Eval[int](page, `window.readings`); n != 1 {
		t.Errorf("files were read %d times, want once: the large one is refused by its size", n)
	}
}
