//go:build !js

package bolt

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"slices"
	"time"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/vault"
)

// droppedHead is the length of what stands before the parents in a dropped entry.
const droppedHead = entryHead + 2*sha256.Size + idSize

// newDropped is what stays of an entry.
func newDropped(e entry, rec []byte, parents [][]byte) entry {
	sum := e.sum()
	d := make(entry, 0, droppedHead+len(parents)*idSize)
	d = append(d, droppedForm)
	d = append(d, e[1:entryHead]...)
	d = append(d, sum[:]...)
	d = append(d, make([]byte, sha256.Size)...)
	d = append(d, rec...)
	d = append(d, slices.Concat(parents...)...)
	own := d.ownSum()
	copy(d[entryHead+sha256.Size:], own[:])
	return d
}

// sum is the SHA-256 of the op's JSON, of an entry that is sound.
func (e entry) sum() [sha256.Size]byte {
	if e.dropped() {
		return [sha256.Size]byte(e[entryHead:])
	}
	return sha256.Sum256(e.raw())
}

// ownSum is that of all of a dropped entry but its own sum: the chain does not vouch for its links.
func (e entry) ownSum() [sha256.Size]byte {
	return sha256.Sum256(slices.Concat(e[:entryHead+sha256.Size], e[entryHead+2*sha256.Size:]))
}

// linked tells whether the links of a dropped entry are what they were.
func (e entry) linked() bool { return [sha256.Size]byte(e[entryHead+sha256.Size:]) == e.ownSum() }

func (e entry) rec() []byte       { return e[droppedHead-idSize : droppedHead] } // of a dropped one
func (e entry) parents() [][]byte { return splitIDs(e[droppedHead:]) }           // of a dropped one

// link reads what of an entry its place in history is made of.
func (e entry) link() (l vault.Link, err error) {
	if !e.dropped() {
		var op storage.Op
		err := op.UnmarshalJSON(e.raw())
		return vault.Link{ID: op.ID, Rec: op.Rec, Parents: op.Parents, Blobs: op.Blobs}, err
	}
	l = vault.Link{ID: idText(e.id()), Rec: idText(e.rec()), Dropped: true}
	for _, p := range e.parents() {
		l.Parents = append(l.Parents, idText(p))
	}
	return l, nil
}

// limitOf reads the owner's limit of a shop.
func limitOf(b *bbolt.Bucket) (l vault.Limit, err error) { return l, rowIfAny(b, limitKey, &l) }

// lineOf reads which checkpoints the log of a shop knows.
func lineOf(b *bbolt.Bucket) (l vault.Line, err error) { return l, rowIfAny(b, lineKey, &l) }

// rowIfAny is getRow, and nothing where there is none.
func rowIfAny(b *bbolt.Bucket, key []byte, row any) error {
	if err := getRow(b, key, row); !errors.Is(err, errNoRow) {
		return err
	}
	return nil
}

// SetKeep implements vault.History.
func (v *Vault) SetKeep(ctx context.Context, id vault.ShopID, days int, now time.Time) error {
	return v.update(ctx, func(tx *bbolt.Tx) error {
		b, err := shop(tx, id)
		if err != nil {
			return err
		}
		limit, err := vault.NewLimit(days, now, b.Bucket(logBucket).Sequence())
		if err != nil {
			return err
		}
		return putRow(b, limitKey, limit)
	})
}

// MarkDay implements vault.History.
func (v *Vault) MarkDay(ctx context.Context, now time.Time) error {
	return v.update(ctx, func(tx *bbolt.Tx) error {
		shops, err := shopList(tx)
		done := errNothing
		for _, s := range shops {
			b := tx.Bucket(shopsBucket).Bucket([]byte(s.ID))
			limit, bad := limitOf(b)
			if bad != nil {
				return bad
			}
			if !limit.Mark(now, b.Bucket(logBucket).Sequence()) {
				continue
			}
			if err := putRow(b, limitKey, limit); err != nil {
				return err
			}
			done = nil
		}
		return errorsOf(err, done)
	})
}

// Trim implements vault.History. A vault that is damaged is not trimmed. The
// files of attachments let go of are deleted after the commit: those a crash
// leaves are found by Check, and stay while there is a vault that a restore put
// aside, which may name them.
func (v *Vault) Trim(ctx context.Context, id vault.ShopID) (done vault.Trimmed, err error) {
	v.trimming.Lock()
	defer v.trimming.Unlock()
	due := false
	err = v.view(ctx, func(tx *bbolt.Tx) error { // most of the times there is nothing to do, and writers need not wait for that
		t, err := v.trimmer(tx, id)
		due = err == nil && len(t.drop) > 0
		return err
	})
	if err != nil || !due {
		return done, err
	}
	var free []storage.Hash
	err = v.update(ctx, func(tx *bbolt.Tx) error {
		t, err := v.trimmer(tx, id)
		if err != nil {
			return err
		}
		free = t.free
		err = t.apply()
		done = t.done
		return err
	})
	if err != nil {
		return vault.Trimmed{}, err
	}
	return done, v.deleteFreed(ctx, id, free)
}

// trimmer is one Trim in its transaction.
type trimmer struct {
	b     *bbolt.Bucket
	links []vault.Link
	drop  []int
	free  []storage.Hash
	count counts
	done  vault.Trimmed
}

