package replicate

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"torchside/storage"
	"torchside/storage/wire"
)

// Engine keeps one store in step with a vault. It is for one goroutine.
type Engine struct {
	local storage.Replica
	peer  Peer
	opts  Options
	got   partial // of an attachment that was not finished

	touched map[storage.ID]bool // records to settle; kept over runs, as one may end before it comes to them
}

// Options are what the app decides.
type Options struct {
	Dev      storage.ID        // the device, as the vault is told
	Fields   func(string) bool // kinds whose records Fields of package merge settles; nil for none
	Progress func(Progress)    // told after each step; nil for nobody
	Now      func() time.Time  // the device's clock
}

// Progress is how far a run has come.
type Progress struct {
	Sent, Got         int // changes
	Waiting           int // changes of those that waited at the start still to be sent
	Photos, AllPhotos int // attachments done, and how many there are to do in this run
}

// Outcome is what a run did, also one that failed.
type Outcome struct {
	Progress
	Counted  bool          // Waiting, Refused and Reasons were read from the store; else nothing is known of them
	Refused  int           // changes the vault did not take, in this run or an earlier one
	Reasons  []string      // why, each once, in the order of the changes; at most mostReasons
	Merged   int           // records settled by their fields
	Left     int           // attachments left for a connection that costs nothing
	Forgot   int           // changes the vault has as dropped: what here looked newest and was replaced is gone
	Gone     int           // attachments the vault let go of with the old versions that named them
	Later    int           // attachments left for the next run: not there yet, or the line changes their bytes
	Damaged  int           // attachments whose content is not what their name says, here or there
	Replaced bool          // the vault was another, or an older state of it
	Ahead    time.Duration // of the device's clock before the vault's; negative if behind
}

// New returns an engine. Options.Now must be set.
func New(local storage.Replica, peer Peer, opts Options) *Engine {
	return &Engine{local: local, peer: peer, opts: opts, touched: make(map[storage.ID]bool)}
}

// Run brings both sides in step: first the changes, then, with photos, the
// attachments. Its errors are those of the Peer and of the Store, wrapped; what
// was done before one stays done. After storage.ErrFull all that waits was
// still sent, attachments too: only taking over what others made needs room.
func (e *Engine) Run(ctx context.Context, photos bool) (Outcome, error) {
	r := &run{Engine: e, ctx: ctx, sent: make(map[storage.ID]bool), most: wire.MaxOps}
	use, err := e.local.Usage(ctx)
	if err != nil {
		return r.Outcome, err
	}
	r.Waiting = use.Waiting
	if err := r.standing(); err != nil { // known also if the vault is not reached
		return r.Outcome, err
	}
	r.Counted = true
	err = r.changes()
	if told := r.standing(); err == nil {
		err = told
	}
	if err != nil {
		return r.Outcome, fmt.Errorf("exchange changes: %w", err)
	}
	if err := r.photos(photos); err != nil {
		return r.Outcome, fmt.Errorf("exchange photos: %w", err)
	}
	if r.full != nil {
		return r.Outcome, fmt.Errorf("take over what the vault has: %w", r.full)
	}
	return r.Outcome, nil
}

// run is one Run.
type run struct {
	*Engine
	Outcome
	ctx context.Context

	noRoom                     // for a device that is full
	sent   map[storage.ID]bool // confirmed by the vault, and still waiting
	most   int                 // ops in one request
	behind bool                // the vault has more than the last answer gave
	resets int                 // how often the vault was found to be another
	wants  []storage.Hash      // attachments the vault lacks, of the last answer
	more   bool                // and there are others
}

// maxResets is how often in one run the vault may turn out to be another: once
// when it was, once more if that happens again in between. Beyond that two
// vaults answer in turn.
const maxResets = 2

// changes exchanges ops until neither side has any for the other, and settles
// what can be settled.
func (r *run) changes() error {
	for {
		again, err := r.exchange()
		if err != nil {
			return err
		}
		if again {
			continue
		}
		if r.full != nil {
			return nil
		}
		if merged, err := r.settle(); err != nil || merged == 0 {
			return err
		}
	}
}

// exchange is one round trip. It reports whether there is another to do.
func (r *run) exchange() (again bool, err error) {
	since, err := r.place()
	if errors.Is(err, storage.ErrCorrupt) {
		return true, r.reset() // what was known of the vault can be found out again
	}
	if err != nil {
		return false, err
	}
	ops, left, err := r.batch()
	if err != nil {
		return false, err
	}
	reply, err := r.peer.Sync(r.ctx, wire.SyncRequest{Dev: r.opts.Dev, Since: since, Ops: ops})
	if tooLarge(err) && len(ops) > 0 {
		return true, r.shrink(ops, err)
	}
	if err != nil {
		return false, err
	}
	r.Ahead = r.opts.Now().Sub(time.UnixMilli(reply.Now))
	if reply.Mismatch {
		return true, r.reset()
	}
	if err := r.take(ops, since, reply); err != nil {
		return false, err
	}
	r.tell()
	if r.full != nil {
		r.pass(ops)
		return left > 0, nil
	}
	return left > 0 || reply.More, nil
}

