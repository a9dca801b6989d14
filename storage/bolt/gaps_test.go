//go:build unix

package bolt_test

import (
	"archive/tar"
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// photographed is a filled vault with three more photos, and their files.
func photographed(t *testing.T) (v *bolt.Vault, folder string, shop vault.ShopID, names []storage.Hash, files []string) {
	t.Helper()
	folder = t.TempDir()
	v, shop = filled(t, folder)
	for i, text := range []string{"first photo", "second photo", "third photo"} {
		op, h := storagetest.RandomOps(uint64(900+i), 1)[0], storage.HashOf([]byte(text))
		op.Blobs = []storage.Hash{h}
		push(t, v, shop, op)
		try(t, v.WriteBlob(t.Context(), shop, h, 0, []byte(text), true))
		names, files = append(names, h), append(files, filepath.Join(folder, "blobs", string(shop), h[:2], h[2:4], h))
	}
	return v, folder, shop, names, files
}

// A photo that is lost must not keep all others out of the backup, nor take the
// place of a backup that still holds it.
func TestBackup_goes_on_past_lost_attachments_and_names_them(t *testing.T) {
	v, folder, shop, names, files := photographed(t)
	file := filepath.Join(t.TempDir(), "backup")
	try(t, os.Remove(files[0]))
	try(t, os.WriteFile(files[1], []byte("Second photo"), 0o600))
	var gaps *bolt.GapError
	if err := v.BackupFile(t.Context(), file, now); !errors.As(err, &gaps) || !errors.Is(err, storage.ErrCorrupt) {
		t.Fatalf("got %v, want a GapError", err)
	}
	for _, part := range []string{"2 photos or files", file, names[0] + ": ", names[1] + ": its file has another content", `shop "Home"`, "check --repair"} {
		if !strings.Contains(gaps.Error(), part) {
			t.Errorf("%q does not say %q", gaps, part)
		}
	}
	other := t.TempDir()
	done, err := bolt.Restore(t.Context(), other, file, false, now)
	try(t, err)
	r := sound(t, other)
	if done.Missing != 2 || done.Stats.Shops[0].Blobs != 2 || r.Stats.Shops[0].Wanted != 4 || r.Stats.Shops[0].Last.Seq != 203 {
		t.Errorf("restored: %+v, %+v, want 2 of 4 attachments and 203 changes", done, r.Stats.Shops[0])
	}
	w := open(t, other)
	f, _, err := w.OpenBlob(t.Context(), shop, names[2])
	try(t, err)
	try(t, f.Close())
	if _, _, err := w.OpenBlob(t.Context(), shop, names[0]); !errors.Is(err, vault.ErrNoBlob) {
		t.Errorf("a lost photo: %v, want ErrNoBlob", err)
	}
	try(t, w.WriteBlob(t.Context(), shop, names[0], 0, []byte("first photo"), true)) // a phone sends it
	try(t, v.Close())
	if _, err := bolt.Restore(t.Context(), folder, file, false, now); err != nil { // which loses nothing more
		t.Error(err)
	}
}

func TestBackup_with_gaps_leaves_an_older_one_as_it_is(t *testing.T) {
	v, folder, shop, names, files := photographed(t)
	file := filepath.Join(t.TempDir(), "backup")
	try(t, v.BackupFile(t.Context(), file, now))
	before, err := os.ReadFile(file)
	try(t, err)
	try(t, os.Remove(files[0]))
	var gaps *bolt.GapError
	if err := v.BackupFile(t.Context(), file, now); !errors.As(err, &gaps) || gaps.Kept != file || gaps.File != file+".incomplete" {
		t.Fatalf("got %v, want a GapError that names both files", err)
	}
	if after, err := os.ReadFile(file); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the older backup was changed, %v", err)
	}
	if _, err := bolt.Restore(t.Context(), t.TempDir(), gaps.File, false, now); err != nil {
		t.Error(err)
	}
	try(t, v.Close())
	report, err := bolt.Repair(t.Context(), folder)
	if err != nil || report.Mended.Wanted != 1 || len(report.Mended.Kept) != 0 {
		t.Errorf("repaired: %+v, %v", report.Mended, err)
	}
	v = open(t, folder)
	try(t, v.WriteBlob(t.Context(), shop, names[0], 0, []byte("first photo"), true))
	try(t, v.BackupFile(t.Context(), file, now.Add(time.Hour)))
	if _, err := os.Stat(file + ".incomplete"); err == nil {
		t.Error("the incomplete backup is still there beside a whole one")
	}
}

