//go:build unix

package bolt_test

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"torchside/storage/bolt"
	"torchside/storage/storagetest"
)

// slowly feeds a backup to a Restore through a pipe, and calls meanwhile when
// half of it is read: the restore is then surely under way.
func slowly(t *testing.T, file string, meanwhile func()) (pipe string) {
	t.Helper()
	whole, err := os.ReadFile(file)
	try(t, err)
	pipe = filepath.Join(t.TempDir(), "pipe")
	try(t, syscall.Mkfifo(pipe, 0o600))
	go func() {
		out, err := os.OpenFile(pipe, os.O_WRONLY, 0)
		if err != nil {
			t.Error(err)
			return
		}
		_, first := out.Write(whole[:len(whole)/2])
		meanwhile()
		_, rest := out.Write(whole[len(whole)/2:])
		if err := errors.Join(first, rest, out.Close()); err != nil {
			t.Error(err)
		}
	}()
	return pipe
}

// A server that waits for the end of a restore must open what was restored. Had
// it opened the file that was put aside, all it acknowledged would be gone with
// its next start.
func TestRestore_who_waits_for_it_opens_the_restored_vault(t *testing.T) {
	full, file, shop := backedUp(t)
	old := open(t, full)
	oldID := old.ID()
	try(t, old.Close())
	for name, folder := range map[string]string{"over a vault": full, "where there is none": t.TempDir()} {
		opened, waiting := make(chan *bolt.Vault, 1), make(chan struct{})
		go func() {
			<-waiting
			v, err := bolt.Open(folder)
			if err != nil {
				t.Errorf("%s: %v", name, err)
			}
			opened <- v
		}()
		pipe := slowly(t, file, func() {
			close(waiting)
			time.Sleep(200 * time.Millisecond) // so that it has begun to wait
		})
		_, err := bolt.Restore(t.Context(), folder, pipe, false, now)
		try(t, err)
		v := <-opened
		if v == nil {
			continue
		}
		acks := push(t, v, shop, storagetest.RandomOps(60, 3)...)
		id := v.ID()
		try(t, v.Close())
		next := open(t, folder)
		if id == oldID || next.ID() != id || len(acks) != 3 || len(pulled(t, next, shop)) != 203 {
			t.Errorf("%s: opened vault %s while that in place is %s with %d changes, want 203", name, id, next.ID(), len(pulled(t, next, shop)))
		}
		try(t, next.Close())
		sound(t, folder)
	}
}

func TestRestore_only_one_at_a_time_also_over_a_vault_that_cannot_be_read(t *testing.T) {
	folder, file, shop := backedUp(t)
	try(t, os.WriteFile(filepath.Join(folder, "vault.bolt"), []byte("no vault at all"), 0o600))
	second := make(chan error, 1)
	pipe := slowly(t, file, func() {
		_, err := bolt.Restore(t.Context(), folder, file, false, now)
		second <- err
	})
	done, err := bolt.Restore(t.Context(), folder, pipe, false, now)
	try(t, err)
	if err := <-second; !errors.Is(err, bolt.ErrInUse) {
		t.Errorf("a second restore: got %v, want ErrInUse", err)
	}
	if !done.Unknown {
		t.Error("it is not said that the old vault could not be read")
	}
	sound(t, folder)
	if n := len(pulled(t, open(t, folder), shop)); n != 200 {
		t.Errorf("%d changes, want 200", n)
	}
}
