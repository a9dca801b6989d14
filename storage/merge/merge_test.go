package merge_test

import (
	"fmt"
	"slices"
	"testing"

	"torchside/storage"
	"torchside/storage/merge"
	"torchside/storage/storagetest"
)

// seeds is how many random worlds each law is tried on.
const seeds = 300

// worlds calls test with three overlapping sets of ops of one world.
func worlds(t *testing.T, test func(t *testing.T, a, b, c []storage.Op)) {
	for seed := range uint64(seeds) {
		mixed := storagetest.Shuffled(seed, storagetest.RandomOps(seed, 5+int(seed%40)))
		n := len(mixed)
		t.Run(fmt.Sprint("seed ", seed), func(t *testing.T) { test(t, mixed[:n/2], mixed[n/3:4*n/5], mixed[3*n/5:]) })
	}
}

func union(t *testing.T, a, b []storage.Op) []storage.Op {
	t.Helper()
	all, mismatched := merge.Union(a, b)
	if len(mismatched) != 0 {
		t.Fatalf("ops of one world mismatch: %v", mismatched)
	}
	return all
}

func TestUnion_is_commutative(t *testing.T) {
	worlds(t, func(t *testing.T, a, b, _ []storage.Op) {
		if !storagetest.SameOps(union(t, a, b), union(t, b, a)) {
			t.Error("a+b differs from b+a")
		}
	})
}

func TestUnion_is_associative(t *testing.T) {
	worlds(t, func(t *testing.T, a, b, c []storage.Op) {
		if !storagetest.SameOps(union(t, union(t, a, b), c), union(t, a, union(t, b, c))) {
			t.Error("(a+b)+c differs from a+(b+c)")
		}
	})
}

func TestUnion_is_idempotent(t *testing.T) {
	worlds(t, func(t *testing.T, a, _, _ []storage.Op) {
		once := union(t, a, nil)
		if !storagetest.SameOps(union(t, once, a), once) || !slices.IsSortedFunc(once, func(x, y storage.Op) int {
			if x.ID < y.ID {
				return -1
			}
			return 1
		}) {
			t.Error("a+a differs from a, or is not in order")
		}
	})
}

func TestUnion_reports_an_id_with_two_contents(t *testing.T) {
	ops := storagetest.RandomOps(1, 4)
	forged := ops[2].Clone()
	forged.Schema += 10
	all, mismatched := merge.Union(ops, []storage.Op{forged, forged})
	if !slices.Equal(mismatched, []storage.ID{forged.ID}) || len(all) != len(ops) {
		t.Fatalf("%d ops, mismatched %v", len(all), mismatched)
	}
	if i := slices.IndexFunc(all, func(o storage.Op) bool { return o.ID == forged.ID }); !all[i].Equal(ops[2]) {
		t.Error("the op of the first set was not kept")
	}
}

func TestRecords_depend_neither_on_order_nor_on_repetition(t *testing.T) {
	for seed := range uint64(seeds) {
		ops := storagetest.RandomOps(seed, 40)
		if !storagetest.SameRecords(merge.Records(ops), merge.Records(storagetest.Shuffled(seed, ops))) {
			t.Errorf("seed %d: another order gives other records", seed)
		}
	}
}

// One op at a time, in any order, as a store does it, must give the same as
// looking at the whole set.
func TestNextHeads_agree_with_the_definition(t *testing.T) {
	for seed := range uint64(seeds) {
		ops := union(t, storagetest.RandomOps(seed, 40), nil)
		heads := make(map[storage.ID][]storage.Op)
		named := make(map[storage.ID]bool)
		for _, op := range storagetest.Shuffled(seed, ops) {
			heads[op.Rec] = storage.NextHeads(heads[op.Rec], op, named[op.ID])
			for _, p := range op.Parents {
				named[p] = true
			}
		}
		for rec, got := range heads {
			want := storage.NewRecord(merge.Heads(rec, ops))
			if !storagetest.SameRecords([]storage.Record{storage.NewRecord(got)}, []storage.Record{want}) {
				t.Errorf("seed %d: record %s differs", seed, rec)
			}
		}
	}
}

// No edit is lost: an op that is not a head is named by another op, and an op
// that is a head is named by none.
func TestHeads_are_exactly_the_ops_nobody_names(t *testing.T) {
	for seed := range uint64(seeds) {
		ops := storagetest.RandomOps(seed, 40)
		for _, op := range ops {
			isNamed := slices.ContainsFunc(ops, func(o storage.Op) bool { return slices.Contains(o.Parents, op.ID) })
			isHead := slices.ContainsFunc(merge.Heads(op.Rec, ops), op.Equal)
			if isNamed == isHead {
				t.Errorf("seed %d: op %s is named %v and head %v", seed, op.ID, isNamed, isHead)
			}
		}
	}
}

func TestRecords_show_an_edit_before_any_deletion(t *testing.T) {
	for seed := range uint64(seeds) {
		for _, r := range merge.Records(storagetest.RandomOps(seed, 40)) {
			edited := slices.ContainsFunc(r.Heads, func(o storage.Op) bool { return !o.Del })
			deleted := slices.ContainsFunc(r.Heads, func(o storage.Op) bool { return o.Del })
			if r.Deleted == edited || edited && deleted && r.Conflict == storage.ConflictNone {
				t.Errorf("seed %d: %+v", seed, r)
			}
		}
	}
}
