package archive_test

import (
	"bytes"
	"context"
	"encoding/hex"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"torchside/storage"
	"torchside/storage/archive"
	"torchside/storage/memory"
)

// saved is one record of a file of expected content.
type saved struct {
	ID       storage.ID `json:"id"`
	Kind     string     `json:"kind"`
	Schema   int        `json:"schema"`
	Body     string     `json:"body"`
	Deleted  bool       `json:"deleted"`
	Conflict string     `json:"conflict"`
	Heads    int        `json:"heads"`
	Blobs    string     `json:"blobs"` // names with spaces between
}

// Data saved by any released version must open for ever. Each folder holds
// exports of one version and what they contain, both written by that version.
func TestRead_opens_exports_of_every_version(t *testing.T) {
	files, err := filepath.Glob("../../testdata/records/v*/*.zip")
	if err != nil || len(files) == 0 {
		t.Fatalf("no old exports found: %v", err)
	}
	for _, file := range files {
		t.Run(file, func(t *testing.T) {
			want := readSaved(t, file[:len(file)-len("zip")]+"json")
			store := memory.New()
			report, err := archive.Import(context.Background(), store, readFile(t, file), nil)
			if err != nil || len(report.Refused) != 0 || report.Records != len(want) {
				t.Fatalf("import: %+v, %v", report, err)
			}
			for i, rec := range records(t, store) {
				if missing, err := store.MissingBlobs(context.Background(), rec.Blobs...); err != nil || len(missing) > 0 {
					t.Errorf("record %d lacks attachments %v, %v", i, missing, err)
				}
				if got := savedFrom(rec); got != want[i] {
					t.Errorf("record %d:\n got %+v\nwant %+v", i, got, want[i])
				}
			}
		})
	}
}

func readFile(t *testing.T, file string) *archive.Archive {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	a, err := archive.Read(bytes.NewReader(data), int64(len(data)), nil)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func readSaved(t *testing.T, file string) []saved {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	var want []saved
	if err := d.Decode(&want); err != nil || len(want) == 0 {
		t.Fatalf("%s: %d records, %v", file, len(want), err)
	}
	return want
}

func savedFrom(r storage.Record) saved {
	body := string(r.Body)
	if !json.Valid(r.Body) {
		body = hex.EncodeToString(r.Body)
	}
	conflict := map[storage.Conflict]string{storage.ConflictEdits: "edits", storage.ConflictDelete: "delete"}[r.Conflict]
	return saved{r.ID, r.Kind, r.Schema, body, r.Deleted, conflict, len(r.Heads), strings.Join(r.Blobs, " ")}
}
