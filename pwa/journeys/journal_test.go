//go:build browser

package journeys

import (
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"torchside/pwa/journeys/browsertest"
)

// photo writes a picture of one colour, as a camera hands it over.
func photo(t *testing.T, name string, shade uint8) string {
	t.Helper()
	picture := image.NewGray(image.Rect(0, 0, 1200, 900))
	for i := range picture.Pix {
		picture.Pix[i] = shade + uint8(i%7)
	}
	picture.Set(0, 0, color.Gray{Y: 255})
	path := filepath.Join(t.TempDir(), name)
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := jpeg.Encode(f, picture, nil); err != nil {
		t.Fatal(err)
	}
	return path
}

// carded is a page with the sample rig and its settings card in view.
func carded(t *testing.T) (*browsertest.Profile, *browsertest.Page) {
	t.Helper()
	_, profile, page := fresh(t)
	page.Tap("setup-sample")
	ask(page, "1/16 in")
	page.Wants("tip", "SAMPLE")
	return profile, page
}

// taps counts what a thumb does.
type taps struct {
	page *browsertest.Page
	n    int
}

func (c *taps) tap(act string) {
	c.n++
	c.page.Tap(act)
}

// pick is one tap that opens the camera or the files, and one photo from there.
func (c *taps) pick(act, path string) {
	c.n++
	c.page.Upload(act, path)
}

// From the settings card to a saved sheet with two photos and scores, in six taps besides typing; everything of it is there after a
// reload, and prints on one page.
func TestSheetFromTheCard(t *testing.T) {
	_, page := carded(t)
	c := &taps{page: page}
	c.tap("setup-log")
	page.Wants("sheet-settings", "Weld", "SAMPLE")
	page.Type("sheet-next", "Slower at the corner 🔥")
	page.Type("sheet-note", "שלום, the second bead")
	c.pick("photo-camera", photo(t, "front.jpg", 90))
	page.Wait("the first photo is there", `document.querySelectorAll("[data-act^=photo-open-]").length === 1`)
	c.pick("photo-files", photo(t, "back.jpg", 160))
	page.Wait("the second photo is there", `document.querySelectorAll("[data-act^=photo-open-]").length === 2`)
	page.Lacks("photo-refused")
	c.tap("score-width-3")
	c.tap("score-undercut-4")
	page.Wants("overall", "2 scores of 8")
	shots(page, "sheet-editor")
	fitsEverywhere(page, "sheet-done")
	saving(page, func() { c.tap("sheet-done") })
	page.Wants("sheet-title", "Weld")
	if c.n > 6 {
		t.Errorf("it took %d taps besides typing, wanted 6 at most", c.n)
	}
	t.Logf("%d taps besides typing", c.n)

	page.Reload()
	page.Wants("next", "Slower at the corner 🔥")
	page.Wants("note", "שלום")
	page.Wants("score.width", "3 of 4")
	page.Wait("both photos are shown", `document.querySelectorAll(".sheet-read [data-act^=photo-open-]").length === 2`)
	shots(page, "sheet-read")
	fitsEverywhere(page, "sheet-edit")
	browsertest.Eval[bool](page, `(window.print = () => { window.printed = true; }, true)`)
	page.Tap("sheet-print")
	page.Wait("the page is printed", `window.printed`)
	page.Wait("with both photos", `[...document.querySelectorAll("img[data-photo-state=shown]")].filter((i) => i.naturalWidth > 0).length === 2`)
	for _, paper := range []struct {
		name          string
		width, height float64 // in
	}{{"A4", 8.27, 11.69}, {"letter", 8.5, 11}} {
		file, pages := page.Printed(paper.width, paper.height)
		if pages != 1 {
			t.Errorf("on %s it prints on %d pages", paper.name, pages)
		}
		keep(t, "sheet-"+paper.name+".pdf", file)
	}
}

// fitsEverywhere looks at the page as small and common phones show it.
func fitsEverywhere(p *browsertest.Page, act string) {
	for _, w := range widths {
		p.Size(w[0], w[1])
		p.Wants(act)
		p.FitsAcross()
		if w[0] >= 360 { // below that the names of the five places are smaller, so that they fit
			p.FitsFingers()
		}
	}
	p.Size(390, 844)
	p.Accessible()
}

