package storagetest

import (
	"maps"
	"math/rand/v2"
	"slices"
	"strings"

	"torchside/storage"
	"torchside/storage/merge"
)

// waiting reads what waits.
func (b *bench) waiting(limit int) []storage.ID {
	b.Helper()
	ops, err := b.replica().Waiting(b.Context(), "", limit)
	b.ok(err)
	return idsOf(ops)
}

func idsOf(ops []storage.Op) []storage.ID {
	ids := make([]storage.ID, 0, len(ops))
	for _, op := range ops {
		ids = append(ids, op.ID)
	}
	return ids
}

// at makes a checkpoint.
func at(seq uint64) storage.Checkpoint {
	return storage.Checkpoint{Store: "a vault", Seq: seq, Chain: storage.HashOf([]byte{byte(seq)})}
}

// place wants the checkpoint to be this one.
func (b *bench) place(want storage.Checkpoint) {
	b.Helper()
	got, err := b.replica().Checkpoint(b.Context())
	b.ok(err)
	if got != want {
		b.Errorf("checkpoint %+v, want %+v", got, want)
	}
}

// waitsFor wants exactly these ops to wait.
func (b *bench) waitsFor(ids ...storage.ID) {
	b.Helper()
	want := slices.Sorted(slices.Values(ids))
	if got := b.waiting(1 << 20); !slices.Equal(got, want) {
		b.Errorf("%d ops wait: %v\nwant %d: %v", len(got), got, len(want), want)
	}
}

func waits(b *bench) {
	b.place(storage.Checkpoint{})
	rec := b.save("one")
	ops := RandomOps(21, 9)
	_, err := b.store.Append(b.Context(), ops...)
	b.ok(err)
	all := append(idsOf(ops), rec.Heads[0].ID)
	b.waitsFor(all...)
	slices.Sort(all)
	if got := b.waiting(4); !slices.Equal(got, all[:4]) {
		b.Errorf("the first four waiting are %v, want %v", got, all[:4])
	}
	for _, from := range []int{0, 3, len(all) - 1} {
		page, err := b.replica().Waiting(b.Context(), all[from], 4)
		b.ok(err)
		if want := all[from+1 : min(from+5, len(all))]; !slices.Equal(idsOf(page), want) {
			b.Errorf("waiting after number %d: %v, want %v", from, idsOf(page), want)
		}
	}
	full, err := b.replica().Waiting(b.Context(), "", 100)
	b.ok(err)
	if want, _ := merge.Union(ops, rec.Heads); !SameOps(full, want) {
		b.Error("what waits is not what was stored")
	}
	b.ok(b.replica().Sent(b.Context(), all[0], all[3], NewSource(1).ID(7)))
	b.ok(b.replica().Sent(b.Context(), all[0]))
	b.waitsFor(append(slices.Clone(all[1:3]), all[4:]...)...)
	again, err := b.store.Append(b.Context(), ops...)
	b.ok(err)
	if len(again.Added) != 0 {
		b.Errorf("%d ops were added twice", len(again.Added))
	}
	b.waitsFor(append(slices.Clone(all[1:3]), all[4:]...)...)
	_, err = b.replica().Waiting(b.Context(), "", 0)
	b.fails(err, storage.ErrInvalid)
}

func pulled(b *bench) {
	ops := RandomOps(22, 40)
	done, err := b.replica().Pulled(b.Context(), at(30), ops[:30]...)
	b.ok(err)
	if len(done.Added) != 30 || len(done.Held) != 0 {
		b.Errorf("%d added, %d held", len(done.Added), len(done.Held))
	}
	b.place(at(30))
	b.waitsFor()
	done, err = b.replica().Pulled(b.Context(), at(40), ops[20:]...)
	b.ok(err)
	if len(done.Added) != 10 || len(done.Held) != 10 {
		b.Errorf("second page: %d added, %d held", len(done.Added), len(done.Held))
	}
	_, err = b.replica().Pulled(b.Context(), at(41))
	b.ok(err)
	b.place(at(41))
	b.waitsFor()
	got, err := b.store.List(b.Context(), storage.Query{Deleted: true})
	b.ok(err)
	if !SameRecords(got, merge.Records(ops)) {
		b.Error("records are not those the ops describe")
	}
	if meta, err := b.store.Meta(b.Context()); err != nil || meta != (storage.Meta{}) {
		b.Errorf("pulling changed the meta to %+v, %v", meta, err)
	}
}

