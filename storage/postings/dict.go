package postings

import (
	"encoding/binary"
	"slices"
	"sort"
	"strings"
)

// dict are the terms of a block and, of each, the numbers of its records. It
// is used as it is stored: a question finds its terms by bisection, and the
// thousand others are never looked at.
type dict struct {
	offsets string // of each term in data, ascending terms, four bytes each
	data    string // of each term its text and its list, one behind the other
}

// newDict makes the dict of lists; terms without records are left out.
func newDict(lists map[string][]int) dict {
	terms := make([]string, 0, len(lists))
	for t, list := range lists {
		if len(list) > 0 {
			terms = append(terms, t)
		}
	}
	slices.Sort(terms)
	var offsets, data []byte
	for _, t := range terms {
		offsets = binary.LittleEndian.AppendUint32(offsets, uint32(len(data)))
		slices.Sort(lists[t])
		data = appendText(appendText(data, t), string(gaps(slices.Compact(lists[t]))))
	}
	return dict{string(offsets), string(data)}
}

func (d dict) len() int { return len(d.offsets) / 4 }

// at returns a term and its list. What was damaged gives empty ones.
func (d dict) at(i int) (term, list string) {
	o := d.offsets[4*i : 4*i+4]
	from := uint32(o[0]) | uint32(o[1])<<8 | uint32(o[2])<<16 | uint32(o[3])<<24
	if uint64(from) > uint64(len(d.data)) {
		return "", ""
	}
	r := reader{rest: d.data[from:]}
	term, list = r.text(), r.text()
	return term, list
}

// from returns the number of the first term that is not below t.
func (d dict) from(t string) int {
	return sort.Search(d.len(), func(i int) bool {
		term, _ := d.at(i)
		return term >= t
	})
}

// find returns the list of a term, "" if no record has it.
func (d dict) find(t string) string {
	if i := d.from(t); i < d.len() {
		if term, list := d.at(i); term == t {
			return list
		}
	}
	return ""
}

// beginning calls f for each term with a prefix.
func (d dict) beginning(prefix string, f func(term, list string)) {
	for i := d.from(prefix); i < d.len(); i++ {
		term, list := d.at(i)
		if !strings.HasPrefix(term, prefix) {
			return
		}
		f(term, list)
	}
}

// gaps writes ascending numbers as the gaps between them, most of which take
// one byte.
func gaps(numbers []int) []byte {
	var list []byte
	last := -1
	for _, n := range numbers {
		list = binary.AppendUvarint(list, uint64(n-last-1))
		last = n
	}
	return list
}

// each reads what gaps wrote, as far as there are that many records.
func each(list string, records int, f func(n int)) {
	r := reader{rest: list}
	for n := -1; r.rest != ""; {
		if n += r.varint() + 1; r.broken || n >= records {
			return
		}
		f(n)
	}
}
