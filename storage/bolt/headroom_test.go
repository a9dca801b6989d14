//go:build unix

package bolt_test

import (
	"io"
	"math/bits"
	"os"
	"path/filepath"
	"testing"
	"time"

	"torchside/storage/bolt"
	"torchside/storage/storagetest"
)

// A backup whose target takes nothing for a while holds up nobody, though the vault grows far beyond what was mapped.
func TestBackup_that_is_slow_holds_up_no_writer(t *testing.T) {
	if bits.UintSize < 64 {
		t.Skip("there are too few addresses to keep room ahead")
	}
	bolt.KeepHeadroomFrom(t, 1)
	folder, shop := fresh(t)
	src := storagetest.NewSource(9)
	const batch = 200
	v := open(t, folder)
	first := 0
	grow := func(n int) {
		for end := first + n; first < end; first += batch {
			push(t, v, shop, sheets(src, first, batch)...)
		}
	}
	grow(1200)
	try(t, v.Close())
	v = open(t, folder)
	info, err := os.Stat(filepath.Join(folder, "vault.bolt"))
	try(t, err)
	mapped := info.Size()

	out, in := io.Pipe()
	backup := make(chan error, 1)
	go func() {
		_, err := v.Backup(t.Context(), in, now)
		backup <- err
		_ = in.Close()
	}()
	begun := make([]byte, 4096) // it has begun to read the database, and now waits for us
	_, err = io.ReadFull(out, begun)
	try(t, err)

	// If writers did wait, the target would have to go on for the test to end.
	late := time.AfterFunc(30*time.Second, func() { _, _ = io.Copy(io.Discard, out) })
	for inUse(t, v) <= mapped { // far enough that it has to be mapped anew, were there no room
		grow(batch)
	}
	if !late.Stop() {
		t.Error("writers waited for the backup")
	}
	_, err = io.Copy(io.Discard, out)
	try(t, err)
	try(t, <-backup)
	try(t, v.Close())
	sound(t, folder)
}

// inUse is how much of the file is in use.
func inUse(t *testing.T, v *bolt.Vault) int64 {
	t.Helper()
	s, err := v.Stats(t.Context())
	try(t, err)
	return s.FileBytes
}
