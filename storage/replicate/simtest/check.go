package simtest

import (
	"errors"
	"io"
	"maps"
	"math/rand/v2"
	"slices"

	"torchside/storage"
	"torchside/storage/memory"
	"torchside/storage/merge"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
)

// everything is a page of all there is.
var everything = vault.Limits{Ops: 1 << 30, Bytes: 1 << 30}

// page reads the log of the vault past all hooks, and starts it if it crashed.
func (w *world) page() vault.Page {
	page, err := w.raw.Pull(ctx, w.shop, vault.Checkpoint{}, everything)
	if errors.Is(err, storage.ErrClosed) {
		w.start()
		page, err = w.raw.Pull(ctx, w.shop, vault.Checkpoint{}, everything)
	}
	return must(page, err)
}

// logged names the ops of the vault in the order of its log, dropped ones too.
func (w *world) logged() []storage.ID {
	links := w.links()
	ids := make([]storage.ID, 0, len(links))
	for _, l := range links {
		ids = append(ids, l.ID)
	}
	return ids
}

func (w *world) inVault() map[storage.ID]bool { return setOf(w.logged()) }

func setOf(ids []storage.ID) map[storage.ID]bool {
	set := make(map[storage.ID]bool, len(ids))
	for _, id := range ids {
		set[id] = true
	}
	return set
}

func (w *world) onPhone(id storage.ID) bool {
	return slices.ContainsFunc(w.phones, func(p *phone) bool { return p.disk.Holds(id) })
}

// photoSomewhere tells whether an attachment is whole in the vault or on a phone.
func (w *world) photoSomewhere(h storage.Hash) bool {
	if _, complete, err := w.raw.BlobOffset(ctx, w.shop, h); err == nil && complete {
		return true
	}
	return slices.ContainsFunc(w.phones, func(p *phone) bool { return hasPhoto(p.disk, h) })
}

func hasPhoto(d *memory.Disk, h storage.Hash) bool {
	data, err := d.Open().Blob(ctx, h)
	return err == nil && storage.HashOf(data) == h
}

// check looks at what must hold after every step.
func (w *world) check() {
	log := w.logged()
	held := setOf(log)
	for id := range w.acked {
		if !held[id] {
			w.wrong("change %s was confirmed and is not in the vault", id)
		}
	}
	for id := range w.saved {
		if !held[id] && !w.onPhone(id) {
			w.wrong("change %s was saved and is nowhere", id)
		}
	}
	if len(log) < len(w.log) || !slices.Equal(log[:len(w.log)], w.log) {
		w.wrong("the vault's log changed behind: %d entries, %d before", len(log), len(w.log))
	}
	w.log = log
	w.checkDropped()
	for _, p := range w.phones {
		w.checkPlace(p)
	}
}

// checkPlace: a phone holds all that its checkpoint covers and was not dropped.
func (w *world) checkPlace(p *phone) {
	at := must(p.disk.Open().Checkpoint(ctx))
	if w.raw.Verify(ctx, w.shop, vault.Checkpoint(at)) != nil {
		return // of an earlier vault; it will find out
	}
	for _, l := range w.links()[:at.Seq] {
		if !l.Dropped && !p.disk.Holds(l.ID) {
			w.wrong("a phone's checkpoint is past change %s, which it does not hold", l.ID)
		}
	}
}

// most is how many rounds of runs healing may take.
const most = 20

// heal takes all faults away, lets every phone run until nothing moves, and
// checks that all hold the same.
func (w *world) heal() {
	w.flaky, w.full, w.late = 0, false, nil
	w.disk.Crash()
	w.start()
	for _, p := range w.phones {
		p.full = false
		if p.life > 0 {
			p.restart()
		}
	}
	for round := 0; ; round++ {
		if w.fault != nil {
			return
		}
		if round == most {
			w.wrong("%d rounds after healing something still moves", most)
			return
		}
		if !w.round(uint64(round)) && round > 1 {
			break
		}
	}
	w.check()
	w.converged()
}

