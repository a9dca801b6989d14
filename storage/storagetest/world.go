package storagetest

import (
	"fmt"
	"io"
	"math/rand/v2"
	"slices"
	"time"

	"torchside/storage"
)

// Start is the wall time test worlds begin at.
var Start = time.Date(2026, 3, 14, 9, 26, 53, 589e6, time.FixedZone("", -5*3600))

// Clock is a wall clock that tests move. It may go backwards, as a phone's may.
type Clock struct{ At time.Time }

// Now returns the time the clock stands at.
func (c *Clock) Now() time.Time { return c.At }

// Move changes the time by d.
func (c *Clock) Move(d time.Duration) { c.At = c.At.Add(d) }

// Source gives random bytes and ids from a seed, so that a failing test can be
// repeated.
type Source struct{ *rand.ChaCha8 }

// NewSource returns the source of a seed.
func NewSource(seed uint64) Source {
	var key [32]byte
	copy(key[:], fmt.Sprintf("storagetest %020d", seed))
	return Source{rand.NewChaCha8(key)}
}

var _ io.Reader = Source{}

// ID returns a fresh id made at the given millisecond.
func (s Source) ID(milli int64) storage.ID {
	id, err := storage.NewID(storage.HLC{Milli: milli}, s)
	if err != nil {
		panic(err) // a ChaCha8 source never fails
	}
	return id
}

// RandomOps returns n ops of a few records, made on three devices which see
// only some of each other's ops: chains, branches, merges, deletions and
// revivals, with clocks that disagree by years.
func RandomOps(seed uint64, n int) []storage.Op {
	src := NewSource(seed)
	w := &world{src: src, r: rand.New(src), byRec: make(map[storage.ID][]storage.Op)}
	for range 3 {
		w.devs = append(w.devs, src.ID(Start.UnixMilli()))
	}
	for range 1 + n/6 {
		w.recs = append(w.recs, src.ID(Start.UnixMilli()))
	}
	ops := make([]storage.Op, 0, n)
	for i := range n {
		ops = append(ops, w.op(uint64(i+1)))
	}
	return ops
}

// world is a generator's memory of what it made so far.
type world struct {
	src   Source
	r     *rand.Rand
	devs  []storage.ID
	recs  []storage.ID
	byRec map[storage.ID][]storage.Op
}

// op makes one op on a random record and remembers it.
func (w *world) op(n uint64) storage.Op {
	rec := w.recs[w.r.IntN(len(w.recs))]
	at := Start.Add(time.Duration(w.r.Int64N(20*365*24)-10*365*24) * time.Hour)
	op := storage.Op{
		ID: w.src.ID(at.UnixMilli()), Rec: rec, Kind: []string{"torch", "hose"}[w.r.IntN(2)], Schema: 1 + w.r.IntN(3),
		Parents: w.parents(rec), Dev: w.devs[w.r.IntN(len(w.devs))], N: n,
		HLC: storage.HLC{Milli: at.UnixMilli(), Counter: w.r.Uint32N(3)}, At: at.Format(storage.AtLayout),
		Del: w.r.IntN(5) == 0,
	}
	if !op.Del {
		op.Body = w.body()
	}
	w.byRec[rec] = append(w.byRec[rec], op)
	return op
}

// parents picks up to three earlier ops of the record, not always its heads.
func (w *world) parents(rec storage.ID) []storage.ID {
	earlier := w.byRec[rec]
	var ids []storage.ID
	for range min(w.r.IntN(4), len(earlier)) {
		ids = append(ids, earlier[w.r.IntN(len(earlier))].ID)
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}

// body is JSON, other text, or bytes that are no text at all.
func (w *world) body() []byte {
	switch w.r.IntN(3) {
	case 0:
		return fmt.Appendf(nil, `{"name":"sample %d","note":"<&> \"½\""}`, w.r.IntN(100))
	case 1:
		return []byte("plain \u2028 text\x00")
	}
	b := make([]byte, 1+w.r.IntN(40))
	if _, err := w.src.Read(b); err != nil {
		panic(err) // a ChaCha8 source never fails
	}
	return b
}

// Shuffled returns the ops in another order, some of them twice.
func Shuffled(seed uint64, ops []storage.Op) []storage.Op {
	r := rand.New(NewSource(seed))
	mixed := slices.Clone(ops)
	for _, op := range ops {
		if r.IntN(4) == 0 {
			mixed = append(mixed, op.Clone())
		}
	}
	r.Shuffle(len(mixed), func(i, j int) { mixed[i], mixed[j] = mixed[j], mixed[i] })
	return mixed
}
