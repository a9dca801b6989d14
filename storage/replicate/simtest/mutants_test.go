package simtest_test

import (
	"bytes"
	"context"
	"io"
	"slices"
	"testing"

	"torchside/storage"
	"torchside/storage/replicate"
	"torchside/storage/replicate/simtest"
	"torchside/storage/vault"
	"torchside/storage/wire"
)

// enough is how many random schedules a fault may pass before the simulation
// proves nothing: as many as are played in each test run.
const enough = 2000

// mutants are faults a careless change could make.
var mutants = map[string]func() simtest.Hooks{
	"the vault confirms before it commits":          vaultFault(func(v vault.Vault) vault.Vault { return &lazyVault{Vault: v} }),
	"the vault compares numbers and not the chain":  vaultFault(func(v vault.Vault) vault.Vault { return unchained{v} }),
	"the vault does not check the hash":             newTrusting,
	"a store forgets a head":                        storeFault(func(s storage.Replica, _ func()) storage.Replica { return oneHead{s} }),
	"a store moves its checkpoint first":            storeFault(func(s storage.Replica, step func()) storage.Replica { return hasty{s, step} }),
	"last write wins":                               storeFault(func(s storage.Replica, _ func()) storage.Replica { return lastWins{s} }),
	"a store does not note that a change waits":     storeFault(func(s storage.Replica, _ func()) storage.Replica { return forgetful{s} }),
	"a store that starts anew offers nothing again": storeFault(func(s storage.Replica, _ func()) storage.Replica { return silent{s} }),
	"the outbox is cleared before the answer":       peerFault(func(p replicate.Peer, s storage.Replica) replicate.Peer { return clearsFirst{p, s} }),
	"the outbox is cleared before the log is read":  peerFault(func(p replicate.Peer, s storage.Replica) replicate.Peer { return clearsEarly{p, s} }),
}

func vaultFault(f func(vault.Vault) vault.Vault) func() simtest.Hooks {
	return func() simtest.Hooks { return simtest.Hooks{Vault: f} }
}

func storeFault(f func(storage.Replica, func()) storage.Replica) func() simtest.Hooks {
	return func() simtest.Hooks { return simtest.Hooks{Local: f} }
}

func peerFault(f func(replicate.Peer, storage.Replica) replicate.Peer) func() simtest.Hooks {
	return func() simtest.Hooks { return simtest.Hooks{Peer: f} }
}

func TestRandom_schedules_find_every_fault(t *testing.T) {
	for name, hooks := range mutants {
		t.Run(name, func(t *testing.T) {
			for seed := range uint64(enough) {
				if err := simtest.Run(simtest.Random(seed), hooks()); err != nil {
					t.Logf("found by schedule %d: %v", seed+1, err)
					return
				}
			}
			t.Errorf("not found by %d schedules", enough)
		})
	}
}

// lazyVault answers at once and stores with the next request.
type lazyVault struct {
	vault.Vault
	shop vault.ShopID
	ops  []storage.Op
}

func (v *lazyVault) Push(ctx context.Context, shop vault.ShopID, ops []storage.Op) ([]vault.Ack, error) {
	if len(v.ops) > 0 {
		if _, err := v.Vault.Push(ctx, v.shop, v.ops); err != nil {
			return nil, err
		}
	}
	v.shop, v.ops = shop, slices.Clone(ops)
	var acks []vault.Ack
	for _, op := range ops {
		acks = append(acks, vault.Ack{Op: op.ID, Status: vault.Stored})
	}
	return acks, nil
}

// trusting keeps attachments under the name it is told.
type trusting struct {
	vault.Vault
	kept map[storage.Hash][]byte
}

// newTrusting makes the hooks of one world; what is kept outlives a crash.
func newTrusting() simtest.Hooks {
	kept := make(map[storage.Hash][]byte)
	return simtest.Hooks{Vault: func(v vault.Vault) vault.Vault { return &trusting{v, kept} }}
}

func (v *trusting) WriteBlob(_ context.Context, _ vault.ShopID, h storage.Hash, _ int64, data []byte, _ bool) error {
	v.kept[h] = bytes.Clone(data)
	return nil
}

func (v *trusting) BlobOffset(_ context.Context, _ vault.ShopID, h storage.Hash) (int64, bool, error) {
	data, ok := v.kept[h]
	return int64(len(data)), ok, nil
}

