package replicate

import (
	"errors"

	"torchside/storage"
)

// noRoom is what a run remembers when the device is full. Sending needs no
// room, but what was sent cannot be noted: it goes on to wait, and is offered
// again by the next run.
type noRoom struct {
	full    error             // the device has no room; the rest counts only then
	passed  storage.ID        // ops up to here are done with in this run
	anew    bool              // everything is to be offered, but could not be noted as waiting
	unnoted []storage.Refusal // what the vault did not take, and could not be noted
}

// room takes in that there is none; other errors it returns.
func (r *run) room(err error) error {
	if !errors.Is(err, storage.ErrFull) {
		return err
	}
	r.full = err
	return nil
}

// pass has the next batch of a full device begin behind these ops.
func (r *run) pass(ops []storage.Op) {
	if r.full != nil && len(ops) > 0 {
		r.passed = ops[len(ops)-1].ID
	}
}

// place is how far the vault's log was taken over.
func (r *run) place() (storage.Checkpoint, error) {
	if r.anew {
		return storage.Checkpoint{}, nil
	}
	return r.local.Checkpoint(r.ctx)
}

// requeue has everything offered to a vault that is another. A full device
// cannot note that, and offers it within this run.
func (r *run) requeue() error {
	err := r.local.Requeue(r.ctx)
	r.passed, r.anew = "", errors.Is(err, storage.ErrFull)
	return r.room(err)
}
