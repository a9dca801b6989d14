//go:build browser

package journeys

import (
	"os"
	"path/filepath"
	"testing"
)

// The pictures of the README show the app as it is: make shots takes them on this way. Played without, it shows that the way still exists,
// and that the README has exactly these.
func TestReadmePictures(t *testing.T) {
	_, _, page := fresh(t)
	page.Tap("setup-sample")
	ask(page, "1/8 in")
	page.Wants("tip", "SAMPLE 14")
	page.Go("/")
	page.Wants("tip", "SAMPLE 14")
	page.Picture("setup")
	page.Go("/flame")
	page.WantsText("Neutral")
	page.Picture("flame")
	page.Go("/leak")
	page.Picture("leak")
	page.Go("/bench/tables")
	page.Picture("tables")
	files, err := filepath.Glob("../../web/shots/*.png")
	if err != nil || len(files) != 4 {
		t.Errorf("the pictures are %v, %v", files, err)
	}
	for _, f := range files {
		if info, err := os.Stat(f); err != nil || info.Size() > 100_000 {
			t.Errorf("%s is larger than 100 kB, too much to keep with the sources: %v", f, err)
		}
	}
}
