package postings

import (
	"slices"
	"strings"

	"torchside/storage"
)

// Needed returns the numbers of the blocks that a question must look into,
// ascending, and how many records match in the others. A list that opens
// without a filter needs one or two blocks, not those of years.
func (d Directory) Needed(f storage.Find) (numbers []int, others int) {
	need := make([]bool, len(d.Blocks))
	var whole []int // all of it within the bounds, so its count is known
	for i, ref := range d.Blocks {
		switch {
		case ref.High < f.From || f.Before != "" && ref.Low >= f.Before:
		case len(f.Terms) > 0 || f.Prefix != "" || ref.Low < f.From || f.Before != "" && ref.High >= f.Before:
			need[i] = true
		default:
			whole = append(whole, i)
		}
	}
	d.first(f, whole, need)
	for _, i := range whole {
		if !need[i] {
			others += d.Blocks[i].Count
		}
	}
	for i := range need {
		if need[i] {
			numbers = append(numbers, i)
		}
	}
	return numbers, others
}

// first marks those blocks that may have records of the page: going from the
// soonest, until there are enough records sooner than all of the next block.
func (d Directory) first(f storage.Find, whole []int, need []bool) {
	whole = slices.Clone(whole)
	slices.SortFunc(whole, func(a, b int) int { return strings.Compare(d.soonest(a, f), d.soonest(b, f)) })
	if f.Newest {
		slices.Reverse(whole)
	}
	var sure []int // marked, and wholly behind After
	for _, i := range whole {
		if f.After != (storage.Cursor{}) && sooner(f, d.latest(i, f), f.After.Sort) { // wholly on the pages before
			continue
		}
		enough := 0
		for _, s := range sure {
			if sooner(f, d.latest(s, f), d.soonest(i, f)) {
				enough += d.Blocks[s].Count
			}
		}
		if enough > f.Limit {
			return
		}
		need[i] = true
		if f.After == (storage.Cursor{}) || sooner(f, f.After.Sort, d.soonest(i, f)) {
			sure = append(sure, i)
		}
	}
}

// soonest is the Sort of a block that comes first in the order asked for,
// latest the one that comes last.
func (d Directory) soonest(i int, f storage.Find) string {
	if f.Newest {
		return d.Blocks[i].High
	}
	return d.Blocks[i].Low
}

func (d Directory) latest(i int, f storage.Find) string {
	if f.Newest {
		return d.Blocks[i].Low
	}
	return d.Blocks[i].High
}

// sooner tells whether one Sort comes before another in the order asked for.
func sooner(f storage.Find, a, b string) bool {
	if f.Newest {
		return a > b
	}
	return a < b
}
