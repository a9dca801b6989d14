//go:build browser

package journeys

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	mrand "math/rand"
	"os"
	"path/filepath"
	"testing"
	"time"

	"torchside/calc/journal"
	"torchside/calc/journal/journaltest"
	"torchside/storage"
	"torchside/storage/archive"
	"torchside/storage/memory"
)

// What a shop has after a working life beside its sheets.
const (
	manyLeakTests = 5_000
	manyPhotos    = 2_000
	manyRigs      = 3
)

// writer fills a store as the app does.
type writer struct {
	t      testing.TB
	store  *memory.Store
	author *storage.Author
	random *mrand.Rand
}

// everythingFile writes a file with many sheets, rigs, leak tests of them, and photos on the newest sheets and on every tenth.
func everythingFile(t testing.TB) string {
	t.Helper()
	s := memory.New()
	w := &writer{t: t, store: s, author: storage.NewAuthor(s, time.Now, rand.Reader), random: mrand.New(mrand.NewSource(7))}
	w.leakTests(w.rigs())
	w.sheets()
	path := filepath.Join(t.TempDir(), "everything.zip")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := archive.Export(context.Background(), s, f, "", time.Now()); err != nil {
		t.Fatal(err)
	}
	return path
}

func (w *writer) write(drafts []storage.Draft) []storage.Record {
	w.t.Helper()
	records, err := w.author.Write(context.Background(), drafts...)
	if err != nil {
		w.t.Fatal(err)
	}
	return records
}

// kept is a record as testdata/records keeps it.
type kept struct {
	Kind   string         `json:"kind"`
	Schema int            `json:"schema"`
	Body   map[string]any `json:"body"`
}

// keptRecord reads one.
func (w *writer) keptRecord(name string) kept {
	w.t.Helper()
	var k kept
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "records", "v1", "bodies", name+".json"))
	if err == nil {
		err = json.Unmarshal(text, &k)
	}
	if err != nil {
		w.t.Fatal(err)
	}
	return k
}

func (w *writer) draft(k kept) storage.Draft {
	w.t.Helper()
	body, err := json.Marshal(k.Body)
	if err != nil {
		w.t.Fatal(err)
	}
	return storage.Draft{Kind: k.Kind, Schema: k.Schema, Body: body}
}

// rigs writes some, and gives the ids of the parts of each.
func (w *writer) rigs() (parts [manyRigs][]string) {
	names := []string{"regulator", "hose", "torch", "cylinder_oxygen"}
	for i := range parts {
		var drafts []storage.Draft
		for _, name := range names {
			drafts = append(drafts, w.draft(w.keptRecord(name)))
		}
		for _, r := range w.write(drafts) {
			parts[i] = append(parts[i], string(r.ID))
		}
	}
	return parts
}

// leakTests writes ended tests of all sections, spread over the rigs and over years.
func (w *writer) leakTests(rigs [manyRigs][]string) {
	sections := [][2]string{{"oxygen_delivery", "oxygen"}, {"oxygen_supply", "oxygen"}, {"whole_rig", "oxygen"}, {"regulator_creep", "oxygen"},
		{"fuel_delivery", "acetylene"}, {"fuel_supply", "acetylene"}, {"whole_rig", "acetylene"}, {"regulator_creep", "acetylene"}}
	verdicts := []string{"tight", "tight", "tight", "undecided", "leaking"}
	var drafts []storage.Draft
	for i := range manyLeakTests {
		k := w.keptRecord("leak_test")
		of, start := sections[i%len(sections)], 1_500_000_000_000+int64(i)*40_000_000
		k.Body["section"], k.Body["gas"], k.Body["parts"] = of[0], of[1], rigs[i%manyRigs]
		k.Body["key"] = fmt.Sprintf("leak/%s/%s/%d", of[0], of[1], start)
		k.Body["start_ms"], k.Body["ended_ms"] = start, start+640_000
		for n, r := range k.Body["readings"].([]any) {
			r.(map[string]any)["at_ms"] = start + int64(n)*630_000
		}
		rate := 8e-8 * w.random.Float64()
		outcome := k.Body["outcome"].(map[string]any)
		outcome["verdict"] = verdicts[w.random.Intn(len(verdicts))]
		outcome["leak_std_m3_s"] = map[string]any{"value": rate, "low": rate - 3e-8, "high": rate + 3e-8}
		drafts = append(drafts, w.draft(k))
	}
	w.write(drafts)
}

// sheets writes the sheets, and the photos that they show.
func (w *writer) sheets() {
	var drafts []storage.Draft
	for i, sheet := range journaltest.Sheets(manySheets, 1) {
		sheet.Photos = nil
		if i%(manySheets/manyPhotos) == manySheets/manyPhotos-1 {
			sheet.Photos = []journal.Photo{w.photo(i)}
		}
		body, err := journal.Write(sheet)
		if err != nil {
			w.t.Fatal(err)
		}
		drafts = append(drafts, storage.Draft{Kind: journal.Kind, Schema: journal.Schema, Body: body, Blobs: sheet.Hashes()})
	}
	w.write(drafts)
}

// photo stores a small picture of its own and a smaller one for lists.
func (w *writer) photo(n int) journal.Photo {
	const width, height = 640, 480
	whole := w.picture(n, width, height)
	return journal.Photo{Hash: w.blob(whole), ThumbHash: w.blob(w.picture(n, width/4, height/4)), Role: "after", W: width, H: height, Bytes: len(whole)}
}

// picture is a bead of n's own colour on grainy steel, as JPEG.
func (w *writer) picture(n, width, height int) []byte {
	w.t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, width, height))
	grain := w.random.Uint32()
	for y := range height {
		for x := range width {
			grain = grain*1_664_525 + 1_013_904_223
			g := uint8(90 + grain>>27)
			c := color.RGBA{g, g, g + 8, 255}
			if y > height*2/5 && y < height*3/5 && x*8/width%2 == n>>(x*12/width)%2 {
				c = color.RGBA{g + uint8(n%90), g + uint8(n/90%60), 60, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		w.t.Fatal(err)
	}
	return b.Bytes()
}

func (w *writer) blob(data []byte) storage.Hash {
	w.t.Helper()
	name, err := w.store.PutBlob(context.Background(), data)
	if err != nil {
		w.t.Fatal(err)
	}
	return name
}
