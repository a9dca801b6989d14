//go:build browser

package journeys

import (
	"archive/zip"
	"bytes"
	"os"
	"testing"
)

// zipped is a zip of the given entries: name, text, name, text …
func zipped(t *testing.T, pairs ...string) []byte {
	t.Helper()
	var file bytes.Buffer
	z := zip.NewWriter(&file)
	for i := 0; i < len(pairs); i += 2 {
		w, err := z.Create(pairs[i])
		if err == nil {
			_, err = w.Write([]byte(pairs[i+1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// added is a zip with one more entry.
func added(t *testing.T, file []byte, name string) []byte {
	t.Helper()
	old, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, f := range old.File {
		if err := z.Copy(f); err != nil {
			t.Fatal(err)
		}
	}
	w, err := z.Create(name)
	if err == nil {
		_, err = w.Write([]byte("x"))
	}
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// What is no export, or a damaged one, is refused with what is wrong with it; nothing of it is read in, and the sound file is taken
// afterwards.
func TestFilesThatAreNoExportAreRefused(t *testing.T) {
	path := journalFile(t, 30)
	good, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	_, _, page := fresh(t)
	for _, tt := range []struct {
		name string
		data []byte
		says string
	}{
		{"other.zip", zipped(t, "letter.txt", "hello", "data.json", "[]"), "manifest.json"},
		{"named.zip", []byte("This is a letter."), "no zip file"},
		{"half.zip", good[:len(good)/2], "cut short"},
		{"almost.zip", good[:len(good)-1], "cut short"},
		{"up.zip", added(t, good, "../../etc/passwd"), "../../etc/passwd"},
		{"away.zip", added(t, good, "blobs/../../x"), `it holds "blobs/../../x", which no export has`},
		{"root.zip", added(t, good, "/etc/passwd"), "/etc/passwd"},
		{"back.zip", added(t, good, `blobs\..\..\x`), "no export has"},
	} {
		goTo(page, "bench")
		page.Upload("import", fileOf(t, tt.name, tt.data))
		page.Wants("transfer-report", "The import did not happen", tt.says, "Nothing here was changed")
		page.Lacks("import-accept")
		goTo(page, "journal")
		page.Wants("journal-empty", "No sheets yet")
	}
	goTo(page, "bench")
	fitsEverywhere(page, "import")
	readIn(page, path)
	goTo(page, "journal")
	page.Wants("journal-total", "30 sheets")
}