func pulledWrong(b *bench) {
	ops := RandomOps(23, 10)
	_, err := b.replica().Pulled(b.Context(), at(5), ops[:5]...)
	b.ok(err)
	forged, invalid := ops[2].Clone(), ops[7].Clone()
	forged.N += 1000
	invalid.N = 0
	_, err = b.replica().Pulled(b.Context(), at(10), ops[8], forged, ops[9])
	b.fails(err, storage.ErrOpMismatch)
	_, err = b.replica().Pulled(b.Context(), at(10), ops[8], invalid)
	b.fails(err, storage.ErrInvalid)
	b.place(at(5))
	if got := allOps(b, b.store); len(got) != 5 {
		b.Errorf("%d ops held after refused pages, want 5", len(got))
	}
}

func pulledOwn(b *bench) {
	mine, others := b.save("mine"), b.save("waits on")
	_, err := b.replica().Pulled(b.Context(), at(1), mine.Heads...)
	b.ok(err)
	b.waitsFor(others.Heads[0].ID)
	b.ok(b.replica().Refuse(b.Context(), storage.Refusal{Op: others.Heads[0].ID, Reason: "no"}))
	_, err = b.replica().Pulled(b.Context(), at(2), others.Heads...)
	b.ok(err)
	b.waitsFor()
	if r, err := b.replica().Refusals(b.Context()); err != nil || len(r) != 0 {
		b.Errorf("still refused: %v, %v", r, err)
	}
}

func refuses(b *bench) {
	one, two, three := b.save("one").Heads[0].ID, b.save("two").Heads[0].ID, b.save("three").Heads[0].ID
	foreign := RandomOps(24, 1)[0].ID
	b.ok(b.replica().Refuse(b.Context(), storage.Refusal{Op: two, Reason: "too much"}, storage.Refusal{Op: foreign, Reason: "is another"}))
	b.waitsFor(one, three)
	got, err := b.replica().Refusals(b.Context())
	b.ok(err)
	want := []storage.Refusal{{Op: two, Reason: "too much"}, {Op: foreign, Reason: "is another"}}
	slices.SortFunc(want, func(x, y storage.Refusal) int { return strings.Compare(string(x.Op), string(y.Op)) })
	if !slices.Equal(got, want) {
		b.Errorf("refusals %v, want %v", got, want)
	}
	b.ok(b.replica().Sent(b.Context(), two, foreign))
	if got, err = b.replica().Refusals(b.Context()); err != nil || len(got) != 0 {
		b.Errorf("refusals after all was sent: %v, %v", got, err)
	}
	b.waitsFor(one, three)
}

func requeues(b *bench) {
	ops := RandomOps(25, 30)
	mine := b.save("mine")
	_, err := b.replica().Pulled(b.Context(), at(30), ops...)
	b.ok(err)
	b.ok(b.replica().Refuse(b.Context(), storage.Refusal{Op: mine.Heads[0].ID, Reason: "no"}))
	for range 2 {
		b.ok(b.replica().Requeue(b.Context()))
		b.place(storage.Checkpoint{})
		b.waitsFor(append(idsOf(ops), mine.Heads[0].ID)...)
		if r, err := b.replica().Refusals(b.Context()); err != nil || len(r) != 0 {
			b.Errorf("refused after starting anew: %v, %v", r, err)
		}
	}
}

