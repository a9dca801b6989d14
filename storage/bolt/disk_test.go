//go:build unix

package bolt_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// room is how large files may become in the process that fills its disk.
const room = 400 << 10

// setRoom limits the size of files of this process: writing on then fails as on
// a file system that has no room for more.
func setRoom(bytes uint64) error {
	var l syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &l); err != nil {
		return err
	}
	l.Cur = min(bytes, l.Max)
	return syscall.Setrlimit(syscall.RLIMIT_FSIZE, &l)
}

// fill writes until there is no room, twice, and goes on when there is again.
func fill(folder string) error {
	signal.Ignore(syscall.SIGXFSZ)
	ctx := context.Background()
	v, err := bolt.Open(folder)
	if err != nil {
		return err
	}
	shops, err := v.Shops(ctx)
	if err != nil {
		return err
	}
	shop := shops[0].ID
	if err := setRoom(room); err != nil {
		return err
	}
	seed, err := fillOps(ctx, v, shop)
	if err != nil {
		return err
	}
	if err := setRoom(1 << 40); err != nil {
		return err
	}
	photo := make([]byte, 2*room)
	op := storagetest.RandomOps(seed+1, 1)[0]
	op.Blobs = []storage.Hash{storage.HashOf(photo)}
	if _, err := v.Push(ctx, shop, []storage.Op{op}); err != nil {
		return fmt.Errorf("with room again: %w", err)
	}
	fmt.Println("op", op.ID)
	if err := fillBlob(ctx, v, shop, photo); err != nil {
		return err
	}
	return v.Close()
}

// fillOps pushes until the disk is full, and once more.
func fillOps(ctx context.Context, v *bolt.Vault, shop vault.ShopID) (seed uint64, err error) {
	refused := 0
	for seed = 1; refused < 2; seed++ {
		ops := storagetest.RandomOps(seed, 60)
		_, err := v.Push(ctx, shop, ops)
		switch {
		case errors.Is(err, storage.ErrFull):
			refused++
		case err != nil:
			return seed, fmt.Errorf("on a full disk: %w", err)
		}
		for _, op := range ops {
			if err == nil {
				fmt.Println("op", op.ID)
			}
		}
	}
	return seed, nil
}

// fillBlob sends an attachment that there is room for only after a while.
func fillBlob(ctx context.Context, v *bolt.Vault, shop vault.ShopID, photo []byte) error {
	h := storage.HashOf(photo)
	if err := setRoom(room); err != nil {
		return err
	}
	half := room - 1000
	if err := v.WriteBlob(ctx, shop, h, 0, photo[:half], false); err != nil {
		return err
	}
	if err := v.WriteBlob(ctx, shop, h, int64(half), photo[half:], true); !errors.Is(err, storage.ErrFull) {
		return fmt.Errorf("a piece on a full disk: %v", err)
	}
	if have, complete, err := v.BlobOffset(ctx, shop, h); err != nil || complete || have != int64(half) {
		return fmt.Errorf("half a piece was left: %d, %v, %v", have, complete, err)
	}
	if err := setRoom(1 << 40); err != nil {
		return err
	}
	if err := v.WriteBlob(ctx, shop, h, int64(half), photo[half:], true); err != nil {
		return fmt.Errorf("with room again: %w", err)
	}
	fmt.Println("blob", h)
	return nil
}

func TestFullDisk_is_told_leaves_nothing_half_written_and_is_got_over(t *testing.T) {
	folder, shop := fresh(t)
	cmd, out := startChild(t, "fill", folder, 0)
	acked := make(map[string]bool)
	for {
		line, err := out.ReadString('\n')
		if err != nil {
			break
		}
		acked[strings.TrimSpace(line)] = true
	}
	if err := cmd.Wait(); err != nil {
		t.Fatalf("the process that fills its disk: %v", err)
	}
	if len(acked) < 100 {
		t.Errorf("only %d changes went in before the disk was full", len(acked))
	}
	allThere(t, folder, shop, acked)
	v := open(t, folder)
	held := 0
	for what := range acked {
		if strings.HasPrefix(what, "op ") {
			held++
		}
	}
	if n := len(pulled(t, v, shop)); n != held {
		t.Errorf("%d changes are there, %d were acknowledged", n, held)
	}
	try(t, v.Close())
	sound(t, folder)
}

// Each acknowledged batch must have been synced: once for its pages, once for
// the page that makes them count. That is seen from outside where strace is
// installed; TestOpen_leaves_the_library_syncing looks from inside.
func TestPush_syncs_before_it_answers(t *testing.T) {
	tool, err := exec.LookPath("strace")
	if err == nil {
		err = exec.Command(tool, "-o", filepath.Join(t.TempDir(), "probe"), os.Args[0], "-test.run", "^$").Run() // containers may forbid it
	}
	if err != nil {
		t.Logf("strace cannot be used here, so the calls are not counted: %v", err)
		return
	}
	const batches = 20
	count := func(pushes int) int {
		folder, _ := fresh(t)
		trace := filepath.Join(t.TempDir(), "trace")
		cmd := exec.Command(tool, "-f", "-e", "trace=fsync,fdatasync", "-o", trace, os.Args[0])
		cmd.Env = append(os.Environ(), childRole+"=push", childFolder+"="+folder, fmt.Sprintf("%s=%d", childSeed, pushes))
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		text, err := os.ReadFile(trace)
		try(t, err)
		return strings.Count(string(text), "sync(")
	}
	idle, busy := count(0), count(batches)
	if busy-idle < 2*batches {
		t.Errorf("%d batches were synced %d times, want at least twice each", batches, busy-idle)
	}
	t.Logf("%d batches: %d calls of fsync and fdatasync, and %d to open and close", batches, busy-idle, idle)
}

// pushSome pushes so many batches.
func pushSome(folder, batches string) error {
	ctx := context.Background()
	v, err := bolt.Open(folder)
	if err != nil {
		return err
	}
	shops, err := v.Shops(ctx)
	if err != nil {
		return err
	}
	var n uint64
	if _, err := fmt.Sscan(batches, &n); err != nil {
		return err
	}
	for i := range n {
		if _, err := v.Push(ctx, shops[0].ID, storagetest.RandomOps(i, 5)); err != nil {
			return err
		}
	}
	return v.Close()
}
