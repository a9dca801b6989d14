package replicate

import (
	"encoding/json"
	"errors"
	"maps"
	"slices"

	"torchside/storage"
	"torchside/storage/merge"
	"torchside/storage/wire"
)

// batch returns the next ops to send, and how many are known to wait behind
// them: 0 means none. While the vault has more for this device, none are sent:
// they would have to be sent once more. Never more are read than fit into one
// request, and one.
func (r *run) batch() (ops []storage.Op, left int, err error) {
	if r.behind && r.full == nil {
		waiting, err := r.local.Waiting(r.ctx, "", 1)
		return nil, len(waiting), err
	}
	read := r.local.Waiting
	if r.anew {
		read = r.local.Ops
	}
	waiting, err := read(r.ctx, r.passed, r.most+1)
	if err != nil {
		return nil, 0, err
	}
	n, err := fitting(waiting[:min(len(waiting), r.most)])
	return waiting[:n], len(waiting) - n, err
}

// Sizes of an op as JSON at most, from its text: names and numbers, one id, one
// hash, and what escaping makes of a byte of a body.
const (
	sizeFixed, sizeID, sizeHash, sizeByte = 512, 40, 70, 6
)

// fitting tells how many of the ops go into one request: at least one.
func fitting(ops []storage.Op) (int, error) {
	most := 0
	for _, op := range ops {
		most += sizeFixed + len(op.Kind)*sizeByte + len(op.Parents)*sizeID + len(op.Blobs)*sizeHash + len(op.Body)*sizeByte
	}
	if most <= wire.MaxBytes {
		return len(ops), nil
	}
	size := 0
	for i, op := range ops {
		text, err := json.Marshal(op)
		if err != nil {
			return 0, err
		}
		if size += len(text); size > wire.MaxBytes && i > 0 {
			return i, nil
		}
	}
	return len(ops), nil
}

func tooLarge(err error) bool { return errors.Is(err, &wire.Error{Code: wire.CodeTooLarge}) }

// shrink makes the next request smaller after one was too large for the vault.
// An op that is too large alone is refused, so that it holds up no other.
func (r *run) shrink(ops []storage.Op, reason error) error {
	if len(ops) > 1 {
		r.most = len(ops) / 2
		return nil
	}
	err := r.refuse(storage.Refusal{Op: ops[0].ID, Reason: reason.Error()})
	r.pass(ops)
	return err
}

// settle merges by their fields the records that came in with other heads than
// were here, and tells how many it could. What it makes waits to be sent.
func (r *run) settle() (merged int, err error) {
	defer func() { r.Merged += merged }()
	for _, rec := range slices.Sorted(maps.Keys(r.touched)) {
		made, err := r.settleOne(rec)
		if err != nil {
			return merged, r.room(err)
		}
		delete(r.touched, rec)
		if made {
			merged++
		}
	}
	return merged, nil
}

func (r *run) settleOne(rec storage.ID) (made bool, err error) {
	record, err := r.local.Get(r.ctx, rec)
	if errors.Is(err, storage.ErrNotFound) {
		return false, nil // ops naming each other in a ring
	}
	if err != nil {
		return false, err
	}
	if record.Conflict != storage.ConflictEdits || !r.opts.Fields(record.Kind) {
		return false, nil
	}
	ops, err := r.local.History(r.ctx, rec)
	if err != nil {
		return false, err
	}
	op, ok := merge.Fields(rec, ops)
	if ok {
		_, err = r.local.Append(r.ctx, op)
	}
	return ok, err
}
