//go:build unix

package bolt_test

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"torchside/storage"
	"torchside/storage/vault"
)

func TestAttachments_whose_file_vanished_are_wanted_again_when_asked_for(t *testing.T) {
	folder := t.TempDir()
	v, shop := filled(t, folder)
	h := storage.HashOf([]byte("a photo"))
	try(t, os.Remove(filepath.Join(folder, "blobs", string(shop), h[:2], h[2:4], h)))
	if _, _, err := v.OpenBlob(t.Context(), shop, h); !errors.Is(err, vault.ErrNoBlob) {
		t.Errorf("got %v, want ErrNoBlob", err)
	}
	if wants, err := v.Want(t.Context(), shop, 9); err != nil || !slices.Contains(wants, h) {
		t.Errorf("wants %v, %v", wants, err)
	}
	try(t, v.Close())
	sound(t, folder)
}

func TestAttachments_in_place_before_a_power_cut_are_taken_in(t *testing.T) {
	folder := t.TempDir()
	v, shop := filled(t, folder)
	data := []byte("none")
	h := storage.HashOf(data)
	path := filepath.Join(folder, "blobs", string(shop), h[:2], h[2:4], h)
	try(t, os.MkdirAll(filepath.Dir(path), 0o700))
	try(t, os.WriteFile(path, data, 0o600))
	if have, complete, err := v.BlobOffset(t.Context(), shop, h); err != nil || !complete || have != 4 {
		t.Errorf("%d, %v, %v: want all of it held", have, complete, err)
	}
	try(t, v.Close())
	sound(t, folder)
}

func TestPieces_a_power_cut_emptied_are_noticed_at_the_end(t *testing.T) {
	folder := t.TempDir()
	v, shop := filled(t, folder)
	data := []byte("half a photo")
	h := storage.HashOf(data)
	path := filepath.Join(folder, "blobs", string(shop), "partial", h)
	try(t, os.WriteFile(path, make([]byte, 4), 0o600)) // the length was kept, the content was not
	if err := v.WriteBlob(t.Context(), shop, h, 4, data[4:], true); !errors.Is(err, vault.ErrHash) {
		t.Errorf("got %v, want ErrHash", err)
	}
	try(t, v.WriteBlob(t.Context(), shop, h, 0, data, true))
	try(t, v.Close())
	sound(t, folder)
}
