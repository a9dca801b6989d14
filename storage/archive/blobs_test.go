package archive_test

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/archive"
	"torchside/storage/memory"
	"torchside/storage/storagetest"
)

// journal returns a store with a history, photos, and one photo that nothing refers to.
func journal(t testing.TB) *memory.Store {
	t.Helper()
	s := filled(t, storagetest.RandomOps(20, 450))
	author := storage.NewAuthor(s, time.Now, storagetest.NewSource(20))
	var names []storage.Hash
	for i := range 30 {
		name, err := s.PutBlob(context.Background(), bytes.Repeat([]byte{byte(i), 0xff}, 1000+i))
		if err != nil {
			t.Fatal(err)
		}
		names = append(names, name)
	}
	for _, name := range names[1:] {
		if _, err := author.Write(context.Background(), storage.Draft{Kind: "sheet", Schema: 1, Blobs: []storage.Hash{name}}); err != nil {
			t.Fatal(err)
		}
	}
	return s
}

func fingerprint(t testing.TB, s storage.Store) string {
	t.Helper()
	f, err := archive.Fingerprint(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestImport_after_a_wipe_gives_the_identical_journal(t *testing.T) {
	full, empty := journal(t), memory.New()
	want := fingerprint(t, full)
	report := imported(t, empty, exportOf(t, full))
	if got := fingerprint(t, empty); got != want || report.Blobs != 30 || report.Added != 450+29 {
		t.Errorf("fingerprint %s, want %s; %+v", got, want, report)
	}
	if again := imported(t, empty, exportOf(t, full)); again.Blobs != 0 || again.Added != 0 {
		t.Errorf("a second import added %+v", again)
	}
}

func TestFingerprint_changes_with_every_op_and_every_attachment(t *testing.T) {
	seen := map[string]bool{}
	s := journal(t)
	for i := range 3 {
		seen[fingerprint(t, s)] = true
		if _, err := s.PutBlob(context.Background(), fmt.Append(nil, i)); err != nil {
			t.Fatal(err)
		}
		seen[fingerprint(t, s)] = true
		if _, err := s.Append(context.Background(), storagetest.RandomOps(uint64(30+i), 1)...); err != nil {
			t.Fatal(err)
		}
	}
	if len(seen) != 6 {
		t.Errorf("6 states have %d fingerprints", len(seen))
	}
}

// damagedBlobs is a store one of whose attachments cannot be read.
type damagedBlobs struct {
	storage.Store
	bad storage.Hash
}

func (d damagedBlobs) Blob(ctx context.Context, h storage.Hash) ([]byte, error) {
	if h == d.bad {
		return nil, storage.ErrCorrupt
	}
	return d.Store.Blob(ctx, h)
}

func TestExport_names_an_attachment_it_cannot_read_and_saves_the_rest(t *testing.T) {
	s := damagedBlobs{journal(t), storage.HashOf(bytes.Repeat([]byte{3, 0xff}, 1003))}
	file := exportOf(t, s)
	a, err := read(file)
	if err != nil || a.Manifest.Blobs != 29 || len(a.Manifest.Lost) != 1 || a.Manifest.Lost[0] != s.bad {
		t.Errorf("manifest %+v, %v", a.Manifest, err)
	}
	if _, err := archive.Fingerprint(context.Background(), s); !errors.Is(err, storage.ErrCorrupt) {
		t.Errorf("fingerprint of a damaged store: %v", err)
	}
}

// part is one entry of a zip made by hand.
type part struct {
	name string
	data []byte
	crc  uint32 // added to the right one
	more uint64 // bytes it claims above what it has
}

func zipOf(t testing.TB, parts ...part) []byte {
	t.Helper()
	var file bytes.Buffer
	z := zip.NewWriter(&file)
	for _, p := range parts {
		w, err := z.CreateRaw(&zip.FileHeader{Name: p.name, Method: zip.Store, CRC32: crc32.ChecksumIEEE(p.data) + p.crc,
			CompressedSize64: uint64(len(p.data)) + p.more, UncompressedSize64: uint64(len(p.data)) + p.more})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(p.data); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// withBlobs makes a file whose manifest claims these attachments, and more parts.
func withBlobs(t testing.TB, blobs int, size int64, more ...part) []byte {
	t.Helper()
	text, ops := unpacked(t)
	var m archive.Manifest
	if err := json.Unmarshal([]byte(text), &m); err != nil {
		t.Fatal(err)
	}
	m.Blobs, m.BlobBytes = blobs, size
	manifest, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return zipOf(t, append([]part{{name: "ops.jsonl", data: []byte(ops)}, {name: "manifest.json", data: manifest}}, more...)...)
}

func TestRead_says_which_attachment_is_wrong(t *testing.T) {
	photo := []byte("photo")
	name := "blobs/" + storage.HashOf(photo)
	other := "blobs/" + storage.HashOf([]byte("other"))
	for _, c := range []struct {
		name string
		file []byte
		says string
	}{
		{"other content", withBlobs(t, 1, 5, part{name: other, data: photo}), other},
		{"a checksum that does not fit", withBlobs(t, 1, 5, part{name: name, data: photo, crc: 1}), name},
		{"one too few", withBlobs(t, 2, 10, part{name: name, data: photo}), "1 attachments"},
		{"one too many", withBlobs(t, 0, 0, part{name: name, data: photo}), "1 attachments"},
		{"another size in all", withBlobs(t, 1, 6, part{name: name, data: photo}), "5 bytes of attachments"},
		{"twice", withBlobs(t, 2, 10, part{name: name, data: photo}, part{name: name, data: photo}), "twice"},
		{"empty", withBlobs(t, 1, 0, part{name: name}), "0 bytes"},
		{"a name that leads out", withBlobs(t, 1, 5, part{name: "blobs/../../" + storage.HashOf(photo), data: photo}), "no export has"},
		{"an absolute name", withBlobs(t, 0, 0, part{name: "/etc/passwd", data: photo}), `"/etc/passwd"`},
		{"a name with a backslash", withBlobs(t, 0, 0, part{name: `..\x`, data: photo}), "no export has"},
		{"something else", withBlobs(t, 0, 0, part{name: "virus.exe", data: photo}), `"virus.exe"`},
		{"an absurd size", withBlobs(t, 1, 1<<40, part{name: name, data: photo, more: 1 << 40}), "attachments have"},
		{"parts larger than the file", withBlobs(t, 2, 1<<24, part{name: name, data: photo, more: 1 << 23}, part{name: other, data: photo, more: 1 << 23}), "larger than the file"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := read(c.file)
			if !errors.Is(err, storage.ErrCorrupt) || !strings.Contains(fmt.Sprint(err), c.says) {
				t.Errorf("error = %v, want one saying %q", err, c.says)
			}
		})
	}
}

// Little that unpacks to very much is stopped at the limit of an attachment.
func TestRead_stops_an_attachment_that_unpacks_to_far_more(t *testing.T) {
	var file bytes.Buffer
	z := zip.NewWriter(&file)
	text, ops := unpacked(t)
	bomb := "blobs/" + storage.HashOf([]byte("bomb"))
	for _, p := range []part{
		{name: "manifest.json", data: []byte(strings.Replace(text, `"bytes"`, `"blobs": 1, "blob_bytes": 99999999, "bytes"`, 1))},
		{name: "ops.jsonl", data: []byte(ops)}, {name: bomb, data: make([]byte, 2*storage.MaxBlob)},
	} {
		w, err := z.Create(p.name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(p.data); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := read(file.Bytes()); !errors.Is(err, storage.ErrCorrupt) || !strings.Contains(fmt.Sprint(err), bomb) {
		t.Errorf("error = %v, want it to name the attachment", err)
	}
}

// Every cut and every altered byte in the content is found before anything is stored.
func TestRead_finds_a_file_cut_short_or_altered_anywhere(t *testing.T) {
	s := filled(t, storagetest.RandomOps(21, 10))
	if _, err := s.PutBlob(context.Background(), []byte("a small photo")); err != nil {
		t.Fatal(err)
	}
	good := exportOf(t, s)
	want := fingerprint(t, s)
	for i := range good {
		if _, err := read(good[:i]); err == nil {
			t.Fatalf("cut at %d of %d: no error", i, len(good))
		}
		bad := bytes.Clone(good)
		bad[i] ^= 0x10
		a, err := read(bad)
		if err != nil {
			continue
		}
		// What is read although a byte differs (a date, the README) must hold the same.
		again := memory.New()
		if _, err := archive.Import(context.Background(), again, a, nil); err != nil || fingerprint(t, again) != want {
			t.Fatalf("byte %d altered: read as something else, %v", i, err)
		}
	}
}

// failing is a file on a card that was pulled out.
type failing struct {
	io.ReaderAt
	from int64
}

var errPulled = errors.New("card pulled out")

func (f failing) ReadAt(p []byte, off int64) (int, error) {
	if off+int64(len(p)) > f.from {
		return 0, errPulled
	}
	return f.ReaderAt.ReadAt(p, off)
}

func TestRead_tells_a_file_that_cannot_be_read_from_a_damaged_one(t *testing.T) {
	file := exportOf(t, journal(t))
	for _, from := range []int64{0, 100, int64(len(file) / 2)} {
		_, err := archive.Read(failing{bytes.NewReader(file), from}, int64(len(file)), nil)
		if !errors.Is(err, errPulled) || errors.Is(err, storage.ErrCorrupt) {
			t.Errorf("from %d on: %v", from, err)
		}
	}
}

// crowded is a store on a device with little room.
type crowded struct {
	storage.Store
	left int64
}

func (c crowded) Usage(ctx context.Context) (storage.Usage, error) {
	u, err := c.Store.Usage(ctx)
	u.Bytes, u.Quota = 1000, 1000+c.left
	return u, err
}

func TestImport_adds_nothing_when_there_is_no_room_for_all(t *testing.T) {
	a, err := read(exportOf(t, journal(t)))
	if err != nil {
		t.Fatal(err)
	}
	s := memory.New()
	before := fingerprint(t, s)
	if _, err := archive.Import(context.Background(), crowded{s, 50_000}, a, nil); !errors.Is(err, storage.ErrFull) {
		t.Errorf("error = %v, want ErrFull", err)
	}
	if fingerprint(t, s) != before {
		t.Error("something was added")
	}
	if _, err := archive.Import(context.Background(), crowded{s, 5_000_000}, a, nil); err != nil {
		t.Errorf("with room: %v", err)
	}
}

func TestImport_tells_how_far_it_is(t *testing.T) {
	file := exportOf(t, journal(t))
	var steps [2][]int64
	follow := func(n int) archive.Progress {
		return func(done, total int64) {
			if list := steps[n]; len(list) > 0 && done < list[len(list)-1] || done > total {
				t.Errorf("%d of %d after %v", done, total, steps[n])
			}
			steps[n] = append(steps[n], done)
		}
	}
	a, err := archive.Read(bytes.NewReader(file), int64(len(file)), follow(0))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := archive.Import(context.Background(), memory.New(), a, follow(1)); err != nil {
		t.Fatal(err)
	}
	total := a.Manifest.Bytes + a.Manifest.BlobBytes
	for n, list := range steps {
		if len(list) < 30 || list[len(list)-1] != total {
			t.Errorf("step %d told %v, want it to end at %d", n, list, total)
		}
	}
}
