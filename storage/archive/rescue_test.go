package archive_test

import (
	"bytes"
	"context"
	"errors"
	"testing"

	"torchside/storage"
	"torchside/storage/archive"
	"torchside/storage/storagetest"
)

// breaking is a store that gives so many attachments and is lost then; none of its ops can be read.
type breaking struct {
	storage.Store
	left *int
}

func (b breaking) Ops(context.Context, storage.ID, int) ([]storage.Op, error) {
	return nil, storage.ErrCorrupt
}

func (b breaking) Blob(ctx context.Context, h storage.Hash) ([]byte, error) {
	if *b.left--; *b.left < 0 {
		return nil, storage.ErrLost
	}
	return b.Store.Blob(ctx, h)
}

// A store whose ops are damaged lets go of what was read of it and of its photos, up to where it breaks off.
func TestRescue_holds_the_photos_that_can_be_read(t *testing.T) {
	s := journal(t)
	records, err := s.List(t.Context(), storage.Query{Kind: "sheet"})
	if err != nil {
		t.Fatal(err)
	}
	for _, photos := range []int{100, 7, 0} {
		left := photos
		b := breaking{s, &left}
		var file bytes.Buffer
		if _, err := archive.Export(t.Context(), b, &file, "", storagetest.Start); !errors.Is(err, storage.ErrCorrupt) {
			t.Fatalf("export: %v", err)
		}
		file.Reset()
		left = photos
		if _, _, err := archive.Rescue(t.Context(), b, &file, records, nil, "", storagetest.Start, storagetest.NewSource(1)); err != nil {
			t.Fatal(err)
		}
		a, err := read(file.Bytes())
		if err != nil || a.Manifest.Records != len(records) || a.Manifest.Blobs != min(photos, 30) {
			t.Errorf("with %d photos to be read: %+v, %v", photos, a, err)
		}
	}
	if _, _, err := archive.Rescue(t.Context(), s, full{}, records, nil, "", storagetest.Start, storagetest.NewSource(1)); !errors.Is(err, errFull) {
		t.Errorf("no room for the file: %v", err)
	}
}
