//go:build !js

package bolt

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"slices"

	"go.etcd.io/bbolt"

	"torchside/storage"
	"torchside/storage/vault"
)

type (
	idKey   = [idSize]byte
	pairKey = [2 * idSize]byte // record and op
	hashKey = [32]byte
)

// shopCheck builds anew, from the log alone, what the vault keeps beside it.
type shopCheck struct {
	*checker
	id     vault.ShopID
	name   string
	b      *bbolt.Bucket
	last   uint64
	chain  []byte
	recs   map[idKey]idKey // op to record
	gone   []pairKey       // dropped ones
	past   uint64          // number of the last of them
	named  map[pairKey]bool
	blobs  map[hashKey]bool
	counts counts
}

// shop looks at one shop. The error is that of the context alone.
func (c *checker) shop(s vault.Shop, f *files) (vault.ShopStats, error) {
	k := &shopCheck{
		checker: c, id: s.ID, name: s.Name, b: c.tx.Bucket(shopsBucket).Bucket([]byte(s.ID)),
		recs: make(map[idKey]idKey), named: make(map[pairKey]bool), blobs: make(map[hashKey]bool),
	}
	for _, name := range shopBuckets {
		newer := slices.ContainsFunc(historyBuckets, func(h []byte) bool { return bytes.Equal(h, name) })
		if k.b.Bucket(name) == nil && !(newer && c.report.Schema == schemaNoHistory) {
			k.wrong("its part %q is missing", name)
			return vault.ShopStats{Shop: s}, nil
		}
	}
	if err := k.log(); err != nil {
		return vault.ShopStats{Shop: s}, err
	}
	k.heads()
	k.unknownParents()
	k.droppedOnes()
	if err := k.attachments(f); err != nil {
		return vault.ShopStats{Shop: s}, err
	}
	if own, err := readCounts(k.b.Get(countsKey)); err != nil || own != k.counts {
		k.wrong("its counts are %+v and should be %+v", own, k.counts)
	}
	limit, _ := limitOf(k.b) // what is wrong with them droppedOnes has told
	line, _ := lineOf(k.b)
	last := vault.Checkpoint{Store: c.report.Store, Seq: k.last, Chain: vault.Tagged(hex.EncodeToString(k.chain), line.Tag())}
	return vault.ShopStats{
		Shop: s, Records: int(k.counts.Records), Last: last,
		Blobs: int(k.counts.Blobs), BlobBytes: k.counts.BlobBytes, Wanted: int(k.counts.Wanted),
		Keep: limit.Days, Dropped: int(k.counts.Dropped), Gone: int(k.counts.Gone),
	}, nil
}

func (k *shopCheck) wrong(format string, args ...any) {
	k.damaged(fmt.Sprintf("shop %q: ", k.name)+fmt.Sprintf(format, args...), doRestore)
}

// log reads every op in order.
func (k *shopCheck) log() error {
	w := entriesFrom(k.b, 0)
	for key, e := w.next(); key != nil; key, e = w.next() {
		if k.last++; !bytes.Equal(key, number(k.last)) {
			k.wrong("change %d is missing", k.last)
			return nil // all that follows is off too
		}
		if !e.follows(k.chain) {
			k.wrong("change %d is not what was stored", k.last)
		}
		if e.sound() {
			if e.dropped() {
				k.dropped(e)
			} else {
				k.op(e)
			}
			k.chain = e.chain()
		}
		if err := k.ctx.Err(); err != nil {
			return err
		}
	}
	if n := k.b.Bucket(logBucket).Sequence(); n != k.last {
		k.wrong("its log ends at %d and should end at %d", k.last, n)
	}
	if n := rowCount(k.b.Bucket(opsBucket)); n != len(k.recs) {
		k.wrong("%d changes have a place, %d are there", n, len(k.recs))
	}
	return nil
}

// rowCount counts the keys of a bucket.
func rowCount(b *bbolt.Bucket) int {
	n := 0
	_ = b.ForEach(func(_, _ []byte) error { n++; return nil }) // which returns only our errors
	return n
}

// op takes in one op.
func (k *shopCheck) op(e entry) {
	var op storage.Op
	if err := op.UnmarshalJSON(e.raw()); err != nil {
		k.wrong("change %d cannot be read: %v", k.last, err)
		return
	}
	if err := op.Check(); err != nil {
		k.wrong("change %d: %v", k.last, err)
		return
	}
	raw, err := op.MarshalJSON()
	if err != nil || !bytes.Equal(raw, e.raw()) || !bytes.Equal(idBytes(op.ID), e.id()) {
		k.wrong("change %d is not in its one form", k.last)
	}
	var parents [][]byte
	for _, p := range op.Parents {
		parents = append(parents, idBytes(p))
	}
	k.link(idKey(idBytes(op.ID)), idKey(idBytes(op.Rec)), parents)
	for _, h := range op.Blobs {
		key, _ := hex.DecodeString(h) // by Op.Check
		k.blobs[hashKey(key)] = true
	}
}

// link takes in where an op stands.
func (k *shopCheck) link(id, rec idKey, parents [][]byte) {
	if !bytes.Equal(k.b.Bucket(opsBucket).Get(id[:]), newPlace(k.last, rec[:])) {
		k.wrong("change %d (%s) has another place, or none", k.last, idText(id[:]))
	}
	k.recs[id] = rec
	for _, p := range parents {
		k.named[pairKey(slices.Concat(rec[:], p))] = true
	}
}

// heads compares those kept with the ops nobody names.
func (k *shopCheck) heads() {
	want := make(map[idKey][][]byte)
	for id, rec := range k.recs {
		if !k.named[pairKey(slices.Concat(rec[:], id[:]))] {
			want[rec] = append(want[rec], id[:])
		} else if want[rec] == nil {
			want[rec] = nil
		}
	}
	k.counts.Records = int64(len(want))
	for rec, ids := range want {
		slices.SortFunc(ids, bytes.Compare)
		own := k.b.Bucket(headsBucket).Get(rec[:])
		if own == nil || !bytes.Equal(own, bytes.Join(ids, nil)) {
			k.wrong("record %s has other current changes than its %d", idText(rec[:]), len(ids))
		}
	}
	if n := rowCount(k.b.Bucket(headsBucket)); n != len(want) {
		k.wrong("%d records are kept, %d are there", n, len(want))
	}
}

// unknownParents compares what is noted of parents that are not held.
func (k *shopCheck) unknownParents() {
	want := 0
	for pair := range k.named {
		rec, held := k.recs[idKey(pair[idSize:])]
		if held && rec == idKey(pair[:idSize]) {
			continue
		}
		if want++; k.b.Bucket(namedBucket).Get(pair[:]) == nil {
			k.wrong("it is not noted that change %s is replaced", idText(pair[idSize:]))
		}
	}
	if n := rowCount(k.b.Bucket(namedBucket)); n != want {
		k.wrong("%d changes to come are noted as replaced, it should be %d", n, want)
	}
}
