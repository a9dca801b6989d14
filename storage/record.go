package storage

import "slices"

// Conflict says why a record has more than one head.
type Conflict uint8

// Kinds of conflict. Heads of equal content, and several deletions, are none:
// there is nothing to choose.
const (
	ConflictNone   Conflict = iota
	ConflictEdits           // edited apart: several values, the owner must pick
	ConflictDelete          // edited here, deleted there: the edit is kept and shown
)

// Record is the present state of one record, as its heads give it.
type Record struct {
	ID       ID
	Kind     string   // of the shown head
	Schema   int      // of the shown head
	Body     []byte   // of the shown head
	Blobs    []string // of the shown head
	At       string   // wall time of the shown head
	Deleted  bool     // every head is a deletion
	Conflict Conflict // what the owner should be asked
	Heads    []Op     // all current ops, the shown one first; never empty in a stored record
}

// NewRecord builds the record of some heads: the ops of one record no other op
// of it names as parent, in any order, at least one. It does not keep or change
// the slice given, but its ops share their memory with the record.
func NewRecord(heads []Op) Record {
	if len(heads) == 0 {
		return Record{}
	}
	sorted := slices.Clone(heads)
	slices.SortFunc(sorted, func(a, b Op) int { return b.Compare(a) })
	top := sorted[0]
	return Record{
		ID: top.Rec, Kind: top.Kind, Schema: top.Schema, Body: top.Body, Blobs: top.Blobs, At: top.At,
		Deleted: top.Del, Conflict: conflictOf(sorted), Heads: sorted,
	}
}

// conflictOf reads the heads, highest first.
func conflictOf(heads []Op) Conflict {
	if heads[0].Del {
		return ConflictNone
	}
	kind := ConflictNone
	for _, h := range heads[1:] {
		switch {
		case h.Del && kind == ConflictNone:
			kind = ConflictDelete
		case !h.Del && !h.sameContent(heads[0]):
			kind = ConflictEdits
		}
	}
	return kind
}

// HeadIDs returns the ids of the heads, sorted: the parents of the next op.
func (r Record) HeadIDs() []ID {
	ids := make([]ID, 0, len(r.Heads))
	for _, h := range r.Heads {
		ids = append(ids, h.ID)
	}
	slices.Sort(ids)
	return ids
}

// NextHeads returns the heads of a record after one more op. superseded tells
// whether an op already held names it as parent, as happens when ops arrive in
// another order than they were made. Neither slice given is changed.
func NextHeads(heads []Op, op Op, superseded bool) []Op {
	next := slices.DeleteFunc(slices.Clone(heads), func(h Op) bool {
		return h.ID == op.ID || slices.Contains(op.Parents, h.ID)
	})
	if superseded {
		return next
	}
	return append(next, op)
}
