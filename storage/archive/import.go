package archive

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"torchside/storage"
)

// Report says what an import did. Nothing that was in the store is gone.
type Report struct {
	Added int // ops that are new here
	Held  int // ops that were here already
	// Records are the records the added ops belong to, as they are now, by
	// ascending id.
	Records []storage.Record
	// Refused are ops whose id is held here with other content, which no app
	// writes. The ones held stay as they are.
	Refused []storage.ID
}

// Conflicts returns the records, among those that got something new, whose
// owner must choose between two versions.
func (r Report) Conflicts() []storage.Record {
	var split []storage.Record
	for _, rec := range r.Records {
		if rec.Conflict != storage.ConflictNone {
			split = append(split, rec)
		}
	}
	return split
}

// Import adds the ops of a file to the store. It stores a few hundred at a
// time, each lot durable by itself; the report tells what was stored also when
// an error of the store (as storage.ErrFull) ends it early. Importing the same
// file again goes on where it ended and changes nothing else.
func Import(ctx context.Context, s storage.Store, a *Archive) (Report, error) {
	var r Report
	touched := make(map[storage.ID]bool)
	for lot := range slices.Chunk(a.Ops, pageOps) {
		done, refused, err := appendLot(ctx, s, lot)
		r.Added += len(done.Added)
		r.Held += len(done.Held)
		r.Refused = append(r.Refused, refused...)
		for _, op := range lot {
			if slices.Contains(done.Added, op.ID) {
				touched[op.Rec] = true
			}
		}
		if err != nil {
			return r, fmt.Errorf("import: %w", err)
		}
	}
	err := r.read(ctx, s, touched)
	return r, err
}

// appendLot stores a lot; ops the store refuses by id are left out.
func appendLot(ctx context.Context, s storage.Store, lot []storage.Op) (storage.Appended, []storage.ID, error) {
	done, err := s.Append(ctx, lot...)
	var mismatch *storage.MismatchError
	if !errors.As(err, &mismatch) {
		return done, nil, err
	}
	rest := slices.DeleteFunc(slices.Clone(lot), func(op storage.Op) bool {
		return slices.Contains(mismatch.Ops, op.ID)
	})
	done, err = s.Append(ctx, rest...)
	return done, mismatch.Ops, err
}

// read fetches the records that got something new.
func (r *Report) read(ctx context.Context, s storage.Store, touched map[storage.ID]bool) error {
	var ids []storage.ID
	for id := range touched {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for _, id := range ids {
		rec, err := s.Get(ctx, id)
		switch {
		case errors.Is(err, storage.ErrNotFound): // ops that name each other in a ring
		case err != nil:
			return fmt.Errorf("read what was imported: %w", err)
		default:
			r.Records = append(r.Records, rec)
		}
	}
	return nil
}
