package main

import (
	"crypto/rand"
	"errors"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"unsafe"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/remote"
	"torchside/storage/wire"
)

// Writing on beyond the limit of a file's size is then an error as on a full disk, not the end.
func init() { signal.Ignore(syscall.SIGXFSZ) }

// setRoom limits how long a file of a process may become, in bytes.
func setRoom(t *testing.T, pid int, bytes uint64) {
	t.Helper()
	var limit syscall.Rlimit
	call := func(set, get *syscall.Rlimit) {
		_, _, no := syscall.RawSyscall6(syscall.SYS_PRLIMIT64, uintptr(pid), syscall.RLIMIT_FSIZE,
			uintptr(unsafe.Pointer(set)), uintptr(unsafe.Pointer(get)), 0, 0)
		if no != 0 {
			t.Fatalf("the limit of process %d: %v", pid, no)
		}
	}
	call(nil, &limit)
	limit.Cur = min(bytes, limit.Max)
	call(&limit, nil)
}

// batch makes ops as a phone does.
func (l *load) batch(t testing.TB, n int) (ops []storage.Op) {
	for range n {
		l.n++
		ops = append(ops, storage.Op{
			ID: l.newID(t), Rec: l.newID(t), Kind: "sheet", Schema: 1, Dev: l.dev, N: l.n,
			HLC: storage.HLC{Milli: 1_770_000_000_000 + int64(l.n)}, At: "2026-03-01T08:00:00.000Z", Body: []byte(strings.Repeat("x", 1000) + rand.Text()),
		})
	}
	return ops
}

// A whole server whose disk becomes full says 503, keeps nothing of what it refused, goes on giving
// out what it has, and takes the same batch once there is room.
func TestServe_on_a_full_disk_answers_503_and_goes_on_when_there_is_room(t *testing.T) {
	folder := t.TempDir()
	s := startChild(t, folder)
	defer s.kill()
	out, _ := ownerLine(t, folder, "pair")
	joined, err := remote.Pair(t.Context(), s.url, shownCode(t, out), "Phone")
	if err != nil {
		t.Fatal(err)
	}
	c, l := remote.New(s.url, joined.Token), &load{token: joined.Token}
	l.dev = l.newID(t)
	setRoom(t, s.cmd.Process.Pid, 600<<10)
	full, acked, refused := &wire.Error{Code: wire.CodeFull}, 0, []storage.Op(nil)
	for i := 0; refused == nil; i++ {
		ops := l.batch(t, 40)
		switch _, err := c.Sync(t.Context(), wire.SyncRequest{Dev: l.dev, Ops: ops}); {
		case err == nil && i < 100:
			acked += len(ops)
		case errors.Is(err, full):
			refused = ops
		default:
			t.Fatalf("batch %d: %v, want that the disk is full some day", i, err)
		}
	}
	for range 2 {
		if _, err := c.Sync(t.Context(), wire.SyncRequest{Dev: l.dev, Ops: refused}); !errors.Is(err, full) {
			t.Errorf("once more: %v, want 503 full", err)
		}
	}
	seen := map[storage.ID]bool{}
	survey(t, s.url, storage.Checkpoint{}, seen, []*load{l})
	if len(seen) != acked || seen[refused[0].ID] {
		t.Errorf("%d changes are given out on a full disk, %d were acknowledged", len(seen), acked)
	}
	if resp, body := fetch(t, http.DefaultClient, s.url+"/healthz", ""); resp.StatusCode != http.StatusOK {
		t.Errorf("healthz: %d %s", resp.StatusCode, body)
	}
	setRoom(t, s.cmd.Process.Pid, 1<<40)
	reply, err := c.Sync(t.Context(), wire.SyncRequest{Dev: l.dev, Ops: refused})
	if err != nil || reply.Acks[0].Status != wire.Stored {
		t.Fatalf("with room again: %+v, %v", reply.Acks, err)
	}
	s.kill()
	report, err := bolt.Check(t.Context(), folder)
	if err != nil || !report.Sound() || report.Stats.Shops[0].Last.Seq != uint64(acked+len(refused)) {
		t.Errorf("check: %+v, %v, want %d changes", report, err, acked+len(refused))
	}
	if info, err := os.Stat(filepath.Join(folder, vaultFile)); err != nil || info.Size() < 600<<10 {
		t.Errorf("the vault did not grow: the disk was never full: %v, %v", info, err)
	}
}
