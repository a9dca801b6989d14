//go:build !js

package bolt

import (
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"time"
	"unsafe"

	"torchside/storage"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// recorder stands between the library and its file and remembers each write. The
// library syncs the file before and after it writes a meta page, and nowhere
// else (tx.go: Commit, writeMeta), so meta pages mark what a power cut can take:
// only what was written behind the last sync.
type recorder struct {
	start  []byte // the file when recording began
	writes []written
	metas  int64 // bytes of the meta pages, at the beginning of the file
	size   func() int64
}

// written is one write, and how long the file was then.
type written struct {
	at   int64
	data []byte
	size int64
}

// record puts a recorder into an open vault.
func record(t *testing.T, v *Vault) *recorder {
	t.Helper()
	start, err := os.ReadFile(v.path)
	if err != nil {
		t.Fatal(err)
	}
	r := &recorder{start: start, metas: 2 * int64(v.db.Info().PageSize), size: func() int64 {
		n, err := fileSize(v.path)
		if err != nil {
			t.Error(err)
		}
		return n
	}}
	hookWrites(v, func(write writeFunc) writeFunc {
		return func(b []byte, at int64) (int, error) {
			r.writes = append(r.writes, written{at, append([]byte(nil), b...), r.size()})
			return write(b, at)
		}
	})
	return r
}

type writeFunc = func([]byte, int64) (int, error)

// hookWrites puts a function between the library and its file. The library
// keeps the place for its own tests, in a field that is not exported.
func hookWrites(v *Vault, around func(writeFunc) writeFunc) {
	field := reflect.ValueOf(v.db).Elem().FieldByName("ops").FieldByName("writeAt")
	hook := (*writeFunc)(unsafe.Pointer(field.UnsafeAddr()))
	*hook = around(*hook)
}

// durable is the number of the first write a cut before write n can take: those
// before it were followed by a sync.
func (r *recorder) durable(n int) int {
	for i := n - 1; i >= 0; i-- {
		if i < n-1 && r.writes[i].at < r.metas {
			return i + 1 // synced after it, before the next write
		}
		if r.writes[i].at < r.metas {
			return i // synced before it
		}
	}
	return 0
}

// sector is what a disk writes as a whole; smaller than any real one, so that
// meta pages are torn too.
const sector = 64

// image is what a power cut before write n leaves: of the sectors written since
// the last sync every second one, or on a disk that does not sync all but one in
// twenty of the last writes.
func (r *recorder) image(n int, sync bool, rnd *rand.Rand) []byte {
	size := int64(len(r.start))
	if n > 0 {
		size = max(size, r.writes[n-1].size)
	}
	file := make([]byte, size)
	copy(file, r.start)
	kept, there := r.durable(n), func() bool { return rnd.IntN(2) == 0 }
	if !sync {
		kept, there = max(0, n-6), func() bool { return rnd.IntN(20) > 0 }
	}
	for _, w := range r.writes[:kept] {
		copy(file[w.at:], w.data)
	}
	for _, w := range r.writes[kept:n] {
		for at := 0; at < len(w.data); at += sector {
			if there() {
				copy(file[w.at+int64(at):], w.data[at:min(at+sector, len(w.data))])
			}
		}
	}
	return file
}

// acked is how many ops of the shop were acknowledged when so many writes had
// been made.
type acked struct {
	writes int
	ops    uint64
}

// underLoad makes a vault, records what is written while ops are pushed, and
// returns what was acknowledged when.
func underLoad(t *testing.T) (*recorder, vault.ShopID, []acked) {
	t.Helper()
	ctx := context.Background()
	v, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	home, err := v.CreateShop(ctx, "Home", time.Unix(1e9, 0))
	if err != nil {
		t.Fatal(err)
	}
	r := record(t, v)
	all := []acked{{}}
	src := storagetest.NewSource(9)
	for range 60 {
		acks, err := v.Push(ctx, home.ID, storagetest.RandomOps(src.Uint64(), 1+int(src.Uint64()%30)))
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, acked{len(r.writes), acks[len(acks)-1].At.Seq})
	}
	if err := v.Close(); err != nil {
		t.Fatal(err)
	}
	return r, home.ID, all
}

// after opens what a cut left and reads everything.
func after(t *testing.T, image []byte, shop vault.ShopID) (folder string, n uint64, err error) {
	t.Helper()
	folder = t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, vaultFile), image, 0o600); err != nil {
		t.Fatal(err)
	}
	v, err := Open(folder)
	if err != nil {
		return folder, 0, err
	}
	defer v.Close()
	page, err := v.Pull(t.Context(), shop, vault.Checkpoint{}, vault.Limits{Ops: 1 << 30, Bytes: 1 << 40})
	return folder, page.Next.Seq, err
}

