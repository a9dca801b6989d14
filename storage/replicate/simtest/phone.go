package simtest

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"time"

	"torchside/storage"
	"torchside/storage/memory"
	"torchside/storage/replicate"
)

// phone is one device.
type phone struct {
	w      *world
	disk   *memory.Disk
	kept   *memory.Disk
	clock  time.Duration // ahead of the world's
	full   bool
	busy   bool // its engine runs
	life   int  // how often it was started
	store  storage.Replica
	author *storage.Author
	engine *replicate.Engine
	shown  []storage.Record // as screens still show them

	left int        // steps until it crashes; 0 for not
	late bool       // and then after the step, not before
	r    *rand.Rand // of the running event, for the network
}

// crashed is what a crash panics with, so that no code of the phone runs on.
type crashed struct{ *phone }

func (w *world) addPhone(disk *memory.Disk) {
	p := &phone{w: w, disk: disk}
	w.phones = append(w.phones, p)
	p.restart()
}

// restart starts the app on what the disk holds.
func (p *phone) restart() {
	p.life++
	p.left, p.shown = 0, nil
	life := p.life
	var store storage.Replica = &guard{Replica: p.disk.Open(), p: p, life: life}
	if p.w.hooks.Local != nil {
		store = p.w.hooks.Local(store, func() { p.step(life, p.late) })
	}
	p.store = store
	var peer replicate.Peer = &network{p: p, life: life}
	if p.w.hooks.Peer != nil {
		peer = p.w.hooks.Peer(peer, store)
	}
	p.author = storage.NewAuthor(store, p.now, p.w.src)
	p.engine = replicate.New(store, peer, replicate.Options{
		Dev: "0195936f-0000-7000-8000-000000000000", Now: p.now, Fields: func(kind string) bool { return kind == "torch" },
	})
}

func (p *phone) now() time.Time { return p.w.now.Add(p.clock) }

// setClock moves it up to a year, or in one of four cases up to ten.
func (p *phone) setClock(r *rand.Rand) {
	years := int64(1)
	if r.IntN(4) == 0 {
		years = 10
	}
	most := years * 365 * 24 * int64(time.Hour)
	p.clock = time.Duration(r.Int64N(2*most) - most)
}

// sync runs the engine; with a limit it crashes after so many steps.
func (p *phone) sync(r *rand.Rand, crashAfter int) {
	if p.busy {
		return
	}
	p.busy, p.r = true, r
	p.left, p.late = crashAfter, r.IntN(2) == 0
	defer p.rest()
	_, _ = p.engine.Run(ctx, r.IntN(5) > 0) // most fail here; after healing none may
}

// rest ends a run, also one that ended in a crash.
func (p *phone) rest() {
	p.busy, p.left = false, 0
	thrown := recover()
	if thrown == nil {
		return
	}
	if c, ok := thrown.(crashed); !ok || c.phone != p {
		panic(thrown)
	}
	p.restart()
}

// step is a point at which the phone may crash; life is that of the caller,
// who is gone if the phone was started again since.
func (p *phone) step(life int, after bool) {
	if life != p.life {
		panic(crashed{p})
	}
	if p.w.plan != nil {
		p.w.planned(p)
		return
	}
	if p.left == 0 || p.late != after {
		return
	}
	if p.left--; p.left == 0 {
		panic(crashed{p})
	}
}

// uncounted lets steps pass that are not those of the engine.
func (p *phone) uncounted() func() {
	left := p.left
	p.left = 0
	return func() { p.left = left }
}

// edit does something a user does.
func (p *phone) edit(r *rand.Rand) {
	defer p.uncounted()()
	if d, ok := p.draft(r); ok {
		p.save(d)
	}
}

// swap gives a record, mostly one there is, one of few photos in place of what it has.
func (p *phone) swap(r *rand.Rand) {
	defer p.uncounted()()
	d := storage.Draft{Kind: "sheet", Schema: 1, Seen: p.seen(r)}
	if d.Seen.ID != "" {
		d.Kind = d.Seen.Kind
	}
	if p.photo(&d, r.IntN(4)) {
		p.save(d)
	}
}

// photo gives a draft a photo, if there is room for it.
func (p *phone) photo(d *storage.Draft, n int) bool {
	h, err := p.store.PutBlob(ctx, fmt.Appendf(nil, "photo %d", n))
	if err != nil {
		return false
	}
	p.w.photos[h] = true
	d.Body, d.Blobs = []byte(`{"a":1}`), []storage.Hash{h}
	return true
}

// save writes a draft.
func (p *phone) save(d storage.Draft) {
	records, err := p.author.Write(ctx, d)
	if err != nil {
		if !errors.Is(err, storage.ErrFull) {
			p.w.wrong("an edit failed: %v", err)
		}
		return
	}
	for _, h := range records[0].Heads {
		if h.N == must(p.store.Meta(ctx)).N && h.Dev == must(p.store.Meta(ctx)).Dev && slices.Equal(h.Parents, d.Seen.HeadIDs()) {
			p.w.saved[h.ID] = true
		}
	}
	p.shown = append(p.shown, records[0])
}

// poison is a body the vault of the simulation refuses.
const poison = "poison"

// draft makes a new record or changes one, as it is or as it was shown before.
func (p *phone) draft(r *rand.Rand) (storage.Draft, bool) {
	d := storage.Draft{Kind: []string{"torch", "sheet"}[r.IntN(2)], Schema: 1}
	if r.IntN(4) > 0 {
		d.Seen = p.seen(r)
	}
	if d.Seen.ID != "" {
		d.Kind, d.Blobs = d.Seen.Kind, d.Seen.Blobs
	}
	switch r.IntN(12) {
	case 0:
		d.Del, d.Body, d.Blobs = d.Seen.ID != "", []byte(`{"a":1}`), nil
	case 1:
		d.Body = []byte(poison)
	case 2, 3:
		ok := p.photo(&d, r.IntN(8))
		return d, ok
	default:
		d.Body = changed(d.Seen.Body, r)
	}
	return d, true
}

// seen picks a record to change.
func (p *phone) seen(r *rand.Rand) storage.Record {
	if len(p.shown) > 0 && r.IntN(3) == 0 {
		return p.shown[r.IntN(len(p.shown))]
	}
	all := must(p.store.List(ctx, storage.Query{Deleted: true}))
	if len(all) == 0 {
		return storage.Record{}
	}
	return all[r.IntN(len(all))]
}

// changed gives one of three fields another value.
func changed(body []byte, r *rand.Rand) []byte {
	values := [3]int{}
	if _, err := fmt.Sscanf(string(body), `{"a":%d,"b":%d,"c":%d}`, &values[0], &values[1], &values[2]); err != nil {
		values = [3]int{}
	}
	values[r.IntN(3)] = r.IntN(100)
	return fmt.Appendf(nil, `{"a":%d,"b":%d,"c":%d}`, values[0], values[1], values[2])
}

// imports appends all ops of another phone, as its export holds them.
func (p *phone) imports(from *phone) {
	defer p.uncounted()()
	ops := must(from.store.Ops(ctx, "", 1000))
	if _, err := p.store.Append(ctx, ops...); err != nil && !errors.Is(err, storage.ErrFull) {
		p.w.wrong("an import failed: %v", err)
	}
}
