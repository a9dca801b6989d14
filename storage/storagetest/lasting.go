package storagetest

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"sync"
	"time"

	"torchside/storage"
	"torchside/storage/merge"
)

func reopening(b *bench) {
	rec := b.save("one")
	_, err := b.store.Append(b.Context(), RandomOps(12, 25)...)
	b.ok(err)
	ops := allOps(b, b.store)
	meta, err := b.store.Meta(b.Context())
	b.ok(err)
	b.ok(b.store.Close())

	b.store = b.reopened()
	b.holds(rec)
	again, err := b.store.Meta(b.Context())
	b.ok(err)
	if !SameOps(allOps(b, b.store), ops) || again != meta {
		b.Errorf("after reopening: meta %+v, was %+v, or other ops", again, meta)
	}
	b.author = storage.NewAuthor(b.store, b.clock.Now, NewSource(12))
	next := b.save("two")
	if h := next.Heads[0]; h.Dev != meta.Dev || h.N != meta.N+1 {
		b.Errorf("op after reopening is %s number %d, want %s number %d", h.Dev, h.N, meta.Dev, meta.N+1)
	}
}

func closedStore(b *bench) {
	rec := b.save("one")
	s := b.reopened()
	b.ok(s.Close())
	b.ok(s.Close())
	_, err := storage.NewAuthor(s, b.clock.Now, NewSource(13)).Update(b.Context(), rec, 1, []byte("lost"))
	b.fails(err, storage.ErrClosed)
	_, err = s.Get(b.Context(), rec.ID)
	b.fails(err, storage.ErrClosed)
	_, err = s.Usage(b.Context())
	b.fails(err, storage.ErrClosed)
	_, err = s.Find(b.Context(), storage.Find{Kind: "torch", Limit: 1})
	b.fails(err, storage.ErrClosed)
	_, err = s.PutBlob(b.Context(), []byte("late"))
	b.fails(err, storage.ErrClosed)
	b.holds(rec)
}

// Two tabs write at once: every op gets its own number, none is lost.
func twoHandles(b *bench) {
	const writers, each = 4, 10
	var wg sync.WaitGroup
	for i := range writers {
		s := b.reopened()
		author := storage.NewAuthor(s, b.clock.Now, NewSource(uint64(100+i)))
		wg.Go(func() {
			for n := range each {
				if _, err := author.Save(b.Context(), "torch", 1, fmt.Appendf(nil, "%d.%d", i, n)); err != nil {
					b.Errorf("writer %d: %v", i, err)
				}
			}
		})
	}
	wg.Wait()
	var numbers []uint64
	devs := make(map[storage.ID]bool)
	for _, op := range allOps(b, b.store) {
		numbers = append(numbers, op.N)
		devs[op.Dev] = true
	}
	slices.Sort(numbers)
	for i, n := range numbers {
		if n != uint64(i+1) {
			b.Fatalf("numbers are %v, want 1 to %d", numbers, writers*each)
		}
	}
	if len(numbers) != writers*each || len(devs) != 1 {
		b.Errorf("%d ops by %d devices, want %d by one", len(numbers), len(devs), writers*each)
	}
}

// rounds of random operations; each ends with a comparison of everything.
const rounds = 60

// randomOperations saves, edits, deletes, imports and reopens at random. The
// model is a plain list of all ops and the definition in merge.
func randomOperations(b *bench) {
	r := rand.New(NewSource(14))
	var model []storage.Op
	for round := range rounds {
		switch b.clock.Move(time.Duration(r.IntN(2000)-500) * time.Millisecond); r.IntN(5) {
		case 0:
			rec := b.save(fmt.Sprint("new ", round))
			model = append(model, rec.Heads...)
		case 1, 2:
			model = b.randomEdit(r, model)
		case 3:
			batch := Shuffled(uint64(round), RandomOps(uint64(r.IntN(6)), 30)[:1+r.IntN(30)])
			_, err := b.store.Append(b.Context(), batch...)
			b.ok(err)
			model, _ = merge.Union(model, batch)
		case 4:
			b.ok(b.store.Close())
			b.store = b.reopened()
			b.author = storage.NewAuthor(b.store, b.clock.Now, NewSource(uint64(1000+round)))
		}
		got, err := b.store.List(b.Context(), storage.Query{Deleted: true})
		b.ok(err)
		if !SameRecords(got, merge.Records(model)) {
			b.Fatalf("round %d: records differ from the model", round)
		}
		b.randomQuestion(r, merge.Records(model))
	}
}

// randomEdit updates or deletes a random record as it was at some earlier
// time, so that conflicts arise.
func (b *bench) randomEdit(r *rand.Rand, model []storage.Op) []storage.Op {
	if len(model) == 0 {
		return model
	}
	seen := storage.NewRecord([]storage.Op{model[r.IntN(len(model))]})
	d := storage.Draft{Seen: seen, Body: fmt.Appendf(nil, "edit %d", r.IntN(1000))}
	if r.IntN(4) == 0 {
		d.Del, d.Body = true, nil
	}
	before := allOps(b, b.store)
	_, err := b.author.Write(b.Context(), d)
	b.ok(err)
	after := allOps(b, b.store)
	if len(after) != len(before)+1 {
		b.Fatalf("an edit made %d ops", len(after)-len(before))
	}
	all, _ := merge.Union(model, after)
	return all
}
