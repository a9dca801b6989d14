package simtest

import (
	"context"
	"fmt"
	"math/rand/v2"
	"time"

	"torchside/storage"
	"torchside/storage/memory"
	"torchside/storage/replicate"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
	"torchside/storage/vault/memvault"
)

// Hooks put something else in place of a part, as a test of the simulation
// itself does. The zero Hooks change nothing.
type Hooks struct {
	// Local is put over a phone's store; step is a point at which the phone may crash.
	Local func(s storage.Replica, step func()) storage.Replica
	// Peer is put over a phone's way to the vault.
	Peer func(p replicate.Peer, s storage.Replica) replicate.Peer
	// Vault is put over the vault each time it starts.
	Vault func(vault.Vault) vault.Vault
	// Plan is what a vault asks that drops old versions; nil for vault.Plan.
	Plan func(log []vault.Link, most int) (drop []int, free []storage.Hash)
}

// world is everything there is, and what is known of what must not be lost.
type world struct {
	hooks  Hooks
	src    storagetest.Source
	now    time.Time
	phones []*phone
	events []Event // to come
	flaky  int
	late   []func() // messages that may arrive once more
	depth  int      // steps within steps
	plan   *Small   // of a small world; nil in a random one
	count  Count    // of what happened in it

	disk    *memvault.Disk
	raw     *memvault.Vault // as it runs
	vault   vault.Vault     // the same, as phones meet it
	shop    vault.ShopID
	backups []backup
	limits  limits
	full    bool

	askedGone int // how often in this round a phone asked for a photo that is gone

	saved  map[storage.ID]bool   // reported as saved, and not lost with all that held them
	acked  map[storage.ID]bool   // confirmed by the vault in its present line
	photos map[storage.Hash]bool // as saved, for attachments
	log    []storage.ID          // of the vault, as last seen
	fault  error                 // the first thing found wrong
}

// ctx is that of all calls: nothing in the simulation waits.
var ctx = context.Background()

// Run plays a schedule and returns what it found wrong, if anything.
func Run(s Schedule, hooks Hooks) error {
	w := newWorld(s.Seed, s.Phones, hooks)
	w.events, w.flaky = s.Events, s.Flaky
	for len(w.events) > 0 && w.fault == nil {
		w.step()
	}
	if w.fault == nil {
		w.heal()
	}
	return w.fault
}

// newWorld makes phones and a vault, all empty.
func newWorld(seed uint64, phones int, hooks Hooks) *world {
	w := &world{
		hooks: hooks, src: storagetest.NewSource(seed), now: storagetest.Start,
		saved: make(map[storage.ID]bool), acked: make(map[storage.ID]bool), photos: make(map[storage.Hash]bool),
	}
	w.newVault()
	for range phones {
		w.addPhone(memory.NewDisk())
	}
	return w
}

// wrong notes the first thing that is.
func (w *world) wrong(format string, args ...any) {
	if w.fault == nil {
		w.fault = fmt.Errorf(format, args...)
	}
}

// must stops what cannot go wrong in a simulation.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// newVault puts a new, empty vault in place.
func (w *world) newVault() {
	w.disk, w.limits = must(memvault.NewDisk(w.src)), limits{}
	if w.hooks.Plan != nil {
		w.disk.PlanWith(w.hooks.Plan)
	}
	w.shop = must(w.disk.Open().CreateShop(ctx, "home", w.now)).ID
	w.start()
}

// start opens the vault, as after a crash.
func (w *world) start() {
	w.disk.SetFull(w.full)
	w.raw = w.disk.Open()
	w.vault = smallPages{w.raw}
	if w.hooks.Vault != nil {
		w.vault = w.hooks.Vault(w.vault)
	}
}

// step plays the next event, if there is one, and looks at the result.
func (w *world) step() {
	if len(w.events) == 0 || w.fault != nil {
		return
	}
	e := w.events[0]
	w.events = w.events[1:]
	w.now = w.now.Add(time.Second)
	w.depth++
	defer func() { w.depth-- }()
	w.play(e, rand.New(rand.NewPCG(e.Seed, 1)))
	w.check()
}

func (w *world) play(e Event, r *rand.Rand) {
	p := w.phones[e.Phone%len(w.phones)]
	switch e.Kind {
	case Edit:
		p.edit(r)
	case Swap:
		p.swap(r)
	case Sync:
		p.sync(r, 0)
	case Die:
		p.sync(r, 1+r.IntN(16))
	case Fill:
		p.full = !p.full
	case Clock:
		p.setClock(r)
	case Wipe:
		w.lose(p, memory.NewDisk())
	case Clone:
		w.addPhone(p.disk.Snapshot())
	case Add:
		w.addPhone(memory.NewDisk())
	case Keep:
		p.kept = p.disk.Snapshot()
	case Return:
		if p.kept != nil {
			w.lose(p, p.kept.Snapshot())
		}
	case Import:
		p.imports(w.phones[r.IntN(len(w.phones))])
	case Late:
		w.arriveLate(r)
	default:
		w.playVault(e.Kind, r)
	}
}

func (w *world) playVault(k Kind, r *rand.Rand) {
	switch k {
	case Crash:
		w.disk.CrashAt(1+r.IntN(4), memvault.Moment(r.IntN(2)))
	case Backup:
		w.backups = append(w.backups, backup{w.disk.Snapshot(), w.limits})
	case Restore:
		if len(w.backups) > 0 {
			from := w.backups[r.IntN(len(w.backups))]
			w.disk.Restore(from.disk)
			w.limits = from.limits
			w.start()
			w.forget()
		}
	case Replace:
		w.backups = nil // of another vault, with another shop
		w.newVault()
		w.forget()
	case FillDisk:
		w.full = !w.full
		w.disk.SetFull(w.full)
	default:
		w.playHistory(k, r)
	}
}

// arriveLate delivers a message of earlier once more; nobody hears the answer.
func (w *world) arriveLate(r *rand.Rand) {
	if len(w.late) == 0 {
		return
	}
	at := r.IntN(len(w.late))
	message := w.late[at]
	w.late = append(w.late[:at:at], w.late[at+1:]...)
	message()
}

// lose puts another disk into a phone. What was nowhere else is lost, and
// nobody can be blamed.
func (w *world) lose(p *phone, disk *memory.Disk) {
	p.disk, p.kept, p.full = disk, nil, false
	p.restart()
	w.forget()
}

// forget gives up what is nowhere any more, after something was destroyed.
func (w *world) forget() {
	held := w.inVault()
	for id := range w.acked {
		if !held[id] {
			delete(w.acked, id)
		}
	}
	for id := range w.saved {
		if !held[id] && !w.onPhone(id) {
			delete(w.saved, id)
		}
	}
	for h := range w.photos {
		if !w.photoSomewhere(h) {
			delete(w.photos, h)
		}
	}
	w.log = nil
}
