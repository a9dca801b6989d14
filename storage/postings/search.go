package postings

import (
	"math/bits"
	"slices"
	"sort"
	"strings"

	"torchside/storage"
)

// Search answers a question, as storage.Find.Cut returns it, from the blocks
// Needed named: the records of the page in order, how many match in them, and
// whether more follow the page.
func Search(blocks []*Block, f storage.Find) (page []Record, total int, more bool) {
	s := &search{Find: f}
	for i := range blocks {
		if f.Newest { // most places that come later are then no better than those kept
			i = len(blocks) - 1 - i
		}
		s.block(blocks[i])
	}
	if f.Limit > fewRecords {
		slices.SortFunc(s.best, s.order)
	}
	if len(s.best) > f.Limit {
		return s.best[:f.Limit], s.total, true
	}
	return s.best, s.total, false
}

// fewRecords is up to how many records it pays to keep the best ones in order
// while searching; for a larger page all are sorted at the end.
const fewRecords = 256

// search keeps the best records found so far, one more than asked for.
type search struct {
	storage.Find
	total int
	best  []Record
}

func (s *search) block(b *Block) {
	match := b.match(s.Find)
	for w := range match {
		word := match[w]
		if s.Newest {
			for ; word != 0; word &^= 1 << (bits.Len64(word) - 1) {
				s.record(&b.Records[w*64+bits.Len64(word)-1])
			}
			continue
		}
		for ; word != 0; word &= word - 1 {
			s.record(&b.Records[w*64+bits.TrailingZeros64(word)])
		}
	}
}

// record counts one that has the terms, and keeps it if it is among the best.
func (s *search) record(r *Record) {
	if r.Sort < s.From || s.Before != "" && r.Sort >= s.Before {
		return
	}
	s.total++
	if !s.Behind(r.Place()) {
		return
	}
	n := len(s.best)
	if s.Limit > fewRecords {
		s.best = append(s.best, *r)
		return
	}
	if n > s.Limit && !s.sooner(*r, s.best[n-1]) {
		return
	}
	if n > s.Limit {
		s.best = s.best[:n-1]
	}
	if n == 0 || !s.sooner(*r, s.best[len(s.best)-1]) {
		s.best = append(s.best, *r)
		return
	}
	at := sort.Search(len(s.best), func(i int) bool { return s.sooner(*r, s.best[i]) })
	s.best = slices.Insert(s.best, at, *r)
}

// sooner tells whether a comes before b in the order asked for.
func (s *search) sooner(a, b Record) bool {
	if s.Newest {
		a, b = b, a
	}
	return a.Sort < b.Sort || a.Sort == b.Sort && a.ID < b.ID
}

func (s *search) order(a, b Record) int {
	if s.Newest {
		a, b = b, a
	}
	return a.Place().Compare(b.Place())
}

// set is a set of record numbers.
type set []uint64

func (b *Block) none() set { return make(set, (len(b.Records)+63)/64) }

// having returns the records of a list.
func (b *Block) having(list string) set {
	s := b.none()
	b.add(s, list)
	return s
}

func (b *Block) add(s set, list string) {
	each(list, len(b.Records), func(n int) { s[n/64] |= 1 << (n % 64) })
}

// match returns the records that have all terms and one with the prefix.
func (b *Block) match(f storage.Find) set {
	all := b.none()
	for i := range b.Records {
		all[i/64] |= 1 << (i % 64)
	}
	for _, t := range f.Terms {
		list := b.terms.find(t)
		if list == "" {
			return nil
		}
		all.keep(b.having(list))
	}
	if f.Prefix != "" {
		any := b.none()
		b.terms.beginning(f.Prefix, func(_, list string) { b.add(any, list) })
		all.keep(any)
	}
	return all
}

// keep removes what is not in the other set.
func (s set) keep(other set) {
	for i := range s {
		s[i] &= other[i]
	}
}

// Terms counts the terms with a prefix over all blocks, by ascending term.
func Terms(blocks []*Block, prefix string) []storage.TermCount {
	counts := make(map[string]int)
	for _, b := range blocks {
		b.terms.beginning(prefix, func(term, list string) { each(list, len(b.Records), func(int) { counts[term]++ }) })
	}
	terms := make([]storage.TermCount, 0, len(counts))
	for t, n := range counts {
		terms = append(terms, storage.TermCount{Term: t, Count: n})
	}
	slices.SortFunc(terms, func(a, b storage.TermCount) int { return strings.Compare(a.Term, b.Term) })
	return terms
}
