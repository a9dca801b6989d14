package memvault

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"

	"torchside/storage"
	"torchside/storage/vault"
)

// Push implements vault.Vault.
func (v *Vault) Push(ctx context.Context, shop vault.ShopID, ops []storage.Op) (acks []vault.Ack, err error) {
	err = v.write(ctx, func(s *state) (func(), error) {
		l, err := s.log(shop)
		if err != nil {
			return nil, err
		}
		b := &batch{log: l, store: s.id, fresh: make(map[storage.ID]int)}
		for _, op := range ops {
			ack, err := b.add(op)
			if err != nil {
				return nil, err
			}
			acks = append(acks, ack)
		}
		if len(b.ops) == 0 {
			return nil, nil
		}
		return b.keep, nil
	})
	if err != nil {
		return nil, err
	}
	return acks, nil
}

// batch is what one Push adds to a log.
type batch struct {
	log     *log
	store   string
	ops     []storage.Op
	entries []entry
	fresh   map[storage.ID]int // op to number
}

// add answers for one op and takes it in if it is new.
func (b *batch) add(op storage.Op) (vault.Ack, error) {
	if err := op.Check(); err != nil {
		return vault.Ack{Op: op.ID, Status: vault.Rejected, Reason: vault.ReasonInvalid, Detail: err.Error()}, nil
	}
	raw, err := op.MarshalJSON()
	if err != nil {
		return vault.Ack{}, err
	}
	seq, old := b.log.seqs[op.ID]
	if !old {
		seq, old = b.fresh[op.ID]
	}
	switch {
	case old && !vault.Same(raw, b.entry(seq).sum):
		return vault.Ack{Op: op.ID, Status: vault.Rejected, Reason: vault.ReasonMismatch, Detail: storage.ErrOpMismatch.Error()}, nil
	case old && b.entry(seq).raw == nil:
		return vault.Ack{Op: op.ID, Status: vault.Dropped, At: b.place(seq)}, nil
	case old:
		return vault.Ack{Op: op.ID, Status: vault.Held, At: b.place(seq)}, nil
	}
	var last []byte
	seq = len(b.log.entries) + len(b.entries) + 1
	if seq > 1 {
		last, _ = hex.DecodeString(b.entry(seq - 1).chain) // made by EncodeToString
	}
	sum := sha256.Sum256(raw)
	link := vault.ChainSum(last, op.ID, sum)
	b.ops = append(b.ops, op.Clone())
	b.entries = append(b.entries, entry{linkOf(op), raw, sum, hex.EncodeToString(link[:])})
	b.fresh[op.ID] = seq
	return vault.Ack{Op: op.ID, Status: vault.Stored, At: b.place(seq)}, nil
}

// entry returns the one of a number, kept or still to be kept.
func (b *batch) entry(seq int) entry {
	if seq <= len(b.log.entries) {
		return b.log.entries[seq-1]
	}
	return b.entries[seq-1-len(b.log.entries)]
}

func (b *batch) place(seq int) vault.Checkpoint {
	return vault.Checkpoint{Store: b.store, Seq: uint64(seq), Chain: vault.Tagged(b.entry(seq).chain, b.log.line.Tag())}
}

// keep puts the batch into the log.
func (b *batch) keep() {
	l := b.log
	l.entries = append(l.entries, b.entries...)
	for _, op := range b.ops {
		l.seqs[op.ID] = b.fresh[op.ID]
		l.records[op.Rec] = true
		for _, h := range op.Blobs {
			if _, held := l.blobs[h]; !held {
				l.wanted[h] = true
				delete(l.gone, h)
			}
		}
	}
}

// place is the checkpoint behind the op of a number.
func (l *log) place(store string, seq int) vault.Checkpoint {
	return vault.Checkpoint{Store: store, Seq: uint64(seq), Chain: vault.Tagged(l.chain(seq), l.line.Tag())}
}

// chain is the chain value of a number, "" before the first.
func (l *log) chain(seq int) string {
	if seq == 0 {
		return ""
	}
	return l.entries[seq-1].chain
}

// verify returns a MismatchError unless c is a checkpoint of the log.
func (l *log) verify(store string, c vault.Checkpoint) error {
	mismatch := vault.MismatchError{Given: c, Store: store, Last: uint64(len(l.entries))}
	given, tag := vault.SplitTag(c.Chain)
	switch {
	case c == vault.Checkpoint{}:
		return nil
	case c.Store != store:
		mismatch.Why = vault.OtherStore
	case c.Seq > uint64(len(l.entries)):
		mismatch.Why = vault.Ahead
	case l.chain(int(c.Seq)) != given:
		mismatch.Why = vault.OtherChain
	case !l.line.Knows(tag, c.Seq):
		mismatch.Why = vault.BeforeTrim
	default:
		return nil
	}
	return &mismatch
}

// Pull implements vault.Vault.
func (v *Vault) Pull(ctx context.Context, shop vault.ShopID, since vault.Checkpoint, limit vault.Limits) (page vault.Page, err error) {
	if err := limit.Check(); err != nil {
		return vault.Page{}, err
	}
	err = v.read(ctx, func(s *state) error {
		l, err := s.log(shop)
		if err != nil {
			return err
		}
		if err := l.verify(s.id, since); err != nil {
			return err
		}
		size, seq := 0, int(since.Seq)
		for ; seq < len(l.entries) && len(page.Ops) < limit.Ops; seq++ {
			raw := l.entries[seq].raw
			if raw == nil {
				continue
			}
			if size += len(raw); size > limit.Bytes && len(page.Ops) > 0 {
				break
			}
			page.Ops = append(page.Ops, json.RawMessage(bytes.Clone(raw)))
		}
		page.Next, page.More = l.place(s.id, seq), seq < len(l.entries)
		return nil
	})
	return page, err
}

// Verify implements vault.Vault.
func (v *Vault) Verify(ctx context.Context, shop vault.ShopID, c vault.Checkpoint) error {
	return v.read(ctx, func(s *state) error {
		l, err := s.log(shop)
		if err != nil {
			return err
		}
		return l.verify(s.id, c)
	})
}
