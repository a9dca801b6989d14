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

// trimBatch is how many ops one transaction drops: few enough that writers
// hardly wait, and that the next one finds room in the pages this one freed.
const trimBatch = 4000

// Trim implements vault.History. A vault that is damaged is not trimmed. The
// files of attachments let go of are deleted after the commit: those a crash
// leaves are found by Check, and stay while there is a vault that a restore put
// aside, which may name them.
func (v *Vault) Trim(ctx context.Context, id vault.ShopID) (done vault.Trimmed, err error) {
	v.trimming.Lock()
	defer v.trimming.Unlock()
	t := &trimmer{v: v, id: id}
	// Most of the times there is nothing to do, and nobody need wait while the log is read.
	if err := v.view(ctx, func(tx *bbolt.Tx) error { return t.plan(tx) }); err != nil {
		return done, err
	}
	for len(t.drop) > 0 {
		err := v.update(ctx, func(tx *bbolt.Tx) error {
			if err := t.plan(tx); err != nil {
				return err
			}
			return t.apply()
		})
		if err != nil {
			return done, err
		}
		done = t.count(done)
		if err := v.deleteFreed(ctx, id, t.free); err != nil {
			return done, err
		}
	}
	return done, nil
}

// trimmer is one Trim. The log is read once; each transaction adds what has come since.
type trimmer struct {
	v     *Vault
	id    vault.ShopID
	links []vault.Link
	chain []byte // of the last of them

	most  uint64        // of the limit, as of the plan
	order []int         // all that is to go
	b     *bbolt.Bucket // of the transaction
	drop  []int         // what it is to drop
	free  []storage.Hash
	batch vault.Trimmed
}

// plan says what is to go next.
func (t *trimmer) plan(tx *bbolt.Tx) (err error) {
	t.drop, t.free, t.batch = nil, nil, vault.Trimmed{}
	if t.b, err = shop(tx, t.id); err != nil {
		return err
	}
	limit, err := limitOf(t.b)
	most := limit.Most()
	if err != nil || most == 0 {
		return err
	}
	known := len(t.links)
	if err := t.read(); err != nil {
		return err
	}
	if known != len(t.links) || most != t.most {
		t.most = most
		t.order, _ = vault.Plan(t.links, int(min(most, uint64(len(t.links)))))
	}
	t.drop = slices.Sorted(slices.Values(t.order[:min(trimBatch, len(t.order))]))
	t.free = vault.Unnamed(t.links, t.drop)
	return nil
}

// read takes in the log behind what was read, each entry as it follows from the one before.
func (t *trimmer) read() error {
	w := entriesFrom(t.b, uint64(len(t.links)+1))
	for key, e := w.next(); key != nil; key, e = w.next() {
		if !e.follows(t.chain) {
			return damage(t.v.path, fmt.Sprintf("change %d of a shop is not what was stored", len(t.links)+1))
		}
		l, err := e.link()
		if err != nil {
			return err
		}
		t.links, t.chain = append(t.links, l), slices.Clone(e.chain())
	}
	return nil
}

// count takes in that a batch was dropped.
func (t *trimmer) count(done vault.Trimmed) vault.Trimmed {
	for _, i := range t.drop {
		t.links[i].Dropped, t.links[i].Blobs = true, nil
	}
	t.order = t.order[len(t.drop):]
	done.Ops += t.batch.Ops
	done.Bytes += t.batch.Bytes
	done.Blobs += t.batch.Blobs
	done.BlobBytes += t.batch.BlobBytes
	return done
}

// apply writes it.
func (t *trimmer) apply() error {
	if len(t.drop) == 0 {
		return errNothing
	}
	c, err := readCounts(t.b.Get(countsKey))
	if err != nil {
		return err
	}
	for _, i := range t.drop {
		if err := t.dropText(i); err != nil {
			return err
		}
	}
	for _, h := range t.free {
		if err := t.letGo(h, &c); err != nil {
			return err
		}
	}
	t.batch.Ops, t.batch.Blobs = len(t.drop), len(t.free)
	c.Dropped += int64(len(t.drop))
	c.Gone += int64(len(t.free))
	line, err := lineOf(t.b)
	if err != nil {
		return err
	}
	tag, err := vault.RandomID(rand.Reader)
	if err != nil {
		return err
	}
	line.Cut(uint64(slices.Max(t.drop)+1), tag)
	return errorsOf(putRow(t.b, lineKey, line), t.b.Put(countsKey, c.bytes()))
}

// dropText puts what stays of op i beside the log.
func (t *trimmer) dropText(i int) error {
	log, rest, key := t.b.Bucket(logBucket), t.b.Bucket(droppedBucket), number(uint64(i+1))
	e := entry(log.Get(key))
	if !e.sound() || e.dropped() {
		return fmt.Errorf("%w: entry %d of the log", storage.ErrCorrupt, i+1)
	}
	var parents [][]byte
	for _, p := range t.links[i].Parents {
		parents = append(parents, idBytes(p))
	}
	t.batch.Bytes += int64(len(e.raw()))
	rest.FillPercent = appendFill
	// In its place it would keep its page: the library joins pages only when rows are deleted.
	return errorsOf(rest.Put(key, newDropped(e, idBytes(t.links[i].Rec), parents)), log.Delete(key))
}

// letGo notes that an attachment is gone.
func (t *trimmer) letGo(h storage.Hash, c *counts) error {
	key, err := hex.DecodeString(h)
	if err != nil {
		return err
	}
	size, held, err := blobSize(t.b, key)
	if held {
		c.Blobs--
		c.BlobBytes -= size
		t.batch.BlobBytes += size
	} else {
		c.Wanted--
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
