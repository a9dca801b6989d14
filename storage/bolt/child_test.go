//go:build unix

package bolt_test

import (
	"bufio"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// Environment of the test binary when it runs as another process.
const (
	childRole   = "TORCHSIDE_TEST_ROLE"
	childFolder = "TORCHSIDE_TEST_FOLDER"
	childSeed   = "TORCHSIDE_TEST_SEED"
)

// kills is how often the process is killed; .ci/vaultkill.sh asks for more.
var kills = flag.Int("kills", 50, "how often a writing process is killed")

// child is the other process.
func child(role string) int {
	var err error
	switch role {
	case "write":
		err = write(os.Getenv(childFolder), os.Getenv(childSeed))
	case "replace":
		err = replace(os.Getenv(childFolder), os.Getenv(childSeed))
	case "fill":
		err = fill(os.Getenv(childFolder))
	case "push":
		err = pushSome(os.Getenv(childFolder), os.Getenv(childSeed))
	case "compact":
		err = compactOften(os.Getenv(childFolder))
	case "compactfull":
		err = compactFull(os.Getenv(childFolder))
	case "hold":
		err = hold(os.Getenv(childFolder))
	default:
		err = fmt.Errorf("no role %q", role)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

// startChild runs it, with its standard output to read.
func startChild(t testing.TB, role, folder string, seed int) (*exec.Cmd, *bufio.Reader) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childRole+"="+role, childFolder+"="+folder, fmt.Sprintf("%s=%d", childSeed, seed))
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	try(t, err)
	try(t, cmd.Start())
	return cmd, bufio.NewReader(out)
}

// write pushes and reports each thing acknowledged, until it is killed.
func write(folder, seed string) error {
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
	if _, err := fmt.Sscan(seed, &n); err != nil {
		return err
	}
	r := rand.New(rand.NewPCG(n, n))
	for {
		ops := storagetest.RandomOps(r.Uint64(), 1+r.IntN(12))
		photo := fmt.Appendf(nil, "photo %d", r.Uint64())
		h := storage.HashOf(photo)
		ops[0].Blobs = []storage.Hash{h}
		if _, err := v.Push(ctx, shops[0].ID, ops); err != nil {
			return err
		}
		for _, op := range ops {
			fmt.Println("op", op.ID)
		}
		if err := v.WriteBlob(ctx, shops[0].ID, h, 0, photo[:5], false); err != nil {
			return err
		}
		if err := v.WriteBlob(ctx, shops[0].ID, h, 5, photo[5:], true); err != nil {
			return err
		}
		fmt.Println("blob", h)
	}
}

// hold opens a vault, says so, and waits until its input ends.
func hold(folder string) error {
	v, err := bolt.Open(folder)
	if err != nil {
		return err
	}
	fmt.Println("open")
	_, err = io.Copy(io.Discard, os.Stdin)
	return errors.Join(err, v.Close())
}

// fresh makes a vault with one shop.
func fresh(t testing.TB) (folder string, shop vault.ShopID) {
	t.Helper()
	folder = t.TempDir()
	v := open(t, folder)
	s, err := v.CreateShop(context.Background(), "Home", now)
	try(t, err)
	try(t, v.Close())
	return folder, s.ID
}

func TestKill_of_a_writing_process_loses_nothing_acknowledged(t *testing.T) {
	const perVault = 50 // a check reads everything, so vaults are kept small
	r := rand.New(rand.NewPCG(1, 2))
	var folder string
	var shop vault.ShopID
	acked := make(map[string]bool)
	total := 0
	for kill := range *kills {
		if kill%perVault == 0 {
			folder, shop = fresh(t)
			clear(acked)
		}
		total += killOnce(t, "write", folder, kill, time.Duration(r.IntN(100_000))*time.Microsecond, acked)
		allThere(t, folder, shop, acked)
		sound(t, folder)
		if t.Failed() {
			t.Fatalf("after kill %d", kill+1)
		}
	}
	t.Logf("%d kills, %d things acknowledged, none lost", *kills, total)
}

// killOnce runs a writer until some time after its first answer, and adds
// what it reported.
func killOnce(t *testing.T, role, folder string, seed int, after time.Duration, acked map[string]bool) int {
	t.Helper()
	cmd, out := startChild(t, role, folder, seed)
	n := 0
	for {
		line, err := out.ReadString('\n')
		if err != nil {
			break // a line cut short was not reported
		}
		acked[strings.TrimSpace(line)] = true
		if n++; n == 1 {
			time.AfterFunc(after, func() { _ = cmd.Process.Kill() }) // it may have ended by itself: seen below
		}
	}
	var exit *exec.ExitError
	if err := cmd.Wait(); !errors.As(err, &exit) || exit.Exited() {
		t.Fatalf("the writer ended by itself: %v", err)
	}
	return n
}

// allThere checks that what was reported is in the vault.
func allThere(t *testing.T, folder string, shop vault.ShopID, acked map[string]bool) {
	t.Helper()
	v := open(t, folder)
	page, err := v.Pull(t.Context(), shop, vault.Checkpoint{}, everything)
	try(t, err)
	ops, err := page.Decode()
	try(t, err)
	there := make(map[string]bool)
	for _, op := range ops {
		there["op "+string(op.ID)] = true
		for _, h := range op.Blobs {
			if _, complete, err := v.BlobOffset(t.Context(), shop, h); err == nil && complete {
				there["blob "+h] = true
			}
		}
	}
	for what := range acked {
		if !there[what] {
			t.Errorf("%s was acknowledged and is gone", what)
		}
	}
	try(t, v.Close())
}

func TestOpen_refuses_a_vault_that_another_process_holds(t *testing.T) {
	folder, _ := fresh(t)
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), childRole+"=hold", childFolder+"="+folder)
	in, err := cmd.StdinPipe()
	try(t, err)
	out, err := cmd.StdoutPipe()
	try(t, err)
	try(t, cmd.Start())
	if line, err := bufio.NewReader(out).ReadString('\n'); line != "open\n" {
		t.Fatalf("the other process says %q, %v", line, err)
	}
	_, opened := bolt.Open(folder)
	_, checked := bolt.Check(t.Context(), folder)
	_, restored := bolt.Restore(t.Context(), folder, "none", true, now)
	for what, err := range map[string]error{"Open": opened, "Check": checked, "Restore": restored} {
		if !errors.Is(err, bolt.ErrInUse) || !strings.Contains(err.Error(), folder) {
			t.Errorf("%s: got %v, want ErrInUse and the path", what, err)
		}
	}
	try(t, in.Close())
	try(t, cmd.Wait())
	sound(t, folder)
}
