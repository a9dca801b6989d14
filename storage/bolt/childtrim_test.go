//go:build unix

package bolt_test

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"torchside/storage"
	"torchside/storage/bolt"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// versioned is how many records the writer that trims keeps replacing.
const versioned = 8

// newest gives the newest version of each record, and how many versions there are in all. A version is its counter.
func newest(ctx context.Context, v *bolt.Vault, shop vault.ShopID) (heads map[storage.ID]storage.Op, all int, err error) {
	page, err := v.Pull(ctx, shop, vault.Checkpoint{}, everything)
	if err != nil {
		return nil, 0, err
	}
	ops, err := page.Decode()
	heads = map[storage.ID]storage.Op{}
	for _, op := range ops {
		if op.N > heads[op.Rec].N {
			heads[op.Rec] = op
		}
	}
	return heads, len(ops), err
}

// replace puts new versions in place of old ones, each with a photo of its own, lets the days go by, and trims, until it is killed. It
// reports each version acknowledged.
func replace(folder, seed string) error {
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
	heads, _, err := newest(ctx, v, shop)
	if err != nil {
		return err
	}
	var n uint64
	if _, err := fmt.Sscan(seed, &n); err != nil {
		return err
	}
	src := storagetest.NewSource(n)
	list := make([]storage.Op, 0, versioned)
	for _, op := range heads {
		list = append(list, op)
	}
	for len(list) < versioned {
		list = append(list, storage.Op{Rec: src.ID(0)})
	}
	for day := 1 + int(n)*100; ; day++ {
		next := sheets(src, 0, versioned)
		for i := range next {
			next[i].Rec, next[i].N = list[i].Rec, list[i].N+1
			if list[i].ID != "" {
				next[i].Parents = []storage.ID{list[i].ID}
			}
		}
		photo := fmt.Appendf(nil, "photo %d of %d", day, n)
		next[0].Blobs = []storage.Hash{storage.HashOf(photo)}
		if _, err := v.Push(ctx, shop, next); err != nil {
			return err
		}
		list = next
		for _, op := range list {
			fmt.Println("version", op.Rec, op.N)
		}
		err := errors.Join(
			v.WriteBlob(ctx, shop, storage.HashOf(photo), 0, photo, true),
			v.MarkDay(ctx, now.AddDate(0, 0, day)))
		if err != nil {
			return err
		}
		done, err := v.Trim(ctx, shop)
		if err != nil {
			return err
		}
		if done.Ops > 0 {
			fmt.Println("trimmed", day)
		}
	}
}

// A process killed while it drops old versions loses no newest one, and leaves a vault that is sound.
func TestKill_of_a_trimming_process_loses_no_newest_version(t *testing.T) {
	const perVault = 50
	r := rand.New(rand.NewPCG(3, 4))
	var folder string
	var shop vault.ShopID
	acked := map[string]uint64{}
	versions, trims, files := 0, 0, 0
	for kill := range *kills {
		if kill%perVault == 0 {
			folder, shop = fresh(t)
			v := open(t, folder)
			try(t, v.SetKeep(t.Context(), shop, 1, now))
			try(t, v.Close())
			clear(acked)
		}
		said := map[string]bool{}
		killOnce(t, "replace", folder, kill, time.Duration(r.IntN(100_000))*time.Microsecond, said)
		v, n := acknowledged(t, said, acked)
		versions, trims = versions+v, trims+n
		files = max(files, newestThere(t, folder, shop, kill, acked))
		if t.Failed() {
			t.Fatalf("after kill %d", kill+1)
		}
	}
	t.Logf("%d kills, %d versions acknowledged, %d trims, no newest one lost; at most %d files left over", *kills, versions, trims, files)
}

// acknowledged reads what the writer reported into the newest version of each record, and counts.
func acknowledged(t *testing.T, said map[string]bool, acked map[string]uint64) (versions, trims int) {
	t.Helper()
	for line := range said {
		f := strings.Fields(line)
		if f[0] == "trimmed" {
			trims++
			continue
		}
		var n uint64
		if _, err := fmt.Sscan(f[2], &n); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		acked[f[1]] = max(acked[f[1]], n)
		versions++
	}
	return versions, trims
}

// newestThere checks that the newest versions acknowledged are in the vault, that the next trim drops the others, and that the vault
// is sound. It counts the files that a kill has left.
func newestThere(t *testing.T, folder string, shop vault.ShopID, kill int, acked map[string]uint64) (files int) {
	t.Helper()
	v := open(t, folder)
	heads, there, err := newest(t.Context(), v, shop)
	try(t, err)
	for rec, n := range acked {
		if got := heads[storage.ID(rec)].N; got < n {
			t.Errorf("version %d of %s was acknowledged, the newest there is %d", n, rec, got)
		}
	}
	// What the kill kept from being dropped goes with the next days.
	for _, day := range []int{97, 99} {
		try(t, v.MarkDay(t.Context(), now.AddDate(0, 0, kill*100+day)))
	}
	_, err = v.Trim(t.Context(), shop)
	try(t, err)
	_, left, err := newest(t.Context(), v, shop)
	try(t, err)
	if left > there || left > versioned {
		t.Errorf("%d versions are left of %d: nothing is dropped", left, there)
	}
	try(t, v.Close())
	report, err := bolt.Check(t.Context(), folder)
	try(t, err)
	for _, f := range report.Findings {
		// Files are deleted after the commit that lets go of them: a kill between leaves one, which does no harm.
		if f.Damage || !strings.HasPrefix(f.What, "no change names the file ") {
			t.Errorf("check: %+v", f)
		}
	}
	return len(report.Findings)
}