// keep writes a file beside the screenshots, where they are asked for.
func keep(t *testing.T, name string, data []byte) {
	t.Helper()
	folder := os.Getenv("TORCHSIDE_SHOTS")
	if folder == "" {
		return
	}
	if err := os.WriteFile(filepath.Join(folder, name), data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// The window dies between any two letters of a sheet: what is missing afterwards was typed in the last second.
func TestSheetKilledBetweenLetters(t *testing.T) {
	profile, page := carded(t)
	page.Tap("setup-log")
	page.Wants("sheet-settings", "Weld")
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, 1))
	before, lost := "", 0
	for range 20 {
		text := letters(r, 3+r.IntN(30))
		at := page.TypeTimed("sheet-note", text)
		died := time.Now()
		page.Kill()
		page = profile.Open("/journal")
		got := page.Text("sheet-note")
		if !strings.HasPrefix(text, got) {
			t.Fatalf("after the window died while %q was typed over %q, there is %q", text, before, got)
		}
		if n := len(got); n < len(text) {
			lost += len(text) - n
			if ago := died.Sub(at[n]); ago > time.Second {
				t.Errorf("a letter typed %v before the end is missing: %q of %q", ago, got, text)
			}
		}
		before = got
	}
	t.Logf("letters missing after 20 deaths: %d", lost)
	saving(page, func() { page.Tap("sheet-done") })
	if before != "" {
		page.Wants("note", before)
	}
}

func letters(r *rand.Rand, n int) string {
	text := make([]byte, n)
	for i := range text {
		text[i] = byte('a' + r.IntN(26))
	}
	return string(text)
}

// A store that is full in the middle of a save keeps nobody's sheet: the editor stays open with everything, and says why.
func TestSheetWithoutRoom(t *testing.T) {
	server := browsertest.NewServer(t)
	profile := browsertest.NewProfile(t, server)
	profile.OnNew(failingStore)
	page := profile.Open("/")
	accept(page)
	page.Tap("setup-sample")
	ask(page, "1/16 in")
	page.Tap("setup-log")
	page.Type("sheet-note", "no room for this")
	browsertest.Eval[string](page, `window.storeFails = "QuotaExceededError"`)
	page.Tap("sheet-done")
	page.Wants("sheet-problem", "full", "kept")
	page.Wants("sheet-note", "no room for this")
	page.Reload()
	page.Wants("sheet-note", "no room for this")
	saving(page, func() { page.Tap("sheet-done") })
	page.Wants("note", "no room for this")

	// What is saved can be corrected, the correction taken back, and the sheet deleted and brought back.
	page.Tap("sheet-edit")
	page.Type("sheet-note", "room after all")
	saving(page, func() { page.Tap("sheet-done") })
	page.Wants("note", "room after all")
	saving(page, func() { page.Tap("undo") })
	page.Wants("note", "no room for this")
	sheet := page.Path()
	saving(page, func() { page.Tap("sheet-delete") })
	page.Lacks("sheet-title")
	saving(page, func() { page.Tap("undo") })
	page.Go(sheet)
	page.Wants("note", "no room for this")
	page.Back()
	page.Lacks("sheet-title")
}

// A sheet corrected in two windows at once keeps both corrections, and becomes one again field by field.
func TestSheetInTwoWindows(t *testing.T) {
	profile, page := carded(t)
	page.Tap("setup-log")
	page.Type("sheet-note", "first")
	saving(page, func() { page.Tap("sheet-done") })
	page.Wants("note", "first")
	other := profile.Open(page.Path())
	other.Wants("note", "first")
	for _, p := range []struct {
		page *browsertest.Page
		text string
	}{{page, "here"}, {other, "there"}} {
		p.page.Tap("sheet-edit")
		p.page.Wants("sheet-note")
		p.page.Type("sheet-note", p.text)
		p.page.Type("sheet-next", "next "+p.text)
	}
	saving(page, func() { page.Tap("sheet-done") })
	saving(other, func() { other.Tap("sheet-done") })
	other.Wants("sheet-fold-versions", "Changed in two places")
	other.Tap("sheet-fold-versions")
	other.Wants("sheet-merge")
	shots(other, "sheet-versions")
	fitsEverywhere(other, "sheet-merge")
	newer, older := other.Text("pick-note-a"), other.Text("pick-note-b")
	other.Tap("pick-next-b")
	saving(other, func() { other.Tap("sheet-merge") })
	other.Lacks("sheet-fold-versions")
	other.Wants("note", strings.Fields(newer)[0])
	other.Wants("next", "next "+strings.Fields(older)[0])
}
