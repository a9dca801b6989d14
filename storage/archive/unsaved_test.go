package archive_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"slices"
	"testing"

	"torchside/storage"
	"torchside/storage/archive"
	"torchside/storage/merge"
	"torchside/storage/storagetest"
)

// What a store refused goes into the file beside the whole history it holds, and the file reads in again.
func TestExportUnsaved_holds_the_history_and_what_was_refused(t *testing.T) {
	ops := storagetest.RandomOps(5, 450)
	s := filled(t, ops)
	known := merge.Records(ops)
	drafts := []storage.Draft{
		{Kind: "torch", Schema: 1, Body: []byte("typed")},
		{Seen: known[0], Body: []byte("changed")},
		{Kind: "torch", Schema: 1, Body: make([]byte, storage.MaxBody+1)},
	}
	for _, days := range []int{-10000, 0, 10000} { // ids of the drafts lie before, among and after those of the store
		var file bytes.Buffer
		at := storagetest.Start.AddDate(0, 0, days)
		m, skipped, err := archive.ExportUnsaved(context.Background(), s, &file, drafts, "", at, storagetest.NewSource(5))
		if err != nil || skipped != 1 || m.Ops != len(ops)+2 {
			t.Fatalf("%d days: %d skipped, %d ops, %v", days, skipped, m.Ops, err)
		}
		a, err := read(file.Bytes())
		if err != nil {
			t.Fatalf("%d days: %v", days, err)
		}
		more := slices.DeleteFunc(slices.Clone(opsOf(t, a)), func(o storage.Op) bool {
			return slices.ContainsFunc(ops, func(held storage.Op) bool { return held.ID == o.ID })
		})
		if len(more) != 2 {
			t.Fatalf("%d days: beside the history there are %d ops, want 2", days, len(more))
		}
		for _, body := range []string{"typed", "changed"} {
			if !slices.ContainsFunc(more, func(o storage.Op) bool { return string(o.Body) == body }) {
				t.Errorf("%d days: %q is not in the file", days, body)
			}
		}
	}
}

func TestExportUnsaved_passes_on_what_the_store_and_the_writer_say(t *testing.T) {
	s := filled(t, storagetest.RandomOps(2, 10))
	if _, _, err := archive.ExportUnsaved(context.Background(), s, full{}, nil, "", storagetest.Start, storagetest.NewSource(5)); !errors.Is(err, errFull) {
		t.Errorf("full writer: %v", err)
	}
	s.Close()
	if _, _, err := archive.ExportUnsaved(context.Background(), s, io.Discard, nil, "", storagetest.Start, storagetest.NewSource(5)); !errors.Is(err, storage.ErrClosed) {
		t.Errorf("closed store: %v", err)
	}
}
