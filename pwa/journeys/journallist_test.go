//go:build browser

package journeys

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/rand"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"torchside/calc/journal"
	"torchside/calc/journal/journaltest"
	"torchside/pwa/journeys/browsertest"
	"torchside/storage"
	"torchside/storage/archive"
	"torchside/storage/memory"
)

// journalFile writes a file with n sheets, some with an attachment.
func journalFile(t testing.TB, n int) string {
	t.Helper()
	ctx, s := context.Background(), memory.New()
	author := storage.NewAuthor(s, time.Now, rand.Reader)
	var drafts []storage.Draft
	for i, sheet := range journaltest.Sheets(n, 1) {
		var names []storage.Hash
		if i%10 == 0 && i < 1000 {
			name, err := s.PutBlob(ctx, bytes.Repeat([]byte{byte(i), byte(i >> 8), 1}, 20_000))
			if err != nil {
				t.Fatal(err)
			}
			sheet.Photos = append(sheet.Photos, journal.Photo{Hash: name, ThumbHash: name, Role: "after", W: 1, H: 1})
		}
		names = sheet.Hashes()
		body, err := journal.Write(sheet)
		if err != nil {
			t.Fatal(err)
		}
		drafts = append(drafts, storage.Draft{Kind: journal.Kind, Schema: journal.Schema, Body: body, Blobs: names})
	}
	if _, err := author.Write(ctx, drafts...); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "journal.zip")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := archive.Export(ctx, s, f, "", time.Now()); err != nil {
		t.Fatal(err)
	}
	return path
}

// readIn reads a file in: what it will bring is shown first, nothing is changed until that is agreed to.
func readIn(page *browsertest.Page, path string) {
	goTo(page, "bench")
	page.Upload("import", path)
	page.Wants("import-preview", "sheets")
	page.Tap("import-accept")
	page.Wants("transfer-report", "Read in")
}

// export hands everything over.
func export(profile *browsertest.Profile, page *browsertest.Page) string {
	goTo(page, "bench")
	page.Tap("export")
	page.Wants("transfer-report", "Written")
	return profile.Downloaded()
}

// Everything goes into a file, the browser is wiped, and the file brings everything back: the same records and the same photos, to
// the last byte.
func TestJournalSurvivesAWipe(t *testing.T) {
	path := journalFile(t, 120)
	server, profile, page := fresh(t)
	readIn(page, path)
	goTo(page, "journal")
	page.Wants("journal-total", "120 sheets")
	first := export(profile, page)
	held(t, path, first)

	other := browsertest.NewProfile(t, server)
	empty := other.Open("/")
	accept(empty)
	readIn(empty, first)
	goTo(empty, "journal")
	empty.Wants("journal-total", "120 sheets")
	again := export(other, empty)
	held(t, first, again)
	want := journalHash(t, path)
	for _, file := range []string{first, again} {
		if got := journalHash(t, file); got != want {
			t.Errorf("the journal in %s has the hash %s, the one read in %s", file, got, want)
		}
	}
}

