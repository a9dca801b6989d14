package simtest

import (
	"bytes"
	"context"
	"errors"
	"math/rand/v2"
	"time"

	"torchside/storage"
	"torchside/storage/answer"
	"torchside/storage/vault"
	"torchside/storage/wire"
)

// errCut is what a phone sees of a message that did not come back.
var errCut = errors.New("no answer")

// network is a phone's way to the vault.
type network struct {
	p    *phone
	life int
}

// mostOps is the size of a request from which the vault calls it too large, so
// that small schedules have several requests.
const mostOps = 3

// fate is what happens to one message.
type fate struct {
	dropped, doubled, lost bool // lost: the answer
	before, after          bool // other things happen before it arrives, before the answer does
}

// fate draws that of the next message, or takes it from the plan of a small world.
func (w *world) fate(r *rand.Rand) fate {
	if w.plan != nil {
		w.count.Messages++
		return fate{doubled: w.count.Messages == w.plan.Double, lost: w.count.Messages == w.plan.Lose}
	}
	f := fate{before: r.IntN(8) == 0, after: r.IntN(8) == 0}
	if r.IntN(100) >= w.flaky {
		return f
	}
	switch r.IntN(6) {
	case 0:
		f.dropped = true
	case 1:
		f.before, f.after = true, true
	case 2:
		f.doubled = true
	case 3, 4:
		f.lost = true
	}
	return f
}

// carry brings a message to the vault and the answer back, or something else.
// call may run several times, now or later.
func (n *network) carry(call func() error) error {
	w := n.p.w
	n.p.step(n.life, false)
	f := w.fate(n.p.r)
	if f.dropped {
		return errCut
	}
	if f.before {
		n.meanwhile()
	}
	err := w.serve(call)
	if f.doubled { // once more now, and when nobody thinks of it any more
		w.late = append(w.late, func() { _ = w.serve(call) })
		err = w.serve(call)
	}
	if f.after {
		n.meanwhile()
	}
	n.p.step(n.life, true)
	if f.lost {
		w.late = append(w.late, func() { _ = w.serve(call) })
		return errCut
	}
	return err
}

// meanwhile lets other events happen, which may be runs of other phones with
// delays of their own.
func (n *network) meanwhile() {
	if n.p.w.depth < 4 {
		n.p.w.step()
	}
	n.p.step(n.life, false)
}

// serve has the vault answer; one that crashed before is started again.
func (w *world) serve(call func() error) error {
	err := call()
	if errors.Is(err, &wire.Error{Code: wire.CodeUnavailable}) {
		w.start()
		err = call()
	}
	if said := (*wire.Error)(nil); errors.As(err, &said) && said.Gone != "" {
		w.askedGone++
	}
	return err
}

// shopNow answers from the vault as it runs now.
func (w *world) shopNow() answer.Shop {
	return answer.Shop{Vault: w.vault, ID: w.shop, Now: func() time.Time { return w.now }}
}

// Sync implements replicate.Peer.
func (n *network) Sync(ctx context.Context, req wire.SyncRequest) (reply wire.SyncReply, err error) {
	if len(req.Ops) > mostOps {
		return reply, wire.Errorf(wire.CodeTooLarge, "%d changes", len(req.Ops))
	}
	err = n.carry(func() error {
		reply, err = n.p.w.shopNow().Sync(ctx, req)
		n.p.w.confirmed(reply.Acks)
		return err
	})
	if err != nil {
		return wire.SyncReply{}, err
	}
	return reply, nil
}

// confirmed notes what the vault says it has.
func (w *world) confirmed(acks []wire.Ack) {
	for _, a := range acks {
		if a.Status != wire.Rejected {
			w.acked[a.Op] = true
		}
	}
}

// BlobState implements replicate.Peer.
func (n *network) BlobState(ctx context.Context, h storage.Hash) (state wire.BlobState, err error) {
	err = n.carry(func() error {
		state, err = n.p.w.shopNow().BlobState(ctx, h)
		return err
	})
	return state, err
}

// PutPiece implements replicate.Peer.
func (n *network) PutPiece(ctx context.Context, h storage.Hash, offset int64, data []byte, last bool) error {
	data = n.damaged(data)
	return n.carry(func() error { return n.p.w.shopNow().PutPiece(ctx, h, offset, data, last) })
}

// GetPiece implements replicate.Peer.
func (n *network) GetPiece(ctx context.Context, h storage.Hash, offset int64) (piece wire.Piece, err error) {
	err = n.carry(func() error {
		piece, err = n.p.w.shopNow().GetPiece(ctx, h, offset)
		return err
	})
	piece.Data = n.damaged(piece.Data)
	return piece, err
}

// damaged flips a bit now and then.
func (n *network) damaged(data []byte) []byte {
	if len(data) == 0 || n.p.r.IntN(200) >= n.p.w.flaky {
		return data
	}
	data = bytes.Clone(data)
	data[n.p.r.IntN(len(data))] ^= 1
	return data
}

// smallPages is a vault that gives few ops at a time, so that small schedules
// have several pages, and refuses poison.
type smallPages struct{ vault.Vault }

// pageOps is how many.
const pageOps = 4

// Pull implements vault.Log.
func (v smallPages) Pull(ctx context.Context, shop vault.ShopID, since vault.Checkpoint, limit vault.Limits) (vault.Page, error) {
	limit.Ops = min(limit.Ops, pageOps+max(0, limit.Ops-wire.MaxOps)) // the engine's own ops come on top
	return v.Vault.Pull(ctx, shop, since, limit)
}

// Push implements vault.Log.
func (v smallPages) Push(ctx context.Context, shop vault.ShopID, ops []storage.Op) ([]vault.Ack, error) {
	var good []storage.Op
	for _, op := range ops {
		if string(op.Body) != poison {
			good = append(good, op)
		}
	}
	acks, err := v.Vault.Push(ctx, shop, good)
	for _, op := range ops {
		if err == nil && string(op.Body) == poison {
			acks = append(acks, vault.Ack{Op: op.ID, Status: vault.Rejected, Reason: "poison"})
		}
	}
	return acks, err
}