func TestPowerCut_at_any_write_leaves_a_sound_vault_with_all_that_was_acknowledged(t *testing.T) {
	r, shop, all := underLoad(t)
	rnd := rand.New(rand.NewPCG(1, 1))
	const cuts = 250
	for range cuts {
		n := rnd.IntN(len(r.writes) + 1)
		var want, last acked
		for _, a := range all {
			if a.writes <= r.durable(n) {
				want = a
			}
			if last = a; a.writes >= n {
				break // the one under way
			}
		}
		folder, got, err := after(t, r.image(n, true, rnd), shop)
		if err != nil {
			t.Fatalf("cut before write %d of %d: %v", n, len(r.writes), err)
		}
		if got != want.ops && got != last.ops {
			t.Fatalf("cut before write %d: %d changes are there, want %d, or %d with the batch under way", n, got, want.ops, last.ops)
		}
		report, err := Check(t.Context(), folder)
		if err != nil || len(report.Findings) > 0 {
			t.Fatalf("cut before write %d: %+v, %v", n, report.Findings, err)
		}
	}
	t.Logf("%d cuts over %d writes of %d batches, none lost or damaged anything", cuts, len(r.writes), len(all)-1)
}

// A disk that says it has synced and has not can damage any database. It must
// then be noticed, and nothing false may be given out.
func TestPowerCut_on_a_disk_that_does_not_sync_is_refused_or_gives_out_nothing_false(t *testing.T) {
	r, shop, all := underLoad(t)
	states := make(map[uint64]bool)
	for _, a := range all {
		states[a.ops] = true
	}
	rnd := rand.New(rand.NewPCG(2, 2))
	const cuts = 150
	refused := 0
	for range cuts {
		n := rnd.IntN(len(r.writes) + 1)
		folder, got, err := after(t, r.image(n, false, rnd), shop)
		report, checked := Check(t.Context(), folder)
		found := checked != nil || !report.Sound()
		switch {
		case err == nil && !states[got]:
			t.Fatalf("cut before write %d: half a batch is there, %d changes", n, got)
		case err != nil && !errors.Is(err, storage.ErrCorrupt) && !errors.Is(err, vault.ErrNoShop):
			t.Fatalf("cut before write %d: %v, want an error of damage", n, err)
		case errors.Is(err, storage.ErrCorrupt) && !found:
			t.Fatalf("cut before write %d: %v, and the check finds nothing", n, err)
		case err != nil:
			refused++
		}
	}
	if refused == 0 {
		t.Error("nothing was ever damaged: the recorder takes nothing away")
	}
	t.Logf("%d of %d cuts were refused, the others gave out whole batches", refused, cuts)
}

func TestOpen_leaves_the_library_syncing(t *testing.T) {
	v, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer v.Close()
	if v.db.NoSync || v.db.NoGrowSync || v.db.NoFreelistSync {
		t.Errorf("syncing is switched off: %+v", v.db)
	}
}

// Wherever the power fails during a trim, all of it counts or nothing.
func TestPowerCut_during_a_trim_leaves_all_of_it_or_nothing(t *testing.T) {
	ctx, day := context.Background(), time.Unix(1e9, 0)
	v, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	home, err := v.CreateShop(ctx, "Home", day)
	if err != nil {
		t.Fatal(err)
	}
	ops := make([]storage.Op, 60)
	for i := range ops {
		ops[i] = storagetest.RandomOps(uint64(100+i), 1)[0]
		ops[i].Rec, ops[i].Kind, ops[i].Parents = ops[i%4].Rec, "sheet", nil // four records
		if i >= 4 {
			ops[i].Parents = []storage.ID{ops[i-4].ID}
		}
	}
	_, err = v.Push(ctx, home.ID, ops)
	for i := range 3 {
		if i == 0 {
			err = errorsOf(err, v.SetKeep(ctx, home.ID, 1, day))
		}
		err = errorsOf(err, v.MarkDay(ctx, day.AddDate(0, 0, i+1)))
	}
	if err != nil {
		t.Fatal(err)
	}
	r := record(t, v)
	done, err := v.Trim(ctx, home.ID)
	if err == nil { // which makes what was written before durable
		_, err = v.Push(ctx, home.ID, storagetest.RandomOps(99, 1))
	}
	if err = errorsOf(err, v.Close()); err != nil || done.Ops != 56 {
		t.Fatalf("%+v, %v", done, err)
	}
	rnd, seen := rand.New(rand.NewPCG(3, 3)), make(map[int]int)
	for n := range len(r.writes) + 1 {
		for range 8 {
			folder, last, err := after(t, r.image(n, true, rnd), home.ID)
			if err != nil || last < 60 {
				t.Fatalf("cut before write %d: up to %d, %v", n, last, err)
			}
			report, err := Check(t.Context(), folder)
			if err != nil || len(report.Findings) > 0 {
				t.Fatalf("cut before write %d: %+v, %v", n, report.Findings, err)
			}
			seen[report.Stats.Shops[0].Dropped]++
		}
	}
	if len(seen) != 2 || seen[0] == 0 || seen[56] == 0 {
		t.Errorf("dropped after a cut, and how often: %v; want none or all, and both", seen)
	}
}
