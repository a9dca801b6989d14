// Package postings is the index behind Find for stores that have none of their
// own that is fast enough: blocks of a few hundred records, each with the
// terms of its records and, for each term, which of them have it. A store
// keeps blocks as rows of bytes, reads the few that changed, and answers from
// memory.
//
// Records are divided by ascending id: a [Directory] names the blocks of one
// kind and the first id of each. Ids ascend by time, so new records go into
// the last block and the others stay as they are. [Plan] brings changes into
// blocks; [Search] answers a storage.Find from them; [Terms] counts.
//
// It does no input or output, and knows nothing of what terms mean.
package postings

import (
	"slices"
	"strings"

	"torchside/storage"
)

// Size is how many records a block has at most. A save rewrites one block; a
// first filter reads all of them. A block of sheets is some 50 kB: browsers put
// rows from 64 kB on into files of their own, which takes far longer.
const Size = 128

// Record is what a block holds of one record, its terms aside.
type Record struct {
	ID       storage.ID
	Sort     string
	Conflict storage.Conflict
	Brief    string
}

// Place is where the record stands in lists.
func (r Record) Place() storage.Cursor { return storage.Cursor{Sort: r.Sort, ID: r.ID} }

// Block is the index of up to Size records. It never changes once it is made.
type Block struct {
	Records []Record // by ascending id
	terms   dict
}

// Change is what becomes of one record in a block.
type Change struct {
	Record
	Terms []string // as storage.Index.Entry gives them
	Gone  bool     // the record is to be found no more; only the id counts
}

// NewChange is the change that makes a record found by an entry, or found no
// more when it is deleted.
func NewChange(r storage.Record, index storage.Index) Change {
	if r.Deleted || len(r.Heads) == 0 {
		return Change{Record: Record{ID: r.ID}, Gone: true}
	}
	e := index.Entry(r)
	return Change{Record: Record{r.ID, e.Sort, r.Conflict, string(e.Brief)}, Terms: e.Terms}
}

// With returns a block in which the changes are made; of several changes of
// one record the last counts. It may have more records than Size.
func (b *Block) With(changes []Change) *Block {
	last := make(map[storage.ID]*Change, len(changes))
	for i := range changes {
		last[changes[i].ID] = &changes[i]
	}
	records := slices.DeleteFunc(slices.Clone(b.Records), func(r Record) bool { return last[r.ID] != nil })
	for _, c := range last {
		if !c.Gone {
			records = append(records, c.Record)
		}
	}
	slices.SortFunc(records, byID)
	numbers := make(map[storage.ID]int, len(records))
	for i, r := range records {
		numbers[r.ID] = i
	}
	lists := b.moved(numbers, last)
	for id, c := range last {
		for _, t := range c.Terms {
			if !c.Gone {
				lists[t] = append(lists[t], numbers[id])
			}
		}
	}
	return &Block{records, newDict(lists)}
}

func byID(a, b Record) int { return strings.Compare(string(a.ID), string(b.ID)) }

// moved gives the terms of the records that stay, by their new numbers.
func (b *Block) moved(numbers map[storage.ID]int, changed map[storage.ID]*Change) map[string][]int {
	to := make([]int, len(b.Records))
	for i, r := range b.Records {
		to[i] = -1
		if changed[r.ID] == nil {
			to[i] = numbers[r.ID]
		}
	}
	lists := make(map[string][]int, b.terms.len())
	b.terms.beginning("", func(t, list string) {
		each(list, len(to), func(n int) {
			if to[n] >= 0 {
				lists[t] = append(lists[t], to[n])
			}
		})
	})
	return lists
}

// cut divides a block that has grown too large into even parts.
func (b *Block) cut() []*Block {
	parts := (len(b.Records) + Size - 1) / Size
	if parts <= 1 {
		return []*Block{b}
	}
	var blocks []*Block
	for i := range parts {
		from, to := i*len(b.Records)/parts, (i+1)*len(b.Records)/parts
		lists := make(map[string][]int)
		b.terms.beginning("", func(t, list string) {
			each(list, len(b.Records), func(n int) {
				if from <= n && n < to {
					lists[t] = append(lists[t], n-from)
				}
			})
		})
		blocks = append(blocks, &Block{slices.Clone(b.Records[from:to]), newDict(lists)})
	}
	return blocks
}

// span returns the lowest and the highest Sort of a block with records.
func (b *Block) span() (low, high string) {
	low, high = b.Records[0].Sort, b.Records[0].Sort
	for _, r := range b.Records {
		low, high = min(low, r.Sort), max(high, r.Sort)
	}
	return low, high
}
