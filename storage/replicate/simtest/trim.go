package simtest

import (
	"errors"
	"math/rand/v2"
	"slices"
	"time"

	"torchside/storage"
	"torchside/storage/merge"
	"torchside/storage/storagetest"
	"torchside/storage/vault"
	"torchside/storage/vault/memvault"
)

// limits is how the world counts what the vault may drop, beside the vault.
type limits struct {
	keep  int   // days; 0 for ever
	marks []int // length of the log at the days marked since
}

// most is how many ops of the log are older than the limit.
func (l limits) most() int {
	if l.keep == 0 || len(l.marks) <= l.keep {
		return 0
	}
	return l.marks[len(l.marks)-1-l.keep]
}

// backup is a state of the vault, and what was known of its limit.
type backup struct {
	disk   *memvault.Disk
	limits limits
}

// playHistory plays what has to do with old versions.
func (w *world) playHistory(k Kind, r *rand.Rand) {
	switch k {
	case Limit:
		keep := r.IntN(4) // of one to three days, or for ever
		if w.insist(func() error { return w.vault.SetKeep(ctx, w.shop, keep, w.now) }) {
			w.limits = limits{keep: keep, marks: []int{len(w.logged())}}
		}
	case Day:
		w.now = w.now.Add(24 * time.Hour)
		if w.insist(func() error { return w.vault.MarkDay(ctx, w.now) }) {
			w.limits.marks = append(slices.Clone(w.limits.marks), len(w.logged()))
		}
	case Trim:
		w.trim()
	}
}

// insist does something at the vault until it is done, through crashes. It is
// false if the disk is full.
func (w *world) insist(f func() error) bool {
	for {
		err := f()
		switch {
		case err == nil:
			return true
		case errors.Is(err, storage.ErrFull):
			return false
		case !errors.Is(err, storage.ErrClosed) && !errors.Is(err, memvault.ErrCrashed):
			w.wrong("the vault: %v", err)
			return false
		}
		w.start()
	}
}

// trim has the vault drop old versions, and looks at what it dropped.
func (w *world) trim() {
	before := w.links()
	held := w.heldPhotos(before)
	w.insist(func() error { _, err := w.vault.Trim(ctx, w.shop); return err })
	for i, l := range w.links() {
		if l.Dropped && !before[i].Dropped {
			if w.count.Dropped++; i >= w.limits.most() {
				w.wrong("change %d was dropped, %d are older than the limit", i+1, w.limits.most())
			}
		}
		for _, h := range l.Blobs {
			if held[h] && !w.inVaultWhole(h) {
				w.wrong("photo %.8s was let go of, and change %s names it", h, l.ID)
			}
		}
	}
	for h := range w.photos {
		if !w.photoSomewhere(h) {
			delete(w.photos, h) // by the owner's wish
		}
	}
}

// heldPhotos are those the vault has of what a log names.
func (w *world) heldPhotos(links []vault.Link) map[storage.Hash]bool {
	held := make(map[storage.Hash]bool)
	for _, l := range links {
		for _, h := range l.Blobs {
			held[h] = w.inVaultWhole(h)
		}
	}
	return held
}

func (w *world) inVaultWhole(h storage.Hash) bool {
	_, complete, err := w.raw.BlobOffset(ctx, w.shop, h)
	return err == nil && complete
}

// links reads the log past all hooks, and starts the vault if it crashed.
func (w *world) links() []vault.Link {
	links, err := w.raw.Links(ctx, w.shop)
	if errors.Is(err, storage.ErrClosed) {
		w.start()
		links, err = w.raw.Links(ctx, w.shop)
	}
	return must(links, err)
}

// checkDropped: nothing that is shown was dropped, and what was not is given out.
func (w *world) checkDropped() {
	links := w.links()
	replaced := make(map[[2]storage.ID]bool)
	for _, l := range links {
		for _, p := range l.Parents {
			replaced[[2]storage.ID{l.Rec, p}] = true
		}
	}
	var kept []storage.ID
	for _, l := range links {
		switch {
		case !l.Dropped:
			kept = append(kept, l.ID)
		case !replaced[[2]storage.ID{l.Rec, l.ID}]:
			w.wrong("change %s was dropped, and nothing replaces it", l.ID)
		}
	}
	if given := idsOf(must(w.page().Decode())); !slices.Equal(given, kept) {
		w.wrong("the vault gives out %d changes and keeps %d", len(given), len(kept))
	}
}

func idsOf(ops []storage.Op) []storage.ID {
	ids := make([]storage.ID, 0, len(ops))
	for _, op := range ops {
		ids = append(ids, op.ID)
	}
	return ids
}

// holdsAll: a phone holds what the vault keeps, and beside it nothing but what
// the vault dropped; and shows what the vault's changes describe.
func (w *world) holdsAll(i int, own, want []storage.Op) {
	dropped := make(map[storage.ID]bool)
	for _, l := range w.links() {
		dropped[l.ID] = l.Dropped
	}
	kept := slices.DeleteFunc(slices.Clone(own), func(op storage.Op) bool { return dropped[op.ID] || poisoned(op) })
	if !storagetest.SameOps(kept, want) {
		w.wrong("phone %d holds %d changes that are not dropped, the vault %d", i, len(kept), len(want))
	}
	refused := slices.DeleteFunc(slices.Clone(own), func(op storage.Op) bool { return !poisoned(op) })
	if !storagetest.SameRecords(merge.Records(own), merge.Records(slices.Concat(want, refused))) {
		w.wrong("phone %d has other newest versions than the vault", i)
	}
}
