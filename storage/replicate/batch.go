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

// batch returns the next ops to send, those confirmed in this run left out, and
// how many are known to wait behind them: 0 means none.
func (r *run) batch() (ops []storage.Op, left int, err error) {
	waiting, err := r.local.Waiting(r.ctx, r.most+len(r.sent)+1)
	if err != nil {
		return nil, 0, err
	}
	var fresh []storage.Op
	for _, op := range waiting {
		if !r.sent[op.ID] {
			fresh = append(fresh, op)
		}
	}
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