// The numbers at the end of a backup must fit what is in it.
func TestRestore_refuses_a_backup_with_other_gaps_than_it_says(t *testing.T) {
	_, file, _ := backedUp(t)
	whole, err := os.ReadFile(file)
	try(t, err)
	for name, change := range map[string]func(h *tar.Header, body []byte) []byte{
		"a gap it does not have": func(h *tar.Header, body []byte) []byte {
			return bytes.Replace(body, []byte(`"attachments":1`), []byte(`"attachments":1,"missing":1`), 1)
		},
		"a gap it does not say": func(h *tar.Header, body []byte) []byte {
			if strings.HasPrefix(h.Name, "blobs/") {
				return nil
			}
			return bytes.Replace(body, []byte(`"attachments":1`), []byte(`"attachments":0`), 1)
		},
	} {
		var b bytes.Buffer
		in, out := tar.NewReader(bytes.NewReader(whole)), tar.NewWriter(&b)
		for h, err := in.Next(); err != io.EOF; h, err = in.Next() {
			try(t, err)
			body, err := io.ReadAll(in)
			try(t, err)
			if body = change(h, body); body != nil {
				h.Size = int64(len(body))
				try(t, out.WriteHeader(h))
				_, err = out.Write(body)
				try(t, err)
			}
		}
		try(t, out.Close())
		try(t, os.WriteFile(file, b.Bytes(), 0o600))
		if _, err := bolt.Restore(t.Context(), t.TempDir(), file, true, now); !errors.Is(err, storage.ErrCorrupt) {
			t.Errorf("%s: got %v, want ErrCorrupt", name, err)
		}
	}
}

func TestRestore_counts_the_photos_it_would_lose(t *testing.T) {
	folder, file, shop := backedUp(t)
	v := open(t, folder)
	late := []byte("half a photo") // the change that names it is in the backup: its file stays in place
	try(t, v.WriteBlob(t.Context(), shop, storage.HashOf(late), 4, late[4:], true))
	try(t, v.Close())
	if _, err := bolt.Restore(t.Context(), folder, file, false, now); err != nil {
		t.Fatalf("a photo that stays in place is lost: %v", err)
	}
	v = open(t, folder)
	if have, complete, err := v.BlobOffset(t.Context(), shop, storage.HashOf(late)); err != nil || !complete {
		t.Errorf("the photo is not there after all: %d, %v, %v", have, complete, err)
	}
	op := storagetest.RandomOps(77, 1)[0]
	op.Blobs = []storage.Hash{storage.HashOf([]byte("new")), storage.HashOf([]byte("newer"))}
	push(t, v, shop, op)
	try(t, v.WriteBlob(t.Context(), shop, op.Blobs[0], 0, []byte("new"), true))
	try(t, v.WriteBlob(t.Context(), shop, op.Blobs[1], 0, []byte("newer"), true))
	try(t, v.Close())
	_, err := bolt.Restore(t.Context(), folder, file, false, now)
	var newer *bolt.NewerError
	if !errors.As(err, &newer) || len(newer.Losses) != 1 || newer.Losses[0] != `1 change and 2 photos or files of the shop "Home"` {
		t.Errorf("got %v, want a refusal that counts 1 change and 2 photos", err)
	}
}
