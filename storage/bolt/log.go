//go:build !js

package bolt

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/vault"
)

// Push implements vault.Vault.
func (v *Vault) Push(ctx context.Context, id vault.ShopID, ops []storage.Op) (acks []vault.Ack, err error) {
	err = v.update(ctx, func(tx *bbolt.Tx) error {
		p, err := v.pusher(tx, id)
		if err != nil {
			return err
		}
		acks = make([]vault.Ack, 0, len(ops))
		for _, op := range ops {
			ack, err := p.add(op)
			if err != nil {
				return err
			}
			acks = append(acks, ack)
		}
		return p.finish()
	})
	if err != nil {
		return nil, err
	}
	return acks, nil
}

// pusher adds ops to a shop within one transaction.
type pusher struct {
	store                  string
	shop                   *bbolt.Bucket
	log, ops, heads, named *bbolt.Bucket
	blobs, wanted, gone    *bbolt.Bucket
	line                   vault.Line
	counts                 counts
	last                   uint64 // number of the newest entry
	chain                  []byte // and its chain value
	stored                 int    // ops
}

func (v *Vault) pusher(tx *bbolt.Tx, id vault.ShopID) (*pusher, error) {
	b, err := shop(tx, id)
	if err != nil {
		return nil, err
	}
	p := &pusher{
		store: v.id, shop: b, log: b.Bucket(logBucket), ops: b.Bucket(opsBucket), heads: b.Bucket(headsBucket),
		named: b.Bucket(namedBucket), blobs: b.Bucket(blobsBucket), wanted: b.Bucket(wantedBucket), gone: b.Bucket(goneBucket),
	}
	if p.line, err = lineOf(b); err != nil {
		return nil, err
	}
	p.log.FillPercent = appendFill
	p.last = p.log.Sequence()
	if p.chain, err = v.chainAt(b, p.last); err != nil {
		return nil, err
	}
	p.chain = bytes.Clone(p.chain)
	p.counts, err = readCounts(b.Get(countsKey))
	return p, err
}

// appendFill fills the pages of the log: it only ever grows at its end.
const appendFill = 0.95

// add answers for one op and stores it if it is new.
func (p *pusher) add(op storage.Op) (vault.Ack, error) {
	if err := op.Check(); err != nil {
		return vault.Ack{Op: op.ID, Status: vault.Rejected, Reason: vault.ReasonInvalid, Detail: err.Error()}, nil
	}
	raw, err := op.MarshalJSON()
	if err != nil {
		return vault.Ack{}, err
	}
	id := idBytes(op.ID)
	if held := place(p.ops.Get(id)); held != nil {
		return p.held(op.ID, held, raw)
	}
	p.last++
	sum := vault.Chain(p.chain, op.ID, raw)
	p.chain = sum[:]
	p.stored++
	if err := p.put(op, id, newEntry(sum, id, raw)); err != nil {
		return vault.Ack{}, err
	}
	return vault.Ack{Op: op.ID, Status: vault.Stored, At: p.at(p.last, p.chain)}, nil
}

// held answers for an op whose id is there.
func (p *pusher) held(id storage.ID, at place, raw []byte) (vault.Ack, error) {
	if !at.sound() {
		return vault.Ack{}, fmt.Errorf("%w: the place of change %s", storage.ErrCorrupt, id)
	}
	e := entryAt(p.shop, at.number())
	if !e.sound() {
		return vault.Ack{}, fmt.Errorf("%w: entry %d of the log", storage.ErrCorrupt, at.number())
	}
	if !vault.Same(raw, e.sum()) {
		return vault.Ack{Op: id, Status: vault.Rejected, Reason: vault.ReasonMismatch, Detail: storage.ErrOpMismatch.Error()}, nil
	}
	if e.dropped() {
		return vault.Ack{Op: id, Status: vault.Dropped, At: p.at(at.number(), e.chain())}, nil
	}
	return vault.Ack{Op: id, Status: vault.Held, At: p.at(at.number(), e.chain())}, nil
}

