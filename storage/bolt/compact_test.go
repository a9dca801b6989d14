//go:build unix

package bolt_test

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// roomy is a filled vault that trims and many small pushes left much unused room in.
func roomy(t *testing.T) (folder string, shop vault.ShopID, last vault.Checkpoint) {
	t.Helper()
	folder = t.TempDir()
	v, shop := filled(t, folder)
	src := storagetest.NewSource(5)
	first := sheets(src, 0, 400)
	for i := 0; i < len(first); i += 10 {
		push(t, v, shop, first[i:i+10]...)
	}
	try(t, v.SetKeep(t.Context(), shop, 1, now))
	second := sheets(src, 400, 400)
	for i := range second {
		second[i].Rec, second[i].Parents = first[i].Rec, []storage.ID{first[i].ID}
	}
	push(t, v, shop, second...)
	for day := range 3 {
		try(t, v.MarkDay(t.Context(), now.AddDate(0, 0, day+1)))
	}
	if done, err := v.Trim(t.Context(), shop); err != nil || done.Ops < 400 {
		t.Fatalf("trimmed %+v, %v", done, err)
	}
	acks := push(t, v, shop, sheets(src, 900, 1)...)
	try(t, v.Close())
	return folder, shop, acks[0].At
}

// dump is everything in a database: each value, and the sequence of each bucket.
func dump(t *testing.T, folder string) map[string]string {
	t.Helper()
	db, err := bbolt.Open(filepath.Join(folder, "vault.bolt"), 0o600, &bbolt.Options{ReadOnly: true})
	try(t, err)
	all := make(map[string]string)
	var add func(at string, b *bbolt.Bucket) error
	add = func(at string, b *bbolt.Bucket) error {
		all[at] = fmt.Sprint("sequence ", b.Sequence())
		return b.ForEach(func(k, v []byte) error {
			name := fmt.Sprintf("%s/%x", at, k)
			if v == nil {
				return add(name, b.Bucket(k))
			}
			all[name] = string(v)
			return nil
		})
	}
	try(t, db.View(func(tx *bbolt.Tx) error { return add("", tx.Cursor().Bucket()) }))
	try(t, db.Close())
	return all
}

