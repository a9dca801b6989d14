package storage

import (
	"context"
	"fmt"
	"slices"
	"strings"
)

// Finder is the part of a store that finds records without reading all of
// them. Only live records are found; a deleted one is reached by Get and List.
type Finder interface {
	// Find returns one page of the records that match. Page and Total are of
	// one moment. ErrInvalid: no kind, or a limit below 1.
	Find(ctx context.Context, f Find) (Page, error)

	// Terms returns the distinct terms of a kind that begin with prefix, by
	// ascending term, each with the number of records that have it: the values
	// of a filter menu. It is meant for a family of few values, as "tip=".
	// ErrInvalid: no kind.
	Terms(ctx context.Context, kind, prefix string) ([]TermCount, error)
}

// Find selects records of one kind by their entries.
type Find struct {
	Kind   string
	Terms  []string // records that have all of these; empty ones do not count
	Prefix string   // and any term beginning so: the word being typed; "" for none
	From   string   // with this Sort or a higher one; "" for no bound
	Before string   // with a Sort below this; "" for no bound
	Newest bool     // descending, by Sort and then id; else ascending
	After  Cursor   // records behind this place in that order; Page.Next goes here
	Limit  int      // at most so many, from 1
	Briefs bool     // return Briefs instead of Records
}

// Page is one answer to a Find.
type Page struct {
	Records []Record // in order; nil when briefs were asked for
	Briefs  []Brief  // in order; nil unless asked for
	Next    Cursor   // ask with this as After for what follows; zero at the end
	Total   int      // how many match in all, wherever After stands
	// Partial: the index is being made anew, as after an update of the app.
	// Some records may be missing, or be found by older rules. Ask again soon.
	Partial bool
}

// Brief is what an index keeps of a record for lists and trends.
type Brief struct {
	ID       ID
	Sort     string
	Conflict Conflict
	Data     []byte // Entry.Brief
}

// TermCount is a term and how many records have it.
type TermCount struct {
	Term  string
	Count int
}

// Check returns ErrInvalid for a question no store can answer.
func (f Find) Check() error {
	switch {
	case f.Kind == "":
		return fmt.Errorf("%w: no kind to look for", ErrInvalid)
	case f.Limit < 1:
		return fmt.Errorf("%w: limit of %d records", ErrInvalid, f.Limit)
	}
	return nil
}

// Cut returns f with its terms as an index keeps them, each once.
func (f Find) Cut() Find {
	terms := make([]string, 0, len(f.Terms))
	for _, t := range f.Terms {
		terms = append(terms, CutTerm(t))
	}
	terms = slices.DeleteFunc(terms, func(t string) bool { return t == "" })
	slices.Sort(terms)
	f.Terms, f.Prefix = slices.Compact(terms), CutTerm(f.Prefix)
	return f
}

// Wants tells whether an entry matches, its place behind After aside. It is
// the definition of what Find answers; f is as Cut returns it.
func (f Find) Wants(e Entry) bool {
	if e.Sort < f.From || f.Before != "" && e.Sort >= f.Before {
		return false
	}
	for _, t := range f.Terms {
		if !slices.Contains(e.Terms, t) {
			return false
		}
	}
	return f.Prefix == "" || slices.ContainsFunc(e.Terms, func(t string) bool { return strings.HasPrefix(t, f.Prefix) })
}

// Behind tells whether a place lies behind After in the order asked for.
func (f Find) Behind(at Cursor) bool {
	switch {
	case f.After == Cursor{}:
		return true
	case f.Newest:
		return at.Compare(f.After) < 0
	}
	return at.Compare(f.After) > 0
}
