package storage

import (
	"cmp"
	"slices"
	"strings"
)

// Entry is what an [Indexer] says of one record: where it stands in lists of
// its kind, by what it is found, and what a list shows of it.
type Entry struct {
	// Sort is the record's place among those of its kind, as a date in a form
	// that sorts as text. Printable ASCII, at most MaxSort bytes. Records with
	// the same Sort stand in order of their id.
	Sort string
	// Terms are what the record is found by: whole words as "corner", and
	// values with a family before them as "tip=2". A store compares them byte
	// by byte, so folding of case and accents is up to the indexer.
	Terms []string
	// Brief is a small extract that lists and trends read instead of the body:
	// compact JSON, or other text without control characters.
	Brief []byte
}

// Limits of one entry. What is above them is cut off (Terms, Sort) or left out
// (Brief): a record must be kept whatever can be found of it.
const (
	MaxSort  = 64      // bytes
	MaxTerms = 2500    // count: the words of a note of 10,000 letters; of more, the first are kept
	MaxTerm  = 64      // bytes of one term
	MaxBrief = 4 << 10 // bytes
)

// Indexer makes the entry of a record from its kind and the body shown. The
// store does not understand what it gets. It is called on any goroutine, also
// inside transactions: it must be quick, wait for nothing, depend on nothing
// but its arguments, and give the zero Entry for a body it cannot read.
type Indexer func(kind string, body []byte) Entry

// TermConflict is what every live record in conflict is found by, beside what its Indexer says.
const TermConflict = "store=conflict"

// Index is an Indexer and the number of its rules. The zero Index gives every
// record the zero Entry: records can then be found by kind alone, by id.
type Index struct {
	// Version changes whenever Of gives other entries than before for the same
	// bodies. A store that holds entries of another version makes all of them
	// anew when it is opened.
	Version int
	Of      Indexer
}

// Entry returns the entry of a live record within the limits, its terms sorted
// and each once. A conflicting record is found by what it shows, and by
// TermConflict. An indexer that panics gives the zero Entry: saving matters more than finding.
func (x Index) Entry(r Record) (e Entry) {
	if x.Of == nil {
		return Entry{}
	}
	defer func() {
		if recover() != nil {
			e = Entry{}
		}
	}()
	e = x.Of(r.Kind, r.Body)
	if r.Conflict != ConflictNone {
		e.Terms = append([]string{TermConflict}, e.Terms...) // before the limit of terms
	}
	return e.clean()
}

// clean brings an entry within the limits.
func (e Entry) clean() Entry {
	terms := make([]string, 0, len(e.Terms))
	seen := make(map[string]bool, len(e.Terms))
	for _, t := range e.Terms {
		if t = CutTerm(t); t != "" && !seen[t] && !hasControl(t) && len(terms) < MaxTerms {
			seen[t] = true
			terms = append(terms, t)
		}
	}
	slices.Sort(terms)
	clean := Entry{Sort: sortText(e.Sort), Terms: terms}
	if len(e.Brief) <= MaxBrief && !hasControl(string(e.Brief)) {
		clean.Brief = slices.Clone(e.Brief)
	}
	return clean
}

// CutTerm returns a term as an index keeps it: valid text of at most MaxTerm
// bytes. What is asked for is cut the same way, so long words are found too.
func CutTerm(t string) string {
	if len(t) <= MaxTerm {
		return strings.ToValidUTF8(t, "")
	}
	return strings.ToValidUTF8(t[:MaxTerm], "")
}

// sortText keeps printable ASCII, which sorts the same in every store.
func sortText(s string) string {
	plain := []byte(s[:min(len(s), MaxSort)])
	for i, c := range plain {
		if c < 0x20 || c > 0x7e {
			plain[i] = '?'
		}
	}
	return string(plain)
}

// hasControl tells of characters that stores put between texts, and of text
// that is none.
func hasControl(s string) bool {
	return s != strings.ToValidUTF8(s, "") || strings.ContainsFunc(s, func(r rune) bool {
		return r < 0x20 || r == 0x7f || r == 0xffff
	})
}

// Cursor is a place in a list: that of a record already returned. The zero
// Cursor is the start.
type Cursor struct {
	Sort string
	ID   ID
}

// Compare orders places as ascending lists do.
func (c Cursor) Compare(other Cursor) int {
	return cmp.Or(cmp.Compare(c.Sort, other.Sort), cmp.Compare(c.ID, other.ID))
}
