//go:build unix

package bolt

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"syscall"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// fault makes the write of one number fail for want of room, and all after it.
type fault struct {
	at   int     // number of the first write that fails
	kept float64 // share of it that is written all the same
	seen int
	over bool // there is room again
}

// in puts the fault between the vault and its disk.
func (f *fault) in(v *Vault) {
	hookWrites(v, func(write writeFunc) writeFunc {
		return func(b []byte, at int64) (int, error) {
			f.seen++
			if f.over || f.seen <= f.at {
				return write(b, at)
			}
			n := 0
			if f.seen == f.at+1 {
				n, _ = write(b[:int(f.kept*float64(len(b)))], at)
			}
			return n, syscall.ENOSPC
		}
	})
	v.putBack = func(file *os.File, metas []byte) error {
		if !f.over {
			return syscall.ENOSPC
		}
		return writeMetas(file, metas)
	}
}

// smallVault has one shop with a batch of ops.
func smallVault(t *testing.T) (*Vault, vault.ShopID) {
	t.Helper()
	v, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = v.Close() })
	home, err := v.CreateShop(t.Context(), "Home", time.Unix(1e9, 0))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := v.Push(t.Context(), home.ID, storagetest.RandomOps(1, 40)); err != nil {
		t.Fatal(err)
	}
	return v, home.ID
}

// whole is all a shop holds.
func whole(t *testing.T, v *Vault, shop vault.ShopID) (vault.Page, error) {
	t.Helper()
	return v.Pull(t.Context(), shop, vault.Checkpoint{}, vault.Limits{Ops: 1 << 30, Bytes: 1 << 40})
}

// A disk that becomes full at any write of a commit, the meta page that makes
// it count included, with none, half or all of that write on the disk.
func TestFullDisk_at_any_write_keeps_nothing_of_the_batch_and_is_got_over(t *testing.T) {
	metas := 0
	for _, kept := range []float64{0, 0.01, 0.5, 1} { // a meta is in the first hundredth of its page
		for at, full := 0, true; full; at++ {
			f := &fault{at: at, kept: kept}
			t.Run(fmt.Sprintf("write %d, %g of it kept", at, kept), func(t *testing.T) { full = f.play(t, &metas) })
		}
	}
	if metas < 3 {
		t.Errorf("only %d commits were left in doubt: the meta page was not met", metas)
	}
}

// play fills the disk during a push. full: the push met it.
func (f *fault) play(t *testing.T, metas *int) (full bool) {
	v, shop := smallVault(t)
	before, err := whole(t, v, shop)
	if err != nil {
		t.Fatal(err)
	}
	f.in(v)
	batch := storagetest.RandomOps(2, 60)
	for range 3 {
		_, err := v.Push(t.Context(), shop, batch)
		if err == nil && !full {
			return false
		}
		if full = true; !errors.Is(err, storage.ErrFull) {
			t.Fatalf("pushing on a full disk: %v, want ErrFull", err)
		}
		if page, err := whole(t, v, shop); err == nil && !reflect.DeepEqual(page, before) || err != nil && !errors.Is(err, storage.ErrFull) {
			t.Fatalf("on a full disk %d changes are given out, %d were kept, %v", len(page.Ops), len(before.Ops), err)
		}
	}
	if v.undo != nil {
		*metas++
	}
	f.over = true
	if page, err := whole(t, v, shop); err != nil || !reflect.DeepEqual(page, before) {
		t.Fatalf("with room again: %d changes, want %d, %v", len(page.Ops), len(before.Ops), err)
	}
	acks, err := v.Push(t.Context(), shop, batch)
	if err != nil || acks[0].Status != vault.Stored || acks[0].At.Seq != before.Next.Seq+1 {
		t.Fatalf("with room again: %+v, %v", acks, err)
	}
	after, err := whole(t, v, shop)
	if err := errors.Join(err, v.Close()); err != nil || len(after.Ops) != 100 {
		t.Fatalf("%d changes, want 100, %v", len(after.Ops), err)
	}
	report, err := Check(t.Context(), v.folder)
	if err != nil || len(report.Findings) > 0 {
		t.Fatalf("check: %+v, %v", report.Findings, err)
	}
	return true
}

// Whoever replaces or changes the file under a running server must not get what
// is pushed acknowledged: it would be in no vault with the next start.
func TestVault_acknowledges_nothing_once_its_file_was_changed_by_others(t *testing.T) {
	copied := func(v *Vault, from string) error {
		data, err := os.ReadFile(from)
		if err != nil {
			return err
		}
		return os.WriteFile(v.path, data, 0o600) // into the same file, as cp does
	}
	for name, c := range map[string]struct {
		change func(v *Vault, older string) error
		mended func(v *Vault) error // nil: only a new start helps
	}{
		"moved away": {func(v *Vault, _ string) error { return os.Rename(v.path, v.path+".moved") },
			func(v *Vault) error { return os.Rename(v.path+".moved", v.path) }},
		"deleted":     {func(v *Vault, _ string) error { return os.Remove(v.path) }, nil},
		"replaced":    {func(v *Vault, older string) error { return os.Rename(older, v.path) }, nil},
		"copied over": {copied, nil},
	} {
		t.Run(name, func(t *testing.T) {
			v, shop := smallVault(t)
			older := filepath.Join(t.TempDir(), "older")
			if err := copyFile(v.path, older); err != nil {
				t.Fatal(err)
			}
			if _, err := v.Push(t.Context(), shop, storagetest.RandomOps(2, 40)); err != nil {
				t.Fatal(err)
			}
			if err := c.change(v, older); err != nil {
				t.Fatal(err)
			}
			for range 2 {
				if _, err := v.Push(t.Context(), shop, storagetest.RandomOps(3, 5)); !errors.Is(err, storage.ErrLost) {
					t.Errorf("pushing: %v, want ErrLost", err)
				}
			}
			if c.mended == nil {
				return
			}
			if err := c.mended(v); err != nil {
				t.Fatal(err)
			}
			if acks, err := v.Push(t.Context(), shop, storagetest.RandomOps(3, 5)); err != nil || acks[0].At.Seq != 81 {
				t.Errorf("put back: %+v, %v", acks, err)
			}
		})
	}
}

// Some systems find out only when a file is synced that there is no room for it.
func TestFullDisk_found_when_an_attachment_is_synced_leaves_no_piece_that_may_be_lost(t *testing.T) {
	v, shop := smallVault(t)
	photo := []byte("half and half")
	op := storagetest.RandomOps(7, 1)[0]
	h := storage.HashOf(photo)
	op.Blobs = []storage.Hash{h}
	if _, err := v.Push(t.Context(), shop, []storage.Op{op}); err != nil {
		t.Fatal(err)
	}
	v.syncFile = func(*os.File) error { return &os.PathError{Op: "sync", Path: "photo", Err: syscall.ENOSPC} }
	first := v.WriteBlob(t.Context(), shop, h, 0, photo[:5], false)
	if err := v.WriteBlob(t.Context(), shop, h, 5, photo[5:], true); first != nil || !errors.Is(err, storage.ErrFull) {
		t.Fatalf("%v, %v, want ErrFull with the last piece", first, err)
	}
	if have, complete, err := v.BlobOffset(t.Context(), shop, h); err != nil || complete || have != 0 {
		t.Errorf("%d bytes are said to be held, %v, %v", have, complete, err)
	}
	v.syncFile = (*os.File).Sync
	if err := v.WriteBlob(t.Context(), shop, h, 0, photo, true); err != nil {
		t.Errorf("with room again: %v", err)
	}
}