func histories(b *bench) {
	ops := RandomOps(26, 40)
	_, err := b.store.Append(b.Context(), ops...)
	b.ok(err)
	sorted, _ := merge.Union(ops, nil)
	for _, rec := range merge.Records(ops) {
		got, err := b.replica().History(b.Context(), rec.ID)
		b.ok(err)
		want := slices.DeleteFunc(slices.Clone(sorted), func(o storage.Op) bool { return o.Rec != rec.ID })
		if !SameOps(got, want) {
			b.Errorf("record %s has %d ops, want %d", rec.ID, len(got), len(want))
		}
	}
	none, err := b.replica().History(b.Context(), NewSource(2).ID(9))
	b.ok(err)
	if len(none) != 0 {
		b.Errorf("an unknown record has %d ops", len(none))
	}
}

// A phone whose clock is a year ahead must not take ours along, and what it
// wrote is replaced all the same.
func foreignClocks(b *bench) {
	op := RandomOps(27, 1)[0]
	op.Kind, op.Del, op.Body = "torch", false, []byte("from the future")
	op.HLC = storage.HLC{Milli: b.clock.At.AddDate(1, 0, 0).UnixMilli(), Counter: 3}
	_, err := b.replica().Pulled(b.Context(), at(1), op)
	b.ok(err)
	rec, err := b.author.Update(b.Context(), b.get(op.Rec), 1, []byte("today"))
	b.ok(err)
	b.shows(rec, "today")
	meta, err := b.store.Meta(b.Context())
	b.ok(err)
	if ahead := meta.HLC.Milli - b.clock.At.UnixMilli(); ahead > 1000 || len(rec.Heads) != 1 {
		b.Errorf("our clock is %d ms ahead of the time; %d heads", ahead, len(rec.Heads))
	}
}

func syncReopened(b *bench) {
	one, two := b.save("one").Heads[0].ID, b.save("two").Heads[0].ID
	_, err := b.replica().Pulled(b.Context(), at(9), RandomOps(28, 9)...)
	b.ok(err)
	b.ok(b.replica().Refuse(b.Context(), storage.Refusal{Op: one, Reason: "why not"}))
	b.ok(b.store.Close())
	b.store = b.reopened()
	b.place(at(9))
	b.waitsFor(two)
	r, err := b.replica().Refusals(b.Context())
	b.ok(err)
	if !slices.Equal(r, []storage.Refusal{{Op: one, Reason: "why not"}}) {
		b.Errorf("refusals after reopening: %v", r)
	}
}

// randomExchanges appends, pulls, sends, refuses and starts anew at random. The
// model is a set of ids that wait.
func randomExchanges(b *bench) {
	r := rand.New(NewSource(29))
	ops := RandomOps(29, 60)
	held, wait, place := make(map[storage.ID]bool), make(map[storage.ID]bool), storage.Checkpoint{}
	for round := range rounds {
		from := r.IntN(len(ops))
		part := ops[from:min(len(ops), from+1+r.IntN(9))]
		switch r.IntN(6) {
		case 0, 1:
			_, err := b.store.Append(b.Context(), part...)
			b.ok(err)
			for _, op := range part {
				wait[op.ID] = wait[op.ID] || !held[op.ID]
				held[op.ID] = true
			}
		case 2:
			place = at(uint64(round))
			_, err := b.replica().Pulled(b.Context(), place, part...)
			b.ok(err)
			for _, op := range part {
				held[op.ID], wait[op.ID] = true, false
			}
		case 3:
			b.ok(b.replica().Sent(b.Context(), idsOf(part)...))
			for _, op := range part {
				wait[op.ID] = false
			}
		case 4:
			b.ok(b.replica().Refuse(b.Context(), storage.Refusal{Op: part[0].ID, Reason: "random"}))
			wait[part[0].ID] = false
		case 5:
			if r.IntN(3) == 0 {
				b.ok(b.replica().Requeue(b.Context()))
				place = storage.Checkpoint{}
				maps.Copy(wait, held)
			}
		}
		maps.DeleteFunc(wait, func(_ storage.ID, waits bool) bool { return !waits })
		b.waitsFor(slices.Collect(maps.Keys(wait))...)
		b.place(place)
	}
}
