package simtest

import (
	"fmt"
	"math/rand/v2"
	"time"

	"torchside/storage"
	"torchside/storage/vault/memvault"
)

// Small is a world of two phones that hold one record, and at most one crash,
// one doubled message and one lost answer. All of them can be played.
type Small struct {
	Events     string // of letters: a and b edit on a phone, A and B run its engine, T drops all old versions in the vault
	Crash      int    // the phone that does the n-th step crashes there; 0 for none
	VaultCrash int    // the vault crashes at the n-th commit; 0 for none
	Moment     memvault.Moment
	Double     int // the n-th message arrives twice; 0 for none
	Lose       int // the answer to the n-th message is lost; 0 for none
}

// Count is how much of each there was: the places where faults can strike.
type Count struct {
	Steps, Messages int
	Dropped         int // versions
}

// RunSmall plays a small world and returns what it found wrong, if anything.
func RunSmall(s Small, hooks Hooks) (Count, error) {
	w := newWorld(1, 2, hooks)
	first := must(w.phones[0].author.Save(ctx, "torch", 1, []byte(`{"a":0,"b":0}`)))
	w.saved[first.Heads[0].ID] = true
	w.round(0)
	w.plan = &s
	if s.VaultCrash > 0 {
		w.disk.CrashAt(s.VaultCrash, s.Moment)
	}
	for i, c := range s.Events {
		w.now = w.now.Add(time.Second)
		w.playSmall(i, c, first.ID)
		w.check()
	}
	for _, message := range w.late {
		message()
	}
	w.check()
	count := w.count
	w.plan = &Small{}
	if w.fault == nil {
		w.heal()
	}
	return count, w.fault
}

// playSmall plays one letter. Edits change one field or the other in turn.
func (w *world) playSmall(i int, c rune, rec storage.ID) {
	p := w.phones[0]
	if c == 'b' || c == 'B' {
		p = w.phones[1]
	}
	if c == 'T' {
		for _, k := range []Kind{Limit, Day, Day, Trim} {
			w.playHistory(k, rand.New(rand.NewPCG(oneDay, 1)))
		}
		return
	}
	if c == 'A' || c == 'B' {
		p.sync(rand.New(rand.NewPCG(1, 1)), 0)
		return
	}
	seen := must(p.store.Get(ctx, rec))
	fields := [2]int{}
	if _, err := fmt.Sscanf(string(seen.Body), `{"a":%d,"b":%d}`, &fields[0], &fields[1]); err != nil {
		w.wrong("the record holds %q", seen.Body)
		return
	}
	fields[i%2] = i + 1
	plan := w.plan
	w.plan = &Small{} // an edit is no step
	after := must(p.author.Update(ctx, seen, 1, fmt.Appendf(nil, `{"a":%d,"b":%d}`, fields[0], fields[1])))
	w.plan = plan
	for _, h := range after.Heads {
		w.saved[h.ID] = true
	}
}

// oneDay is a seed with which Limit sets a limit of one day.
const oneDay = 6

// planned counts a step, and crashes the phone there if that is the plan.
func (w *world) planned(p *phone) {
	if !p.busy {
		return
	}
	if w.count.Steps++; w.count.Steps == w.plan.Crash {
		panic(crashed{p})
	}
}
