//go:build !js

package bolt

import (
	"os"
	"testing"
	"time"

	"torchside/storage"
)

// An attachment that is just being put or uploaded is left alone until that is
// done, its row as well as its file; else what was put would have no file.
func TestDropOrphans_waits_for_an_upload_and_then_looks_again(t *testing.T) {
	v, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer v.Close()
	home, err := v.CreateShop(t.Context(), "Home", time.Unix(1e9, 0))
	if err != nil {
		t.Fatal(err)
	}
	s, err := v.Shop(t.Context(), home.ID, storage.Index{Version: 1})
	if err != nil {
		t.Fatal(err)
	}
	h, err := s.PutBlob(t.Context(), []byte("a photo"))
	if err != nil {
		t.Fatal(err)
	}
	upload := v.piece(h)
	upload.Lock()
	done := make(chan []storage.Hash)
	go func() {
		dropped, err := s.DropOrphans(t.Context(), time.Now().Add(2*storage.OrphanAge))
		if err != nil {
			t.Error(err)
		}
		done <- dropped
	}()
	select {
	case dropped := <-done:
		t.Fatalf("it did not wait, and dropped %v", dropped)
	case <-time.After(200 * time.Millisecond):
	}
	if missing, err := s.MissingBlobs(t.Context(), h); err != nil || len(missing) > 0 {
		t.Errorf("its row is gone while it is being put: %v, %v", missing, err)
	}
	path := blobPath(v.folder, home.ID, h)
	if err := os.Chtimes(path, time.Time{}, time.Now().Add(2*storage.OrphanAge)); err != nil { // put again just now
		t.Errorf("its file is gone while it is being put: %v", err)
	}
	upload.Unlock()
	if dropped := <-done; len(dropped) != 0 {
		t.Errorf("dropped %v, which was put again meanwhile", dropped)
	}
	if data, err := s.Blob(t.Context(), h); err != nil || string(data) != "a photo" {
		t.Errorf("%q, %v", data, err)
	}
}
