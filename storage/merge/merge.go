// Package merge says what a set of ops means, in the plainest way: it is the
// definition the stores are tested against, and what two devices agree on
// without talking. It is pure: no clock, no storage, no order of arrival.
//
// Call [Records] for the state a set of ops describes. [Union] joins two sets;
// it is commutative, associative and idempotent, so any exchange of ops, in
// any order and with any repetition, ends in the same state everywhere.
//
// Heads that differ stay side by side until someone picks. Only where devices
// changed different fields, and the caller asks for it, [Fields] makes the op
// that holds both changes.
package merge

import (
	"slices"

	"torchside/storage"
)

// Heads returns the ops of one record that no other op of the set names as
// parent, highest first: the first one is shown. Ops of other records are not
// looked at, and the given slice is not changed.
func Heads(rec storage.ID, ops []storage.Op) []storage.Op {
	named := make(map[storage.ID]bool)
	for _, op := range ops {
		if op.Rec != rec {
			continue
		}
		for _, p := range op.Parents {
			named[p] = true
		}
	}
	var heads []storage.Op
	for _, op := range ops {
		if op.Rec == rec && !named[op.ID] && !holds(heads, op.ID) {
			heads = append(heads, op)
		}
	}
	slices.SortFunc(heads, func(a, b storage.Op) int { return b.Compare(a) })
	return heads
}

// Records returns every record the ops describe, by ascending id. A record
// without heads cannot be built by an author (it would need ops naming each
// other in a ring) and is left out.
func Records(ops []storage.Op) []storage.Record {
	byRec := make(map[storage.ID][]storage.Op)
	for _, op := range ops {
		byRec[op.Rec] = append(byRec[op.Rec], op)
	}
	var records []storage.Record
	for rec, own := range byRec {
		if heads := Heads(rec, own); len(heads) > 0 {
			records = append(records, storage.NewRecord(heads))
		}
	}
	slices.SortFunc(records, func(a, b storage.Record) int {
		if a.ID < b.ID {
			return -1
		}
		return 1
	})
	return records
}

// Union returns the ops of both sets by ascending id, each id once. Where both
// hold an id with other content, which no author produces, that of a is kept
// and the id is reported: such a pair must never be settled in silence.
func Union(a, b []storage.Op) (all []storage.Op, mismatched []storage.ID) {
	held := make(map[storage.ID]storage.Op, len(a)+len(b))
	for _, op := range slices.Concat(a, b) {
		first, ok := held[op.ID]
		switch {
		case !ok:
			held[op.ID] = op
			all = append(all, op)
		case !first.Equal(op) && !slices.Contains(mismatched, op.ID):
			mismatched = append(mismatched, op.ID)
		}
	}
	slices.SortFunc(all, byID)
	slices.Sort(mismatched)
	return all, mismatched
}

func byID(a, b storage.Op) int {
	switch {
	case a.ID < b.ID:
		return -1
	case a.ID > b.ID:
		return 1
	}
	return 0
}

func holds(ops []storage.Op, id storage.ID) bool {
	return slices.ContainsFunc(ops, func(o storage.Op) bool { return o.ID == id })
}
