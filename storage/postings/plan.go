package postings

import (
	"slices"
	"sort"

	"torchside/storage"
)

// Directory names the blocks of one kind. The zero Directory has none.
type Directory struct {
	Next   int   `json:"next"` // key of the next new block
	Blocks []Ref `json:"blocks"`
}

// Ref is one block of a directory: it holds the records from First up to the
// First of the next one.
type Ref struct {
	Key   int        `json:"key"`   // where the store keeps it, within the kind
	Rev   uint64     `json:"rev"`   // random, new with every content: what is known under it need not be read
	First storage.ID `json:"first"` // "" for the first block
	Count int        `json:"count"` // of records
	Low   string     `json:"low"`   // lowest Sort
	High  string     `json:"high"`  // highest Sort
}

// Touched returns the numbers of the blocks that changes fall into, ascending.
func (d Directory) Touched(changes []Change) []int {
	var touched []int
	if len(d.Blocks) == 0 {
		return nil
	}
	for _, c := range changes {
		touched = append(touched, d.number(c.ID))
	}
	slices.Sort(touched)
	return slices.Compact(touched)
}

// number tells in which block an id belongs.
func (d Directory) number(id storage.ID) int {
	return max(0, sort.Search(len(d.Blocks), func(i int) bool { return d.Blocks[i].First > id })-1)
}

// Written is a block to be stored under the key and revision of its Ref.
type Written struct {
	Ref
	Block *Block
}

// Plan makes changes in the blocks of a kind. held gives the present block of
// each number Touched named; fresh gives a random revision. It returns the
// directory that follows, the blocks to store, and the keys of those to remove.
// The given directory is not changed.
func (d Directory) Plan(changes []Change, held func(number int) *Block, fresh func() uint64) (next Directory, put []Written, drop []int) {
	byBlock := make(map[int][]Change)
	for _, c := range changes {
		n := d.number(c.ID)
		byBlock[n] = append(byBlock[n], c)
	}
	next.Next = d.Next
	for n := range max(1, len(d.Blocks)) {
		if byBlock[n] == nil {
			next.Blocks = append(next.Blocks, d.Blocks[n])
			continue
		}
		old, block := Ref{Key: -1}, &Block{}
		if n < len(d.Blocks) {
			old, block = d.Blocks[n], held(n)
		}
		written := next.divide(old, block.With(byBlock[n]), fresh)
		if len(written) == 0 && old.Key >= 0 {
			drop = append(drop, old.Key)
		}
		put = append(put, written...)
	}
	if len(next.Blocks) > 0 {
		next.Blocks[0].First = "" // the one before it may have gone
	}
	return next, put, drop
}

// divide adds a changed block to the directory, in parts if it is too large;
// the first part keeps the key.
func (d *Directory) divide(old Ref, block *Block, fresh func() uint64) []Written {
	var put []Written
	if len(block.Records) == 0 {
		return nil
	}
	for i, part := range block.cut() {
		ref := Ref{Key: old.Key, Rev: fresh(), First: old.First, Count: len(part.Records)}
		ref.Low, ref.High = part.span()
		if i > 0 {
			ref.First = part.Records[0].ID
		}
		if i > 0 || old.Key < 0 {
			ref.Key = d.Next
			d.Next++
		}
		d.Blocks = append(d.Blocks, ref)
		put = append(put, Written{ref, part})
	}
	return put
}
