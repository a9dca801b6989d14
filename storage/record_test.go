package storage_test

import (
	"testing"

	"torchside/storage"
	"torchside/storage/storagetest"
)

// heads returns n ops of one record with bodies a, b, c…
func heads(n int) []storage.Op {
	ops := storagetest.RandomOps(7, n)
	for i := range ops {
		ops[i].Rec, ops[i].Kind, ops[i].Schema, ops[i].Del = ops[0].Rec, "torch", 1, false
		ops[i].Body = []byte{byte('a' + i)}
	}
	return ops
}

func TestNewRecord_says_what_the_owner_must_choose(t *testing.T) {
	for _, c := range []struct {
		name    string
		change  func([]storage.Op)
		want    storage.Conflict
		deleted bool
	}{
		{"several values", func([]storage.Op) {}, storage.ConflictEdits, false},
		{"the same value", func(o []storage.Op) { o[1].Body, o[2].Body = o[0].Body, o[0].Body }, storage.ConflictNone, false},
		{"the same bytes of another schema", func(o []storage.Op) { o[1].Body, o[2].Body, o[2].Schema = o[0].Body, o[0].Body, 2 }, storage.ConflictEdits, false},
		{"one value and deletions", func(o []storage.Op) { o[1].Del, o[2].Del = true, true }, storage.ConflictDelete, false},
		{"two values and a deletion", func(o []storage.Op) { o[1].Del = true }, storage.ConflictEdits, false},
		{"only deletions", func(o []storage.Op) { o[0].Del, o[1].Del, o[2].Del = true, true, true }, storage.ConflictNone, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			ops := heads(3)
			c.change(ops)
			r := storage.NewRecord(ops)
			if r.Conflict != c.want || r.Deleted != c.deleted || len(r.Heads) != 3 {
				t.Errorf("conflict %d, deleted %v, want %d, %v", r.Conflict, r.Deleted, c.want, c.deleted)
			}
		})
	}
}

func TestNewRecord_of_nothing_is_nothing(t *testing.T) {
	if r := storage.NewRecord(nil); r.ID != "" || len(r.HeadIDs()) != 0 {
		t.Errorf("%+v", r)
	}
}