// journalHash is the fingerprint of a store that holds the sheets of a file, with all their changes, and all its attachments.
func journalHash(t testing.TB, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	a, err := archive.Read(bytes.NewReader(data), int64(len(data)), nil)
	if err != nil {
		t.Fatal(err)
	}
	ctx, all, sheets := context.Background(), memory.New(), memory.New()
	if _, err := archive.Import(ctx, all, a, nil); err != nil {
		t.Fatal(err)
	}
	n := 0
	if err := a.Each(func(op storage.Op) error {
		if op.Kind != journal.Kind {
			return nil
		}
		n++
		_, err := sheets.Append(ctx, op)
		return err
	}); err != nil || n < 120 {
		t.Fatalf("%d changes of sheets in %s, %v", n, path, err)
	}
	blobs, err := all.Blobs(ctx, "", 1000)
	if err != nil || len(blobs) == 0 {
		t.Fatalf("%d attachments in %s, %v", len(blobs), path, err)
	}
	for _, b := range blobs {
		data, err := all.Blob(ctx, b.Hash)
		if err == nil {
			_, err = sheets.PutBlob(ctx, data)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	hash, err := archive.Fingerprint(ctx, sheets)
	if err != nil {
		t.Fatal(err)
	}
	return hash
}

// held checks that all a file holds is in another one, which may hold more: the preferences of its browser.
func held(t *testing.T, first, second string) {
	t.Helper()
	ops := opsOf(t, second)
	for id, text := range opsOf(t, first) {
		if ops[id] != text {
			t.Errorf("%s is %q, was %q", id, ops[id], text)
		}
	}
}

// opsOf are the changes a file holds, by id, and its attachments by name.
func opsOf(t testing.TB, path string) map[string]string {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	list := map[string]string{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case f.Name == "ops.jsonl":
			for line := range strings.Lines(string(text)) {
				list[line] = line
			}
		case strings.HasPrefix(f.Name, "blobs/"):
			list[f.Name] = storage.HashOf(text)
		}
	}
	return list
}

// A sheet is found by filter and search, and the address of what is shown opens the same again, also without a network.
func TestJournalIsFiltered(t *testing.T) {
	server, _, page := fresh(t)
	goTo(page, "journal")
	page.Wants("journal-empty", "No sheets yet")
	page.Tap("journal-sample")
	page.Wants("journal-total", "30 sheets")
	shots(page, "journal-list")
	page.Tap("filter")
	page.Tap("filter-work-weld")
	page.Wants("journal-total", "found")
	shots(page, "journal-filter")
	page.Accessible()
	page.Tap("filter")
	page.Type("journal-search", "hinge cor")
	page.Wants("journal-total", "4 sheets found")
	server.Stop()
	page.Reload()
	page.Wants("journal-total", "4 sheets found")
	page.Wants("journal-search", "hinge cor")
	for _, text := range []string{"🔥🔥", "حديد", "\u202eabc", "%00'\"<b>"} {
		page.Type("journal-search", text)
		page.Wants("journal-none", "No sheet fits")
	}
	page.Wait("the address holds the search", `new URLSearchParams(location.search).get("q") === "%00'\"<b>"`)
	page.Back()
	page.Wants("journal-total", "30 sheets, newest first")
	server.Start()
}

// Two sheets are set side by side, trends and drills are read, and the way back leads to the list.
func TestJournalAnswers(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "journal")
	page.Tap("journal-sample")
	page.Wants("journal-total", "30 sheets")
	page.Tap("view-compare")
	page.Wait("there are sheets to pick", `document.querySelectorAll("[data-act^='pick-']").length > 2`)
	picks := page.All("data-sheet")
	page.Tap("pick-" + picks[0])
	page.Wants("compare-picked", "1 of 2")
	page.Tap("pick-" + picks[2])
	page.Wants("compare-overall")
	shots(page, "journal-compare")
	page.Accessible()
	page.Reload()
	page.Wants("compare-overall")
	page.Back()
	page.Wants("journal-total", "30 sheets")

	page.Tap("view-trends")
	page.Wants("trend-word", "Rising")
	page.Wants("trend-words", "9 points")
	shots(page, "journal-trends")
	page.Accessible()
	page.Tap("trend-measure-speed")
	page.WantsText("Travel speed (mm/min)")
	page.Back()
	page.Wants("journal-total", "30 sheets")

	page.Tap("view-drills")
	page.WantsText("Practise this next")
	shots(page, "journal-drills")
	page.Accessible()
	page.Tap("drill-corner")
	page.Wants("drill-aim", "one corner")
	page.Back()
	page.Tap("drill-tee")
	page.Tap("drill-setup")
	page.Wait("Setup has the drill's thickness", `document.querySelector("[data-act=setup-thickness]")?.value === "3 mm"`)
}

// The months lie under their years. One that is chosen stays chosen when the list is drawn anew, and is gone with all choices.
func TestJournalIsFilteredByMonth(t *testing.T) {
	_, _, page := fresh(t)
	goTo(page, "journal")
	page.Tap("journal-sample")
	page.Wants("journal-total", "30 sheets")
	page.Tap("filter")
	page.Wait("months under their years", `document.querySelectorAll('[data-act="filter-month"] optgroup option').length > 1`)
	months := `[...document.querySelectorAll('[data-act="filter-month"] optgroup option')].map(o => o.value)`
	newest, oldest := browsertest.Eval[string](page, months+`[0]`), browsertest.Eval[string](page, months+`.at(-1)`)
	for _, month := range []string{oldest, newest, oldest} {
		page.Choose("filter-month", month)
		page.Wait("filtered by "+month, `new URLSearchParams(location.search).get("month") === "`+month+`"`)
		page.Wants("journal-total", "found")
		if got := browsertest.Eval[string](page, `document.querySelector('[data-act="filter-month"]').value`); got != month {
			t.Errorf("%q is shown as chosen, want %q", got, month)
		}
	}
	page.Tap("filter-clear")
	page.Wants("journal-total", "30 sheets, newest first")
	if at := browsertest.Eval[float64](page, `document.querySelector('[data-act="filter-month"]').selectedIndex`); at != 0 {
		t.Errorf("the choice at %v is shown as chosen, want the first: any month", at)
	}
}