// round runs every phone once and tells whether anything moved.
func (w *world) round(seed uint64) (moved bool) {
	w.askedGone = 0
	for _, p := range w.phones {
		p.r = rand.New(rand.NewPCG(seed, 2))
		done, err := p.engine.Run(ctx, true)
		if err != nil {
			w.wrong("a run failed after healing: %v", err)
			return false
		}
		moved = moved || done.Sent+done.Got+done.Merged > 0 || done.Replaced
	}
	return moved
}

// converged: vault and phones hold the same ops, records and attachments, and
// everything that was saved is among them.
func (w *world) converged() {
	ops, err := w.page().Decode()
	want, _ := merge.Union(ops, nil)
	if err != nil {
		w.wrong("the vault's log: %v", err)
	}
	for i, p := range w.phones {
		own := must(p.disk.Open().Ops(ctx, "", 1<<20))
		w.holdsAll(i, own, want)
		records := must(p.store.List(ctx, storage.Query{Deleted: true}))
		if !storagetest.SameRecords(records, merge.Records(own)) {
			w.wrong("phone %d shows other records than its changes describe", i)
		}
		w.outbox(i, p, own)
	}
	held := setOf(w.log)
	for id := range w.saved {
		if !held[id] && !w.isPoison(id) {
			w.wrong("change %s was saved and did not reach the vault", id)
		}
	}
	w.photosEverywhere(want)
	w.headsOrAncestors()
	if w.askedGone > 0 {
		w.wrong("%d times a phone asks for a photo it was told is gone", w.askedGone)
	}
}

// outbox: nothing waits, and what was refused is what the vault refuses.
func (w *world) outbox(i int, p *phone, own []storage.Op) {
	if waiting := must(p.store.Waiting(ctx, "", 1)); len(waiting) > 0 {
		w.wrong("phone %d still has changes waiting", i)
	}
	refused := make(map[storage.ID]bool)
	for _, r := range must(p.store.Refusals(ctx)) {
		refused[r.Op] = true
	}
	for _, op := range own {
		if poisoned(op) != refused[op.ID] {
			w.wrong("phone %d: change %s refused: %v", i, op.ID, refused[op.ID])
		}
	}
}

func poisoned(op storage.Op) bool { return string(op.Body) == poison }

// isPoison tells whether an op that is not in the vault is one it refuses.
func (w *world) isPoison(id storage.ID) bool {
	for _, p := range w.phones {
		for _, op := range must(p.disk.Open().Ops(ctx, "", 1<<20)) {
			if op.ID == id {
				return poisoned(op)
			}
		}
	}
	return false
}

// photosEverywhere: what ops of the vault name and was not lost is in the
// vault and on all phones, with the content its name says.
func (w *world) photosEverywhere(ops []storage.Op) {
	for _, op := range ops {
		for _, h := range op.Blobs {
			if !w.photos[h] {
				continue
			}
			if !w.vaultHasPhoto(h) {
				w.wrong("photo %.8s is not in the vault, or is another", h)
			}
			for i, p := range w.phones {
				if !hasPhoto(p.disk, h) {
					w.wrong("photo %.8s is not on phone %d, or is another", h, i)
				}
			}
		}
	}
}

func (w *world) vaultHasPhoto(h storage.Hash) bool {
	blob, _, err := w.vault.OpenBlob(ctx, w.shop, h)
	if err != nil {
		return false
	}
	data, err := io.ReadAll(blob)
	return err == nil && storage.HashOf(data) == h
}

// headsOrAncestors: from the heads, going back, every op is reached.
func (w *world) headsOrAncestors() {
	links := w.links()
	parents, named := make(map[storage.ID][]storage.ID, len(links)), make(map[storage.ID]bool)
	for _, l := range links {
		parents[l.ID] = l.Parents
		for _, p := range l.Parents {
			named[p] = true
		}
	}
	reached := make(map[storage.ID]bool)
	var todo []storage.ID
	for _, l := range links {
		if !named[l.ID] {
			todo = append(todo, l.ID)
		}
	}
	for len(todo) > 0 {
		id := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if !reached[id] {
			reached[id] = true
			todo = append(todo, parents[id]...)
		}
	}
	for _, id := range slices.Sorted(maps.Keys(parents)) {
		if !reached[id] {
			w.wrong("change %s is neither a head nor an ancestor of one", id)
		}
	}
}