// alone tells whether nothing but the vault, its lock and its attachments is in the folder.
func alone(t *testing.T, folder string) {
	t.Helper()
	if left, err := filepath.Glob(filepath.Join(folder, "*.part")); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

func TestCompact_frees_the_unused_room_and_changes_nothing_a_device_could_notice(t *testing.T) {
	folder, shop, last := roomy(t)
	was, before := dump(t, folder), sound(t, folder)
	done, err := bolt.Compact(t.Context(), folder)
	try(t, err)
	info, err := os.Stat(filepath.Join(folder, "vault.bolt"))
	try(t, err)
	if done.After != info.Size() || done.After > done.Before*2/3 {
		t.Errorf("%+v, and the file has %d bytes; want a third less at least", done, info.Size())
	}
	if !maps.Equal(dump(t, folder), was) {
		t.Error("something else is in the new file")
	}
	after := sound(t, folder)
	if after.Store != before.Store || after.Stats.Shops[0] != before.Stats.Shops[0] {
		t.Errorf("after: %+v, before: %+v", after, before)
	}
	alone(t, folder)
	v := open(t, folder)
	try(t, v.Verify(t.Context(), shop, last))
	push(t, v, shop, storagetest.RandomOps(70, 30)...)
	page, err := v.Pull(t.Context(), shop, last, everything)
	if err != nil || len(page.Ops) != 30 {
		t.Errorf("behind the checkpoint are %d changes, want 30, %v", len(page.Ops), err)
	}
	try(t, v.Close())
	sound(t, folder)
}

func TestCompact_leaves_what_it_cannot_write_anew_as_it_is(t *testing.T) {
	meta := func(key, value string) func(*testing.T, string) {
		return func(t *testing.T, path string) {
			bolt.Sabotage(t, path, func(tx *bbolt.Tx) error { return tx.Bucket([]byte("meta")).Put([]byte(key), []byte(value)) })
		}
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	for name, c := range map[string]struct {
		ctx   context.Context
		spoil func(t *testing.T, path string)
		want  error
	}{
		"newer":   {t.Context(), meta("schema", "99"), storage.ErrNewer},
		"another": {t.Context(), meta("store", "short"), storage.ErrCorrupt},
		"cut":     {t.Context(), func(t *testing.T, path string) { try(t, os.Truncate(path, 40_000)) }, storage.ErrCorrupt},
		"stopped": {stopped, func(*testing.T, string) {}, context.Canceled},
		"in use": {t.Context(), func(t *testing.T, path string) {
			v := open(t, filepath.Dir(path))
			t.Cleanup(func() { try(t, v.Close()) })
		}, bolt.ErrInUse},
	} {
		t.Run(name, func(t *testing.T) {
			folder, _, _ := roomy(t)
			path := filepath.Join(folder, "vault.bolt")
			c.spoil(t, path)
			was, err := os.ReadFile(path)
			try(t, err)
			if _, err := bolt.Compact(c.ctx, folder); !errors.Is(err, c.want) {
				t.Errorf("got %v, want %v", err, c.want)
			}
			if is, err := os.ReadFile(path); err != nil || string(is) != string(was) {
				t.Errorf("the vault was changed, %v", err)
			}
			alone(t, folder)
		})
	}
	if _, err := bolt.Compact(t.Context(), t.TempDir()); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("without a vault: %v", err)
	}
}

// compactFull compacts on a disk that has room for ever more, until there is enough.
func compactFull(folder string) error {
	signal.Ignore(syscall.SIGXFSZ)
	path := filepath.Join(folder, "vault.bolt")
	was, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	for refused := uint64(0); ; refused++ {
		if err := setRoom(refused * 16 << 10); err != nil {
			return err
		}
		_, err := bolt.Compact(context.Background(), folder)
		if err == nil {
			fmt.Println(refused)
			return nil
		}
		if !errors.Is(err, storage.ErrFull) {
			return fmt.Errorf("with room for %d bytes: %w", refused*16<<10, err)
		}
		if is, err := os.ReadFile(path); err != nil || string(is) != string(was) {
			return fmt.Errorf("with room for %d bytes the vault was changed, %w", refused*16<<10, err)
		}
		if left, err := filepath.Glob(filepath.Join(folder, "*.part")); err != nil || len(left) > 0 {
			return fmt.Errorf("with room for %d bytes this is left: %v, %w", refused*16<<10, left, err)
		}
	}
}

func TestFullDisk_during_a_compaction_leaves_the_vault_as_it_is(t *testing.T) {
	folder, _, _ := roomy(t)
	was := dump(t, folder)
	cmd, out := startChild(t, "compactfull", folder, 0)
	var refused int
	_, err := fmt.Fscan(out, &refused)
	if err := errors.Join(err, cmd.Wait()); err != nil || refused < 10 {
		t.Fatalf("refused %d times, %v", refused, err)
	}
	if !maps.Equal(dump(t, folder), was) {
		t.Error("something else is in the new file")
	}
	sound(t, folder)
}

// compactOften compacts until it is killed.
func compactOften(folder string) error {
	for {
		if _, err := bolt.Compact(context.Background(), folder); err != nil {
			return err
		}
		fmt.Println("compacted")
	}
}

func TestKill_during_a_compaction_loses_nothing_and_the_next_start_clears_up(t *testing.T) {
	folder, _, _ := roomy(t)
	was, r, left := dump(t, folder), rand.New(rand.NewPCG(4, 4)), 0
	part := filepath.Join(folder, "vault.bolt.compact.part")
	for range 30 {
		cmd, out := startChild(t, "compact", folder, 0)
		if line, err := out.ReadString('\n'); err != nil {
			t.Fatalf("%q, %v", line, err)
		}
		time.Sleep(time.Duration(r.IntN(30_000)) * time.Microsecond)
		try(t, cmd.Process.Kill())
		var exit *exec.ExitError
		if err := cmd.Wait(); !errors.As(err, &exit) || exit.Exited() {
			t.Fatalf("it ended by itself: %v", err)
		}
		if _, err := os.Stat(part); err == nil {
			left++
		}
		if !maps.Equal(dump(t, folder), was) {
			t.Fatal("something else is in the vault")
		}
		try(t, open(t, folder).Close())
		alone(t, folder)
	}
	if left == 0 {
		t.Error("no kill met a compaction half way")
	}
	sound(t, folder)
	t.Logf("30 kills, %d left half a file", left)
}
