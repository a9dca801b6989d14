// Package answer answers a device's calls from a vault: all a server does after
// it knows who asks and for which shop, without HTTP. The protocol is that of
// package wire. A [Shop] has the methods of replicate.Peer, so that a device
// can also be kept in step with a vault directly.
package answer

import (
	"context"
	"errors"
	"slices"
	"time"

	"torchside/storage"
	"torchside/storage/vault"
	"torchside/storage/wire"
)

// Shop answers for one shop of a vault. All errors it returns are a
// *wire.Error, or that of ctx.
type Shop struct {
	Vault vault.Vault
	ID    vault.ShopID
	Now   func() time.Time
}

// wantsRead is how many wanted attachments are looked through for those above
// WantAfter. Those beyond have to wait until some before them have come.
const wantsRead = 20_000

// Sync answers one exchange; req is one that wire.ReadSyncRequest would let
// through. Ops are taken only when the device's checkpoint is of this vault:
// otherwise it has to send everything again anyway.
func (s Shop) Sync(ctx context.Context, req wire.SyncRequest) (wire.SyncReply, error) {
	reply := wire.SyncReply{Store: s.Vault.ID(), Now: s.Now().UnixMilli()}
	err := s.Vault.Verify(ctx, s.ID, vault.Checkpoint(req.Since))
	tag := ""
	if err == nil {
		tag, err = s.push(ctx, req, &reply)
	}
	if err == nil {
		err = s.pull(ctx, req, &reply)
	}
	if _, now := vault.SplitTag(reply.Next.Chain); err == nil && tag != none && tag != now {
		return wire.SyncReply{}, wire.Errorf(wire.CodeUnavailable, "old versions were dropped meanwhile: try again in a moment")
	}
	if err == nil {
		err = s.want(ctx, req, &reply)
	}
	if other := (*vault.MismatchError)(nil); errors.As(err, &other) {
		return wire.SyncReply{Store: reply.Store, Now: reply.Now, Mismatch: true}, nil
	}
	if err != nil {
		return wire.SyncReply{}, wireError(err)
	}
	return reply, nil
}

// none is no tag of a log.
const none = "none"

// push stores the ops of a request. The tag is that of the log as it answered
// for them, and none if it did for none.
func (s Shop) push(ctx context.Context, req wire.SyncRequest, reply *wire.SyncReply) (tag string, err error) {
	tag = none
	if len(req.Ops) == 0 {
		return tag, nil
	}
	acks, err := s.Vault.Push(ctx, s.ID, req.Ops)
	for _, a := range acks {
		if a.At.Seq > 0 {
			_, tag = vault.SplitTag(a.At.Chain)
		}
		ack := wire.Ack{Op: a.Op, Status: wire.Status(a.Status), Reason: a.Reason}
		if a.Status == vault.Dropped {
			ack.Status, ack.Dropped = wire.Held, true
		}
		if a.Detail != "" {
			ack.Reason += ": " + a.Detail
		}
		reply.Acks = append(reply.Acks, ack)
	}
	return tag, err
}

// pull adds a page of ops, without those that came in the same request. Room is
// made for these, so that a device that was in step is in step again.
func (s Shop) pull(ctx context.Context, req wire.SyncRequest, reply *wire.SyncReply) error {
	limits := vault.Limits{Ops: wire.MaxOps + len(req.Ops), Bytes: wire.MaxBytes}
	if len(req.Ops) > 0 {
		limits.Bytes += wire.MaxBytes
	}
	page, err := s.Vault.Pull(ctx, s.ID, vault.Checkpoint(req.Since), limits)
	if err != nil {
		return err
	}
	reply.Next, reply.More = storage.Checkpoint(page.Next), page.More
	own := make(map[storage.ID]bool, len(reply.Acks))
	for _, a := range reply.Acks {
		own[a.Op] = a.Status != wire.Rejected
	}
	for _, text := range page.Ops {
		if !own[wire.OpID(text)] {
			reply.Ops = append(reply.Ops, text)
		}
	}
	return nil
}

// want adds the names of attachments the vault lacks.
func (s Shop) want(ctx context.Context, req wire.SyncRequest, reply *wire.SyncReply) error {
	names, err := s.Vault.Want(ctx, s.ID, wantsRead)
	if err != nil {
		return err
	}
	first, found := slices.BinarySearch(names, req.WantAfter)
	if found {
		first++
	}
	names = names[first:]
	reply.WantMore = len(names) > wire.MaxWants
	reply.Want = names[:min(len(names), wire.MaxWants)]
	return nil
}