func (p *pusher) at(n uint64, chain []byte) vault.Checkpoint {
	return vault.Checkpoint{Store: p.store, Seq: n, Chain: vault.Tagged(hex.EncodeToString(chain), p.line.Tag())}
}

// put stores one new op as the last of the log.
func (p *pusher) put(op storage.Op, id []byte, e entry) error {
	rec := idBytes(op.Rec)
	if err := p.log.Put(number(p.last), e); err != nil {
		return err
	}
	if err := p.ops.Put(id, newPlace(p.last, rec)); err != nil {
		return err
	}
	if err := p.moveHeads(op, rec, id); err != nil {
		return err
	}
	return p.want(op.Blobs)
}

// moveHeads is storage.NextHeads on ids.
func (p *pusher) moveHeads(op storage.Op, rec, id []byte) error {
	old := p.heads.Get(rec)
	if old == nil {
		p.counts.Records++
	}
	heads := splitIDs(old)
	for _, parent := range op.Parents {
		name := idBytes(parent)
		before := len(heads)
		heads = slices.DeleteFunc(heads, func(h []byte) bool { return bytes.Equal(h, name) })
		if len(heads) < before {
			continue
		}
		if held := place(p.ops.Get(name)); held.sound() && bytes.Equal(held.rec(), rec) {
			continue // it is no head any more
		}
		if err := p.named.Put(slices.Concat(rec, name), present); err != nil {
			return err
		}
	}
	own := slices.Concat(rec, id)
	if p.named.Get(own) != nil {
		return errorsOf(p.named.Delete(own), p.heads.Put(rec, bytes.Join(heads, nil)))
	}
	heads = append(heads, id)
	slices.SortFunc(heads, bytes.Compare)
	return p.heads.Put(rec, bytes.Join(heads, nil))
}

// errorsOf returns the first error.
func errorsOf(all ...error) error {
	for _, err := range all {
		if err != nil {
			return err
		}
	}
	return nil
}

// splitIDs takes a list of ids apart.
func splitIDs(list []byte) [][]byte {
	var ids [][]byte
	for ; len(list) >= idSize; list = list[idSize:] {
		ids = append(ids, list[:idSize:idSize])
	}
	return ids
}

// want notes attachments that are not held.
func (p *pusher) want(names []storage.Hash) error {
	for _, h := range names {
		key, err := hex.DecodeString(h)
		if err != nil {
			return err // Op.Check let it pass: never
		}
		if p.gone.Get(key) != nil {
			p.counts.Gone--
			if err := p.gone.Delete(key); err != nil {
				return err
			}
		}
		if p.blobs.Get(key) != nil || p.wanted.Get(key) != nil {
			continue
		}
		if own := p.shop.Bucket(storeBucket); own != nil && own.Bucket(looseBucket).Get(key) != nil {
			if err := p.settle(own.Bucket(looseBucket), key); err != nil {
				return err
			}
			continue
		}
		p.counts.Wanted++
		if err := p.wanted.Put(key, present); err != nil {
			return err
		}
	}
	return nil
}

// settle makes an attachment that was put before any op named it one that is held.
func (p *pusher) settle(loose *bbolt.Bucket, key []byte) error {
	size := bytes.Clone(loose.Get(key))
	if len(size) != 8 {
		return fmt.Errorf("%w: the size of attachment %x", storage.ErrCorrupt, key)
	}
	p.counts.Blobs++
	p.counts.BlobBytes += int64(binary.BigEndian.Uint64(size))
	return errorsOf(p.blobs.Put(key, size), loose.Delete(key))
}

// finish writes what changed for the shop as a whole.
func (p *pusher) finish() error {
	if p.stored == 0 {
		return errNothing
	}
	return errorsOf(p.log.SetSequence(p.last), p.shop.Put(countsKey, p.counts.bytes()))
}