// take works through an answer. The checkpoint moves first. Only if it has then
// reached the end of the log, as it was when these ops were stored, do they wait
// no more; in a later exchange the log may be another, without them.
func (r *run) take(ops []storage.Op, since storage.Checkpoint, reply wire.SyncReply) error {
	r.wants, r.more, r.behind = reply.Want, reply.WantMore, reply.More
	confirmed, dropped, err := r.acknowledged(ops, reply.Acks)
	if err != nil {
		return err
	}
	if err := r.pulled(since, reply); err != nil {
		return err
	}
	if len(confirmed) == 0 || reply.More || r.full != nil {
		return nil
	}
	for _, op := range confirmed {
		delete(r.sent, op)
	}
	// Before it is noted that nothing waits: else a crash between would leave here as the newest what was replaced.
	if len(dropped) > 0 {
		if err := r.room(r.local.Forget(r.ctx, dropped...)); err != nil || r.full != nil {
			return err
		}
		r.Forgot += len(dropped)
	}
	return r.room(r.local.Sent(r.ctx, confirmed...))
}

// acknowledged returns the ops the vault has, and which of them as dropped, and
// notes those it refused.
func (r *run) acknowledged(ops []storage.Op, acks []wire.Ack) (confirmed, dropped []storage.ID, err error) {
	answered := make(map[storage.ID]wire.Ack, len(acks))
	for _, a := range acks {
		answered[a.Op] = a
	}
	var refused []storage.Refusal
	for _, op := range ops {
		switch a := answered[op.ID]; a.Status {
		case wire.Stored, wire.Held:
			confirmed = append(confirmed, op.ID)
			if a.Dropped {
				dropped = append(dropped, op.ID)
			}
			if !r.sent[op.ID] {
				r.sent[op.ID] = true
				r.Sent++
				r.Waiting = max(0, r.Waiting-1)
			}
		case wire.Rejected:
			refused = append(refused, storage.Refusal{Op: op.ID, Reason: a.Reason})
		default:
			return nil, nil, wire.Errorf(wire.CodeInternal, "the vault did not say what became of change %s", op.ID)
		}
	}
	return confirmed, dropped, r.refuse(refused...)
}

// refuse notes what the vault and this device cannot agree on.
func (r *run) refuse(refused ...storage.Refusal) error {
	if len(refused) == 0 {
		return nil
	}
	err := r.local.Refuse(r.ctx, refused...)
	if errors.Is(err, storage.ErrFull) {
		r.unnoted = append(r.unnoted, refused...)
	}
	return r.room(err)
}

// mostReasons is how many different reasons an outcome names.
const mostReasons = 5

// standing counts what is refused, also by an earlier run: it is on this device alone for as long as it stands.
func (r *run) standing() error {
	all, err := r.local.Refusals(r.ctx)
	if err != nil {
		return err
	}
	all = append(all, r.unnoted...)
	r.Refused = len(all)
	for _, x := range all {
		if len(r.Reasons) < mostReasons && !slices.Contains(r.Reasons, x.Reason) {
			r.Reasons = append(r.Reasons, x.Reason)
		}
	}
	return nil
}

// pulled stores what came and moves the checkpoint.
func (r *run) pulled(since storage.Checkpoint, reply wire.SyncReply) error {
	ops, err := reply.ReadOps()
	if err != nil || r.full != nil || len(ops) == 0 && reply.Next == since {
		return err
	}
	if reply.Next.Store != reply.Store || reply.Next.Seq < since.Seq {
		return wire.Errorf(wire.CodeInternal, "the vault answers with a place before the one asked for")
	}
	done, err := r.store(reply.Next, ops)
	if err != nil {
		return r.room(err) // what waits can still be sent
	}
	r.Got += len(done.Added)
	for _, op := range ops {
		if r.opts.Fields != nil && r.opts.Fields(op.Kind) {
			r.touched[op.Rec] = true
		}
	}
	return nil
}

// store is Pulled, without ops that are held here with other content: each
// side keeps its own, and the device says so.
func (r *run) store(next storage.Checkpoint, ops []storage.Op) (storage.Appended, error) {
	done, err := r.local.Pulled(r.ctx, next, ops...)
	var other *storage.MismatchError
	if !errors.As(err, &other) {
		return done, err
	}
	refused := make(map[storage.ID]bool)
	var notes []storage.Refusal
	for _, id := range other.Ops {
		refused[id] = true
		notes = append(notes, storage.Refusal{Op: id, Reason: "the vault holds another change with this id"})
	}
	if err := r.refuse(notes...); err != nil {
		return done, err
	}
	var rest []storage.Op
	for _, op := range ops {
		if !refused[op.ID] {
			rest = append(rest, op)
		}
	}
	return r.local.Pulled(r.ctx, next, rest...)
}

// reset starts anew with a vault that is another than the one known.
func (r *run) reset() error {
	if r.resets++; r.resets > maxResets {
		return wire.Errorf(wire.CodeInternal, "the vault is another one at every answer: do two servers share the address?")
	}
	r.Replaced = true
	r.behind = false
	clear(r.sent)
	return r.requeue()
}

func (r *run) tell() {
	if r.opts.Progress != nil {
		r.opts.Progress(r.Progress)
	}
}
