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
// them: 0 means none. On a full device, where the checkpoint cannot move, those
// confirmed already still wait and are left out.
func (r *run) batch() (ops []storage.Op, left int, err error) {
	limit := r.most + 1
	if r.full != nil {
		limit += len(r.sent)
	}
	waiting, err := r.local.Waiting(r.ctx, limit)
	if err != nil {
		return nil, 0, err
	}
	fresh := slices.DeleteFunc(waiting, func(op storage.Op) bool { return r.full != nil && r.sent[op.ID] })
	n, err := fitting(fresh[:min(len(fresh), r.most)])
	return fresh[:n], len(fresh) - n, err
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
	return r.refuse(storage.Refusal{Op: ops[0].ID, Reason: reason.Error()})
}

// settle merges by their fields the records that came in with other heads than
// were here, and tells how many it could. What it makes waits to be sent.
func (r *run) settle() (merged int, err error) {
	for _, rec := range slices.Sorted(maps.Keys(r.touched)) {
		delete(r.touched, rec)
		record, err := r.local.Get(r.ctx, rec)
		if errors.Is(err, storage.ErrNotFound) {
			continue // ops naming each other in a ring
		}
		if err != nil {
			return merged, err
		}
		if record.Conflict != storage.ConflictEdits || !r.opts.Fields(record.Kind) {
			continue
		}
		ops, err := r.local.History(r.ctx, rec)
		if err != nil {
			return merged, err
		}
		if op, ok := merge.Fields(rec, ops); ok {
			if _, err := r.local.Append(r.ctx, op); err != nil {
				return merged, err
			}
			merged++
		}
	}
	r.Merged += merged
	return merged, nil
}
