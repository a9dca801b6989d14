//go:build unix

package bolt_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"torchside/storage"
	"torchside/storage/bolt"
)

func TestRepair_asks_again_for_lost_attachments_and_deletes_what_nothing_names(t *testing.T) {
	folder := t.TempDir()
	v, shop := filled(t, folder)
	want, err := v.Want(t.Context(), shop, 9)
	try(t, err)
	photo := []byte("a photo")
	h := storage.HashOf(photo)
	try(t, v.Close())
	base := filepath.Join(folder, "blobs", string(shop))
	held := filepath.Join(base, h[:2], h[2:4], h)
	stray := filepath.Join(base, "stray")
	for _, spoilt := range []string{"", "A photo", "a pho"} {
		if spoilt == "" {
			try(t, os.Remove(held))
		} else {
			try(t, os.WriteFile(held, []byte(spoilt), 0o600))
		}
		try(t, os.WriteFile(stray, []byte("x"), 0o600))
		report, err := bolt.Check(t.Context(), folder)
		try(t, err)
		if len(report.Findings) != 2 || report.Sound() || report.Lost != 1 || report.LostBytes != 7 {
			t.Fatalf("found %+v, want the attachment and the stray file", report)
		}
		report, err = bolt.Repair(t.Context(), folder)
		if err != nil || len(report.Findings) != 0 {
			t.Fatalf("after the repair: %+v, %v", report, err)
		}
		kept := ""
		for _, path := range report.Mended.Kept {
			left, err := os.ReadFile(path)
			try(t, err)
			kept += string(left)
		}
		if m := report.Mended; m.Wanted != 1 || m.Deleted != 1 || m.DeletedBytes != 1 || kept != spoilt {
			t.Errorf("the repair says %+v and keeps %q, want what was left of the photo, %q", m, kept, spoilt)
		}
		v = open(t, folder)
		wants, err := v.Want(t.Context(), shop, 9)
		if err != nil || len(wants) != len(want)+1 || !slices.Contains(wants, h) {
			t.Errorf("wants %v, %v, want the lost one too", wants, err)
		}
		try(t, v.WriteBlob(t.Context(), shop, h, 0, photo, true))
		try(t, v.Close())
		sound(t, folder)
	}
}
