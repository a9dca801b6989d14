package simtest_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"torchside/storage"
	"torchside/storage/replicate/simtest"
	"torchside/storage/vault"
)

// trimMutants are faults in what drops old versions, and in what devices make of it.
var trimMutants = map[string]func() simtest.Hooks{
	"a trim drops a head":                             planFault(dropsAll),
	"a trim lets go of a photo still named":           planFault(freesAll),
	"a trim looks at no parents":                      planFault(dropsReplaced),
	"a trim takes no heed of the limit":               planFault(func(log []vault.Link, _ int) ([]int, []storage.Hash) { return vault.Plan(log, len(log)) }),
	"a place from before a trim stays good":           vaultFault(func(v vault.Vault) vault.Vault { return lenient{v} }),
	"a device keeps as newest what the vault dropped": storeFault(func(s storage.Replica, _ func()) storage.Replica { return stubborn{s} }),
	"a device never asks again for what was gone":     newDeaf,
	"a device asks for ever for what is gone":         storeFault(func(s storage.Replica, _ func()) storage.Replica { return asking{s} }),
}

func planFault(f func([]vault.Link, int) ([]int, []storage.Hash)) func() simtest.Hooks {
	return func() simtest.Hooks { return simtest.Hooks{Plan: f} }
}

func trimFails(s simtest.Schedule) bool { return simtest.Run(s, simtest.Hooks{}) != nil }

func TestRandomTrim_schedules_lose_nothing_that_is_kept(t *testing.T) {
	for seed := *first; seed < *first+*many; seed++ {
		s := simtest.RandomTrim(seed)
		err := simtest.Run(s, simtest.Hooks{})
		if err == nil {
			continue
		}
		short := simtest.Shrink(s, trimFails)
		file := filepath.Join("testdata", fmt.Sprintf("trim-seed-%d.txt", seed))
		if err := os.WriteFile(file, []byte(short.String()), 0o644); err != nil {
			t.Error(err)
		}
		t.Fatalf("seed %d: %v\nshorter, and kept as %s: %v\n%s", seed, err, file, simtest.Run(short, simtest.Hooks{}), short)
	}
}

func TestRandomTrim_schedules_find_every_fault(t *testing.T) {
	for name, hooks := range trimMutants {
		t.Run(name, func(t *testing.T) {
			for seed := range uint64(enough) {
				if err := simtest.Run(simtest.RandomTrim(seed), hooks()); err != nil {
					t.Logf("found by schedule %d: %v", seed+1, err)
					return
				}
			}
			t.Errorf("not found by %d schedules", enough)
		})
	}
}

// dropsAll drops whatever is old.
func dropsAll(log []vault.Link, most int) (drop []int, free []storage.Hash) {
	return dropWhere(log, most, func(vault.Link) bool { return true })
}

// dropsReplaced drops what is old and replaced, whatever its parents are.
func dropsReplaced(log []vault.Link, most int) (drop []int, free []storage.Hash) {
	named := make(map[storage.ID]bool)
	for _, l := range log {
		for _, p := range l.Parents {
			named[p] = true
		}
	}
	return dropWhere(log, most, func(l vault.Link) bool { return named[l.ID] })
}

// dropWhere drops what is old and may go, with the photos nothing else names.
func dropWhere(log []vault.Link, most int, may func(vault.Link) bool) (drop []int, free []storage.Hash) {
	kept := make(map[storage.Hash]bool)
	for i, l := range log {
		if i < most && !l.Dropped && may(l) {
			drop = append(drop, i)
			free = append(free, l.Blobs...)
			continue
		}
		for _, h := range l.Blobs {
			kept[h] = true
		}
	}
	return drop, slices.DeleteFunc(free, func(h storage.Hash) bool { return kept[h] })
}

// freesAll lets go of every photo that what it drops names.
func freesAll(log []vault.Link, most int) (drop []int, free []storage.Hash) {
	drop, _ = vault.Plan(log, most)
	for _, i := range drop {
		free = append(free, log[i].Blobs...)
	}
	return drop, free
}

// lenient takes a place from before a trim as one given out since.
type lenient struct{ vault.Vault }

func (v lenient) since(ctx context.Context, shop vault.ShopID, c vault.Checkpoint) vault.Checkpoint {
	var other *vault.MismatchError
	if err := v.Vault.Verify(ctx, shop, c); !errors.As(err, &other) || other.Why != vault.BeforeTrim {
		return c
	}
	stats, err := v.Stats(ctx)
	if err != nil {
		return c
	}
	chain, _ := vault.SplitTag(c.Chain)
	_, tag := vault.SplitTag(stats.Shops[0].Last.Chain)
	c.Chain = vault.Tagged(chain, tag)
	return c
}

func (v lenient) Verify(ctx context.Context, shop vault.ShopID, c vault.Checkpoint) error {
	return v.Vault.Verify(ctx, shop, v.since(ctx, shop, c))
}

func (v lenient) Pull(ctx context.Context, shop vault.ShopID, c vault.Checkpoint, limit vault.Limits) (vault.Page, error) {
	return v.Vault.Pull(ctx, shop, v.since(ctx, shop, c), limit)
}

// stubborn forgets nothing.
type stubborn struct{ storage.Replica }

func (stubborn) Forget(context.Context, ...storage.ID) error { return nil }

// asking takes no word for it that a photo is gone.
type asking struct{ storage.Replica }

func (asking) BlobsGone(context.Context, ...storage.Hash) error { return nil }

// deaf remembers what is gone whatever comes after.
type deaf struct {
	storage.Replica
	gone map[storage.Hash]bool
}

// newDeaf makes the hooks of one world.
func newDeaf() simtest.Hooks {
	return simtest.Hooks{Local: func(s storage.Replica, _ func()) storage.Replica { return deaf{s, make(map[storage.Hash]bool)} }}
}

func (s deaf) BlobsGone(_ context.Context, names ...storage.Hash) error {
	for _, h := range names {
		s.gone[h] = true
	}
	return nil
}

func (s deaf) WantedBlobs(ctx context.Context, after storage.Hash, limit int) ([]storage.Hash, error) {
	names, err := s.Replica.WantedBlobs(ctx, after, limit)
	return slices.DeleteFunc(names, func(h storage.Hash) bool { return s.gone[h] }), err
}