// chainAt returns the chain value of a number, nil before the first.
func (v *Vault) chainAt(b *bbolt.Bucket, n uint64) ([]byte, error) {
	if n == 0 {
		return nil, nil
	}
	e := entryAt(b, n)
	if !e.sound() {
		return nil, damage(v.path, fmt.Sprintf("entry %d of a log is missing or not readable", n))
	}
	return e.chain(), nil
}

// placeOf returns the checkpoint behind a number.
func (v *Vault) placeOf(b *bbolt.Bucket, n uint64) (vault.Checkpoint, error) {
	chain, err := v.chainAt(b, n)
	line, bad := lineOf(b)
	return vault.Checkpoint{Store: v.id, Seq: n, Chain: vault.Tagged(hex.EncodeToString(chain), line.Tag())}, errorsOf(err, bad)
}

// verify returns a MismatchError unless c is a checkpoint of the log.
func (v *Vault) verify(b *bbolt.Bucket, c vault.Checkpoint) error {
	last := b.Bucket(logBucket).Sequence()
	mismatch := vault.MismatchError{Given: c, Store: v.id, Last: last}
	switch {
	case c == vault.Checkpoint{}:
		return nil
	case c.Store != v.id:
		mismatch.Why = vault.OtherStore
		return &mismatch
	case c.Seq > last:
		mismatch.Why = vault.Ahead
		return &mismatch
	}
	own, err := v.chainAt(b, c.Seq)
	line, bad := lineOf(b)
	given, tag := vault.SplitTag(c.Chain)
	switch {
	case err != nil || bad != nil:
		return errorsOf(err, bad)
	case given != hex.EncodeToString(own):
		mismatch.Why = vault.OtherChain
	case !line.Knows(tag, c.Seq):
		mismatch.Why = vault.BeforeTrim
	default:
		return nil
	}
	return &mismatch
}

// Verify implements vault.Vault.
func (v *Vault) Verify(ctx context.Context, id vault.ShopID, c vault.Checkpoint) error {
	return v.view(ctx, func(tx *bbolt.Tx) error {
		b, err := shop(tx, id)
		if err != nil {
			return err
		}
		return v.verify(b, c)
	})
}

// Pull implements vault.Vault.
func (v *Vault) Pull(ctx context.Context, id vault.ShopID, since vault.Checkpoint, limit vault.Limits) (page vault.Page, err error) {
	if err := limit.Check(); err != nil {
		return vault.Page{}, err
	}
	err = v.view(ctx, func(tx *bbolt.Tx) error {
		b, err := shop(tx, id)
		if err != nil {
			return err
		}
		if err := v.verify(b, since); err != nil {
			return err
		}
		page, err = v.page(b, since.Seq, limit)
		return err
	})
	return page, err
}

// page reads the log behind a number. Each entry must follow from the one
// before it: what was damaged on the disk is not passed on to devices.
func (v *Vault) page(b *bbolt.Bucket, since uint64, limit vault.Limits) (page vault.Page, err error) {
	last, n, size := b.Bucket(logBucket).Sequence(), since, 0
	chain, err := v.chainAt(b, n)
	if err != nil {
		return page, err
	}
	w := entriesFrom(b, n+1)
	for n < last && len(page.Ops) < limit.Ops {
		key, e := w.next()
		if !bytes.Equal(key, number(n+1)) || !e.follows(chain) {
			return vault.Page{}, damage(v.path, fmt.Sprintf("change %d of a shop is not what was stored", n+1))
		}
		if !e.dropped() {
			if size += len(e.raw()); size > limit.Bytes && len(page.Ops) > 0 {
				break
			}
			page.Ops = append(page.Ops, json.RawMessage(bytes.Clone(e.raw())))
		}
		chain = e.chain()
		n++
	}
	page.More = n < last
	line, err := lineOf(b)
	page.Next = vault.Checkpoint{Store: v.id, Seq: n, Chain: vault.Tagged(hex.EncodeToString(chain), line.Tag())}
	return page, err
}