// trimmer plans what is to go.
func (v *Vault) trimmer(tx *bbolt.Tx, id vault.ShopID) (*trimmer, error) {
	b, err := shop(tx, id)
	if err != nil {
		return nil, err
	}
	t := &trimmer{b: b}
	limit, err := limitOf(b)
	most := limit.Most()
	if err != nil || most == 0 {
		return t, err
	}
	if t.links, err = v.links(b); err != nil {
		return nil, err
	}
	t.drop, t.free = vault.Plan(t.links, int(min(most, uint64(len(t.links)))))
	t.count, err = readCounts(b.Get(countsKey))
	return t, err
}

// links reads the whole log, each entry as it follows from the one before.
func (v *Vault) links(b *bbolt.Bucket) (links []vault.Link, err error) {
	var chain []byte
	err = b.Bucket(logBucket).ForEach(func(_, value []byte) error {
		e := entry(value)
		if !e.follows(chain) {
			return damage(v.path, fmt.Sprintf("change %d of a shop is not what was stored", len(links)+1))
		}
		l, err := e.link()
		links, chain = append(links, l), e.chain()
		return err
	})
	return links, err
}

// apply writes it.
func (t *trimmer) apply() error {
	if len(t.drop) == 0 {
		return errNothing
	}
	for _, i := range t.drop {
		if err := t.dropText(i); err != nil {
			return err
		}
	}
	for _, h := range t.free {
		if err := t.letGo(h); err != nil {
			return err
		}
	}
	t.done.Ops, t.done.Blobs = len(t.drop), len(t.free)
	t.count.Dropped += int64(len(t.drop))
	t.count.Gone += int64(len(t.free))
	line, err := lineOf(t.b)
	if err != nil {
		return err
	}
	tag, err := vault.RandomID(rand.Reader)
	if err != nil {
		return err
	}
	line.Cut(uint64(slices.Max(t.drop)+1), tag)
	return errorsOf(putRow(t.b, lineKey, line), t.b.Put(countsKey, t.count.bytes()))
}

// dropText puts what stays of op i in its place.
func (t *trimmer) dropText(i int) error {
	log, key := t.b.Bucket(logBucket), number(uint64(i+1))
	e := entry(log.Get(key))
	if !e.sound() || e.dropped() {
		return fmt.Errorf("%w: entry %d of the log", storage.ErrCorrupt, i+1)
	}
	var parents [][]byte
	for _, p := range t.links[i].Parents {
		parents = append(parents, idBytes(p))
	}
	t.done.Bytes += int64(len(e.raw()))
	return log.Put(key, newDropped(e, idBytes(t.links[i].Rec), parents))
}

// letGo notes that an attachment is gone.
func (t *trimmer) letGo(h storage.Hash) error {
	key, err := hex.DecodeString(h)
	if err != nil {
		return err
	}
	size, held, err := blobSize(t.b, key)
	if held {
		t.count.Blobs--
		t.count.BlobBytes -= size
		t.done.BlobBytes += size
	} else {
		t.count.Wanted--
	}
	return errorsOf(err, t.b.Bucket(blobsBucket).Delete(key), t.b.Bucket(wantedBucket).Delete(key), t.b.Bucket(goneBucket).Put(key, present))
}

// deleteFreed deletes the files of what was let go of, unless it is wanted again by now.
func (v *Vault) deleteFreed(ctx context.Context, id vault.ShopID, free []storage.Hash) error {
	aside, err := asides(v.path)
	if err != nil || len(aside) > 0 {
		return err
	}
	for _, h := range free {
		if err := v.deleteFile(ctx, id, h); err != nil {
			return err
		}
	}
	return nil
}

func (v *Vault) deleteFile(ctx context.Context, id vault.ShopID, h storage.Hash) error {
	key, err := hex.DecodeString(h)
	if err != nil {
		return err
	}
	lock := v.piece(h)
	lock.Lock()
	defer lock.Unlock()
	gone := false
	err = v.view(ctx, func(tx *bbolt.Tx) error {
		b, err := shop(tx, id)
		if err != nil {
			return err
		}
		own := b.Bucket(storeBucket)
		loose := own != nil && own.Bucket(looseBucket) != nil && own.Bucket(looseBucket).Get(key) != nil
		gone = b.Bucket(goneBucket).Get(key) != nil && !loose
		return nil
	})
	if err != nil || !gone {
		return err
	}
	for _, path := range []string{blobPath(v.folder, id, h), partialPath(v.folder, id, h)} {
		_ = os.Remove(path) // what stays takes up room alone: Check tells of it, and Repair deletes it
	}
	return nil
}

// dropped takes in what is left of an op.
func (k *shopCheck) dropped(e entry) {
	id, rec := idKey(e.id()), idKey(e.rec())
	k.link(id, rec, e.parents())
	k.gone = append(k.gone, pairKey(slices.Concat(rec[:], id[:])))
	k.past = k.last
	k.counts.Dropped++
}

// droppedOnes looks whether all that was dropped was replaced, and what is noted of it.
func (k *shopCheck) droppedOnes() {
	for _, pair := range k.gone {
		if !k.named[pair] {
			k.wrong("change %s was dropped, and nothing replaces it", idText(pair[idSize:]))
		}
	}
	if _, err := limitOf(k.b); err != nil {
		k.wrong("its limit of history: %v", err)
	}
	if line, err := lineOf(k.b); err != nil || line.Past != k.past {
		k.wrong("changes were dropped up to %d, and up to %d is noted (%v)", k.past, line.Past, err)
	}
	gone := k.b.Bucket(goneBucket)
	if gone == nil {
		return
	}
	k.counts.Gone = int64(rowCount(gone))
	_ = gone.ForEach(func(key, _ []byte) error { // which returns only our errors
		if len(key) != sha256.Size || k.blobs[hashKey(key)] {
			k.wrong("attachment %x is noted as gone, and a change names it", key)
		}
		return nil
	})
}