func (v *trusting) OpenBlob(_ context.Context, _ vault.ShopID, h storage.Hash) (vault.Blob, int64, error) {
	data, ok := v.kept[h]
	if !ok {
		return nil, 0, vault.ErrNoBlob
	}
	return content{bytes.NewReader(data)}, int64(len(data)), nil
}

type content struct{ io.ReadSeeker }

func (content) Close() error { return nil }

// unchained takes every number it has given out for its own.
type unchained struct{ vault.Vault }

func (v unchained) ours(ctx context.Context, shop vault.ShopID, c vault.Checkpoint) vault.Checkpoint {
	if c.Seq == 0 || c.Store != v.ID() {
		return c
	}
	page, err := v.Vault.Pull(ctx, shop, vault.Checkpoint{}, vault.Limits{Ops: 1, Bytes: 1})
	for err == nil && page.Next.Seq < c.Seq && page.More {
		page, err = v.Vault.Pull(ctx, shop, page.Next, vault.Limits{Ops: 1, Bytes: 1})
	}
	if err != nil || page.Next.Seq != c.Seq {
		return c
	}
	return page.Next
}

func (v unchained) Verify(ctx context.Context, shop vault.ShopID, c vault.Checkpoint) error {
	return v.Vault.Verify(ctx, shop, v.ours(ctx, shop, c))
}

func (v unchained) Pull(ctx context.Context, shop vault.ShopID, c vault.Checkpoint, limit vault.Limits) (vault.Page, error) {
	return v.Vault.Pull(ctx, shop, v.ours(ctx, shop, c), limit)
}

// oneHead shows the winner and nothing else.
type oneHead struct{ storage.Replica }

func (s oneHead) List(ctx context.Context, q storage.Query) ([]storage.Record, error) {
	all, err := s.Replica.List(ctx, q)
	for i, r := range all {
		all[i] = storage.NewRecord(r.Heads[:1])
	}
	return all, err
}

// hasty moves its checkpoint in a transaction of its own.
type hasty struct {
	storage.Replica
	step func()
}

func (s hasty) Pulled(ctx context.Context, next storage.Checkpoint, ops ...storage.Op) (storage.Appended, error) {
	if _, err := s.Replica.Pulled(ctx, next); err != nil {
		return storage.Appended{}, err
	}
	s.step()
	return s.Replica.Pulled(ctx, next, ops...)
}

// lastWins takes only what is later than what it has.
type lastWins struct{ storage.Replica }

func (s lastWins) Pulled(ctx context.Context, next storage.Checkpoint, ops ...storage.Op) (storage.Appended, error) {
	var later []storage.Op
	for _, op := range ops {
		if rec, err := s.Get(ctx, op.Rec); err != nil || op.Compare(rec.Heads[0]) >= 0 {
			later = append(later, op)
		}
	}
	return s.Replica.Pulled(ctx, next, later...)
}

// forgetful stores without a note for the outbox.
type forgetful struct{ storage.Replica }

func (s forgetful) Commit(ctx context.Context, stamp storage.Stamp) ([]storage.Record, error) {
	records, err := s.Replica.Commit(ctx, stamp)
	for _, r := range records {
		err = s.Sent(ctx, r.HeadIDs()...)
	}
	return records, err
}

// silent forgets the checkpoint alone.
type silent struct{ storage.Replica }

func (s silent) Requeue(ctx context.Context) error {
	_, err := s.Pulled(ctx, storage.Checkpoint{})
	return err
}

// clearsFirst trusts that what is sent arrives.
type clearsFirst struct {
	replicate.Peer
	store storage.Replica
}

func (p clearsFirst) Sync(ctx context.Context, req wire.SyncRequest) (wire.SyncReply, error) {
	for _, op := range req.Ops {
		if err := p.store.Sent(ctx, op.ID); err != nil {
			return wire.SyncReply{}, err
		}
	}
	return p.Peer.Sync(ctx, req)
}

// clearsEarly trusts the vault's word before the checkpoint covers it.
type clearsEarly struct {
	replicate.Peer
	store storage.Replica
}

func (p clearsEarly) Sync(ctx context.Context, req wire.SyncRequest) (wire.SyncReply, error) {
	reply, err := p.Peer.Sync(ctx, req)
	for _, a := range reply.Acks {
		if a.Status == wire.Rejected {
			continue
		}
		if err := p.store.Sent(ctx, a.Op); err != nil {
			return reply, err
		}
	}
	return reply, err
}
