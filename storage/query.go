package storage

import (
	"fmt"
	"slices"
)

// Check returns ErrInvalid for a query no store can answer.
func (q Query) Check() error {
	if q.Limit < 0 {
		return fmt.Errorf("%w: limit of %d records", ErrInvalid, q.Limit)
	}
	return nil
}

// Wants tells whether a record belongs in the answer, its position and the
// limit aside.
func (q Query) Wants(r Record) bool {
	return (q.Kind == "" || q.Kind == r.Kind) && !slices.Contains(q.Except, r.Kind) && (q.Deleted || !r.Deleted)
}
