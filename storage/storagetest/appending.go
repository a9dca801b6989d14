package storagetest

import (
	"bytes"
	"errors"
	"slices"

	"torchside/storage"
	"torchside/storage/merge"
)

func appendTwice(b *bench) {
	ops := RandomOps(2, 20)
	first, err := b.store.Append(b.Context(), ops...)
	b.ok(err)
	if len(first.Added) != len(ops) || len(first.Held) != 0 {
		b.Errorf("first: %d added, %d held", len(first.Added), len(first.Held))
	}
	again, err := b.store.Append(b.Context(), append(slices.Clone(ops), ops[0])...)
	b.ok(err)
	if len(again.Added) != 0 || len(again.Held) < len(ops) {
		b.Errorf("again: %d added, %d held", len(again.Added), len(again.Held))
	}
	fresh := RandomOps(3, 1)[0]
	twice, err := b.store.Append(b.Context(), fresh, ops[4], fresh)
	b.ok(err)
	if !slices.Equal(twice.Added, []storage.ID{fresh.ID}) || !slices.Equal(twice.Held, []storage.ID{ops[4].ID}) {
		b.Errorf("mixed batch: %+v", twice)
	}
	meta, err := b.store.Meta(b.Context())
	b.ok(err)
	if meta != (storage.Meta{}) {
		b.Errorf("appending changed the meta to %+v", meta)
	}
}

func appendMismatch(b *bench) {
	ops := RandomOps(4, 10)
	_, err := b.store.Append(b.Context(), ops[:5]...)
	b.ok(err)
	forged := ops[2].Clone()
	forged.N += 1000
	twin := ops[7].Clone()
	twin.N += 1000
	_, err = b.store.Append(b.Context(), ops[7], forged, twin, ops[8])
	b.fails(err, storage.ErrOpMismatch)
	var which *storage.MismatchError
	want := []storage.ID{forged.ID, twin.ID}
	slices.Sort(want)
	if !errors.As(err, &which) || !slices.Equal(which.Ops, want) {
		b.Errorf("error = %#v, want it to name both ops", err)
	}
	if got := allOps(b, b.store); len(got) != 5 {
		b.Errorf("%d ops held after a refused batch, want 5", len(got))
	}
}

func appendInvalid(b *bench) {
	ops := RandomOps(5, 3)
	for _, spoil := range []func(*storage.Op){
		func(o *storage.Op) { o.ID = "1" },
		func(o *storage.Op) { o.Rec = "0195936F-0000-7000-8000-000000000000" },
		func(o *storage.Op) { o.Parents = []storage.ID{o.ID} },
		func(o *storage.Op) { o.Dev = "" },
		func(o *storage.Op) { o.N = 0 },
		func(o *storage.Op) { o.HLC.Milli = -1 },
		func(o *storage.Op) { o.At = "yesterday" },
		func(o *storage.Op) { o.Kind = "" },
		func(o *storage.Op) { o.Schema = 0 },
		func(o *storage.Op) { o.Body = make([]byte, storage.MaxBody+1) },
		func(o *storage.Op) { o.Blobs = []string{"x"} },
	} {
		bad := ops[1].Clone()
		spoil(&bad)
		_, err := b.store.Append(b.Context(), ops[0], bad, ops[2])
		b.fails(err, storage.ErrInvalid)
	}
	if got := allOps(b, b.store); len(got) != 0 {
		b.Errorf("%d ops held after refused batches", len(got))
	}
}

// What an import tells of conflicts are those of the lot, as they are after it.
func appendSplit(b *bench) {
	ops := RandomOps(61, 300)
	var model []storage.Op
	for lot := range slices.Chunk(Shuffled(61, ops), 40) {
		done, err := b.store.Append(b.Context(), lot...)
		b.ok(err)
		model, _ = merge.Union(model, lot)
		touched := make(map[storage.ID]bool)
		for _, op := range lot {
			touched[op.Rec] = touched[op.Rec] || slices.Contains(done.Added, op.ID)
		}
		var want []storage.ID
		for _, r := range merge.Records(model) {
			if touched[r.ID] && r.Conflict != storage.ConflictNone {
				want = append(want, r.ID)
			}
		}
		if !slices.Equal(done.Split, want) {
			b.Fatalf("split = %v, want %v", done.Split, want)
		}
	}
}

func childFirst(b *bench) {
	ops := RandomOps(6, 60)
	for i := len(ops) - 1; i >= 0; i-- {
		_, err := b.store.Append(b.Context(), ops[i])
		b.ok(err)
	}
	got, err := b.store.List(b.Context(), storage.Query{Deleted: true})
	b.ok(err)
	if !SameRecords(got, merge.Records(ops)) {
		b.Error("backwards arrival gives other records")
	}
}

// An op can only replace ops of its own record, whatever it names.
func foreignParent(b *bench) {
	ops := RandomOps(7, 2)
	ops[0].Parents, ops[1].Parents = nil, []storage.ID{ops[0].ID}
	ops[1].Rec = NewSource(70).ID(5)
	_, err := b.store.Append(b.Context(), ops...)
	b.ok(err)
	b.holds(storage.NewRecord(ops[:1]))
	b.holds(storage.NewRecord(ops[1:]))
}

// No author makes such ops; a forged file can hold them, and must do no harm.
func ring(b *bench) {
	ops := RandomOps(9, 2)
	ops[1].Rec = ops[0].Rec
	ops[0].Parents, ops[1].Parents = []storage.ID{ops[1].ID}, []storage.ID{ops[0].ID}
	for _, op := range ops {
		_, err := b.store.Append(b.Context(), op)
		b.ok(err)
	}
	_, err := b.store.Get(b.Context(), ops[0].Rec)
	b.fails(err, storage.ErrNotFound)
	if got := allOps(b, b.store); len(got) != 2 {
		b.Errorf("%d ops kept, want both", len(got))
	}
}

func largeBatch(b *bench) {
	ops := RandomOps(8, 1000)
	ops[0].Del, ops[0].Body = false, bytes.Repeat([]byte{'x', 0xff}, storage.MaxBody/2)
	done, err := b.store.Append(b.Context(), ops...)
	b.ok(err)
	if len(done.Added) != len(ops) {
		b.Errorf("%d of %d added", len(done.Added), len(ops))
	}
	page, err := b.store.Ops(b.Context(), "", 2000)
	b.ok(err)
	want, _ := merge.Union(ops, nil)
	if !SameOps(page, want) {
		b.Error("ops read back otherwise than they were appended")
	}
}
