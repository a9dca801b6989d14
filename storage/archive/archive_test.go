package archive_test

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"torchside/storage"
	"torchside/storage/archive"
	"torchside/storage/memory"
	"torchside/storage/merge"
	"torchside/storage/storagetest"
)

// exported returns the file of some ops.
func exported(t testing.TB, ops []storage.Op) []byte {
	t.Helper()
	var file bytes.Buffer
	if _, err := archive.Write(&file, ops, "test", storagetest.Start); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

func read(file []byte) (*archive.Archive, error) {
	return archive.Read(bytes.NewReader(file), int64(len(file)), nil)
}

// opsOf returns the ops of a file that was found sound.
func opsOf(t testing.TB, a *archive.Archive) []storage.Op {
	t.Helper()
	var ops []storage.Op
	if err := a.Each(func(op storage.Op) error { ops = append(ops, op); return nil }); err != nil {
		t.Fatal(err)
	}
	return ops
}

// filled returns a store that holds the ops.
func filled(t testing.TB, ops []storage.Op) *memory.Store {
	t.Helper()
	s := memory.New()
	if _, err := s.Append(context.Background(), ops...); err != nil {
		t.Fatal(err)
	}
	return s
}

func TestExport_holds_everything_and_says_so(t *testing.T) {
	ops := storagetest.RandomOps(1, 450)
	want, _ := merge.Union(ops, nil)
	var file bytes.Buffer
	m, err := archive.Export(context.Background(), filled(t, ops), &file, "1.2", storagetest.Start)
	if err != nil {
		t.Fatal(err)
	}
	a, err := read(file.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if !storagetest.SameOps(opsOf(t, a), want) {
		t.Error("ops read are not those exported")
	}
	got := a.Manifest
	if !got.ExportedAt.Equal(storagetest.Start) || got.App != "1.2" || got.Ops != len(ops) || got.SHA256 != m.SHA256 ||
		got.Records != len(recordIDs(ops)) {
		t.Errorf("manifest = %+v", got)
	}
	if again, err := read(exported(t, storagetest.Shuffled(1, ops))); err != nil || again.Manifest.SHA256 != m.SHA256 {
		t.Errorf("the same ops in another order give another file: %v", err)
	}
}

func recordIDs(ops []storage.Op) map[storage.ID]bool {
	ids := make(map[storage.ID]bool)
	for _, op := range ops {
		ids[op.Rec] = true
	}
	return ids
}

func TestExport_passes_on_what_the_store_and_the_writer_say(t *testing.T) {
	s := filled(t, storagetest.RandomOps(2, 10))
	if _, err := archive.Export(context.Background(), s, full{}, "", storagetest.Start); !errors.Is(err, errFull) {
		t.Errorf("full writer: %v", err)
	}
	s.Close()
	if _, err := archive.Export(context.Background(), s, io.Discard, "", storagetest.Start); !errors.Is(err, storage.ErrClosed) {
		t.Errorf("closed store: %v", err)
	}
}

var errFull = errors.New("no room")

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errFull }

// A store that refuses everything must still let go of what was typed.
func TestRescue_writes_known_records_and_unsaved_drafts(t *testing.T) {
	known := merge.Records(storagetest.RandomOps(3, 40))
	drafts := []storage.Draft{
		{Kind: "torch", Schema: 1, Body: []byte("typed")},
		{Seen: known[0], Body: []byte("changed")},
		{Kind: "torch", Schema: 1, Body: make([]byte, storage.MaxBody+1)},
	}
	var file bytes.Buffer
	_, skipped, err := archive.Rescue(t.Context(), nil, &file, known, drafts, "", storagetest.Start, storagetest.NewSource(3))
	if err != nil || skipped != 1 {
		t.Fatalf("%d skipped, %v", skipped, err)
	}
	a, err := read(file.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	got := merge.Records(opsOf(t, a))
	if len(got) != len(known)+1 {
		t.Errorf("%d records rescued, want %d", len(got), len(known)+1)
	}
	i := slices.IndexFunc(got, func(r storage.Record) bool { return r.ID == known[0].ID })
	if string(got[i].Body) != "changed" || len(got[i].Heads) != 1 {
		t.Errorf("edited record = %+v", got[i])
	}
}

// entries makes a zip of the given entries.
func entries(t testing.TB, pairs ...string) []byte {
	t.Helper()
	var file bytes.Buffer
	z := zip.NewWriter(&file)
	for i := 0; i < len(pairs); i += 2 {
		w, err := z.Create(pairs[i])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(w, pairs[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// unpacked returns the two entries of a sound file.
func unpacked(t testing.TB) (manifest, ops string) {
	t.Helper()
	file := exported(t, storagetest.RandomOps(4, 12))
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	texts := make(map[string]string)
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		texts[f.Name] = string(text)
	}
	return texts["manifest.json"], texts["ops.jsonl"]
}

func TestRead_says_what_is_wrong_with_a_file(t *testing.T) {
	good := exported(t, storagetest.RandomOps(4, 12))
	manifest, ops := unpacked(t)
	first, rest, _ := strings.Cut(ops, "\n")
	for _, c := range []struct {
		name string
		file []byte
		want error
		says string
	}{
		{"empty", nil, archive.ErrForeign, "no zip"},
		{"a picture", []byte("\xff\xd8\xff\xe0 JFIF"), archive.ErrForeign, "no zip"},
		{"cut short", good[:len(good)/2], storage.ErrCorrupt, "cut short"},
		{"another zip", entries(t, "letter.txt", "hello"), archive.ErrForeign, "manifest.json"},
		{"another manifest", entries(t, "manifest.json", `{"name":"x"}`), archive.ErrForeign, archive.Format},
		{"a broken manifest", entries(t, "manifest.json", `{`), archive.ErrForeign, archive.Format},
		{"a huge manifest", entries(t, "manifest.json", strings.Repeat(" ", 5<<20)), archive.ErrForeign, "larger"},
		{"a newer version", entries(t, "manifest.json", strings.Replace(manifest, `"version": 2`, `"version": 3`, 1)), storage.ErrNewer, "version 3"},
		{"no version", entries(t, "manifest.json", strings.Replace(manifest, `"version": 2`, `"version": 0`, 1)), archive.ErrForeign, archive.Format},
		{"a wrong field", entries(t, "manifest.json", strings.Replace(manifest, `"ops": 12`, `"ops": "many"`, 1)), storage.ErrCorrupt, "manifest.json"},
		{"no ops", entries(t, "manifest.json", manifest), storage.ErrCorrupt, "ops.jsonl"},
		{"too many bytes said", entries(t, "manifest.json", `{"format":"torchside-archive","version":1,"bytes":99999999999}`), storage.ErrCorrupt, "at most"},
		{"more than said", entries(t, "manifest.json", manifest, "ops.jsonl", ops+ops), storage.ErrCorrupt, "larger"},
		{"a letter changed", entries(t, "manifest.json", manifest, "ops.jsonl", strings.Replace(ops, "torch", "porch", 1)), storage.ErrCorrupt, "not what"},
		{"a bad op", sealed(t, first+"\n"+strings.Replace(rest, `"n":2`, `"n":0`, 1)), storage.ErrCorrupt, "line"},
		{"an unknown field", sealed(t, strings.Replace(ops, `"n":2`, `"new":1,"n":2`, 1)), storage.ErrCorrupt, "line"},
		{"ops out of order", sealed(t, rest+first+"\n"), storage.ErrCorrupt, "not after"},
		{"an op twice", sealed(t, first+"\n"+ops), storage.ErrCorrupt, "not after"},
		{"text after an op", sealed(t, strings.Replace(ops, "\n", " {}\n", 1)), storage.ErrCorrupt, "line 1"},
		{"counts that differ", sealed(t, rest), storage.ErrCorrupt, "says"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := read(c.file)
			if !errors.Is(err, c.want) || !strings.Contains(fmt.Sprint(err), c.says) {
				t.Errorf("error = %v, want %v saying %q", err, c.want, c.says)
			}
		})
	}
}

// noughts is a file of nothing but noughts, however long.
type noughts struct{}

func (noughts) ReadAt(p []byte, _ int64) (int, error) { clear(p); return len(p), nil }

// The size is looked at first: one byte more than MaxFile is refused unread, MaxFile itself is read.
func TestRead_refuses_a_file_by_its_size(t *testing.T) {
	if _, err := archive.Read(noughts{}, archive.MaxFile+1, nil); !errors.Is(err, storage.ErrCorrupt) || !strings.Contains(err.Error(), "8589934593 bytes") {
		t.Errorf("a byte too many: %v", err)
	}
	if _, err := archive.Read(noughts{}, archive.MaxFile, nil); !errors.Is(err, archive.ErrForeign) {
		t.Errorf("the largest: %v, want that it is no zip", err)
	}
}
