package vault

import (
	"context"
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"
	"time"

	"torchside/storage"
)

// History is the part of a vault that keeps old versions as far as the owner
// sets. Nothing is dropped unless Trim is called, which no answer to a device
// does.
//
// What is dropped is the text of ops that were replaced, and the attachments
// only they name. Of each stays its place in the log with its chain value, its
// id, record and parents and the SHA-256 of its text: the chain still proves
// the log, an op sent again is compared by its hash ([Dropped]), and heads
// follow from the links. Pull passes over it.
//
// Age is counted by the vault alone: the clocks of devices are off by years.
type History interface {
	// SetKeep sets for how many marked days replaced versions are kept, 0 for
	// ever, which is what a new shop has. Setting it again, also to the same,
	// begins to count anew. storage.ErrInvalid: outside 0 to MaxKeep.
	SetKeep(ctx context.Context, shop ShopID, days int, now time.Time) error

	// MarkDay marks, in every shop with a limit, how far its log is on the day
	// of now in UTC, once a day. A day not later than the last one marked is
	// none: a clock set back or forth makes days last longer, never shorter,
	// but for the one it leaps to.
	MarkDay(ctx context.Context, now time.Time) error

	// Trim drops what [Plan] says of the ops that were in the log before the
	// last so many marks. It tells what it dropped; nothing is no error. It may
	// take several transactions, so also after an error what it tells is dropped.
	Trim(ctx context.Context, shop ShopID) (Trimmed, error)
}

// MaxKeep is the longest limit in days. "For ever" is 0.
const MaxKeep = 36500

// Trimmed is what one Trim dropped.
type Trimmed struct {
	Ops       int   // ops whose text is gone
	Bytes     int64 // of these texts
	Blobs     int   // attachments let go of, those not held included
	BlobBytes int64 // of those held
}

// Link is what of an op its place in history is made of.
type Link struct {
	ID      storage.ID
	Rec     storage.ID
	Parents []storage.ID
	Blobs   []storage.Hash // of a dropped one none
	Dropped bool
}

// Plan says what of a log may go: numbers, counted from 0 and below most, of ops
// to drop, and by name the attachments that only they name. An op goes only
// if
//
//   - another of its record names it as parent: it is not a head;
//   - its record has one head: two are for a person to settle, who may want to see where they come from;
//   - all its parents are in the log and dropped. What stays then has all its
//     children with it, so that heads worked out from what stays, as a new
//     device does, are the heads of the whole.
//
// Parents stand before their children, so that the first of the numbers may go
// alone, with the attachments that Unnamed says.
func Plan(log []Link, most int) (drop []int, free []storage.Hash) {
	p := newPlanner(log)
	for i := range log {
		if log[i].Dropped {
			p.gone(i)
		}
	}
	for i := range log {
		p.look(i, most)
	}
	for len(p.ready) > 0 {
		i := p.ready[0]
		p.ready = p.ready[1:]
		drop = append(drop, i)
		for _, child := range p.gone(i) {
			p.look(child, most)
		}
	}
	return drop, Unnamed(log, drop)
}

// recordOp is an op as one of a record: a parent in another record is none.
type recordOp struct{ rec, op storage.ID }

// planner finds what may go, from the oldest on.
type planner struct {
	log      []Link
	named    map[recordOp]bool
	children map[recordOp][]int
	kept     []int // parents of each op that are not dropped
	heads    map[storage.ID]int
	ready    []int
	taken    []bool
}

func newPlanner(log []Link) *planner {
	p := &planner{
		log: log, named: make(map[recordOp]bool), children: make(map[recordOp][]int),
		kept: make([]int, len(log)), heads: make(map[storage.ID]int), taken: make([]bool, len(log)),
	}
	for i, l := range log {
		p.kept[i] = len(l.Parents)
		for _, parent := range l.Parents {
			key := recordOp{l.Rec, parent}
			p.named[key] = true
			p.children[key] = append(p.children[key], i)
		}
	}
	for _, l := range log {
		if !p.named[recordOp{l.Rec, l.ID}] {
			p.heads[l.Rec]++
		}
	}
	return p
}

// gone counts op i as dropped and returns its children.
func (p *planner) gone(i int) []int {
	p.taken[i] = true
	children := p.children[recordOp{p.log[i].Rec, p.log[i].ID}]
	for _, child := range children {
		p.kept[child]--
	}
	return children
}

// look makes op i ready if it may go.
func (p *planner) look(i, most int) {
	l := p.log[i]
	if i < most && !p.taken[i] && p.kept[i] == 0 && p.heads[l.Rec] == 1 && p.named[recordOp{l.Rec, l.ID}] {
		p.taken[i] = true
		p.ready = append(p.ready, i)
	}
}

// Unnamed lists, ascending, the attachments that of a log only the ops of some numbers name.
func Unnamed(log []Link, drop []int) []storage.Hash {
	dropped := make(map[int]bool, len(drop))
	free := make(map[storage.Hash]bool)
	for _, i := range drop {
		dropped[i] = true
		for _, h := range log[i].Blobs {
			free[h] = true
		}
	}
	for i, l := range log {
		if !dropped[i] && !l.Dropped {
			for _, h := range l.Blobs {
				delete(free, h)
			}
		}
	}
	names := make([]storage.Hash, 0, len(free))
	for h := range free {
		names = append(names, h)
	}
	slices.Sort(names)
	return names
}

// Same tells whether the text of an op is that of a hash kept of it.
func Same(raw []byte, sum [sha256.Size]byte) bool { return sha256.Sum256(raw) == sum }

// Limit is how long a shop keeps replaced versions, and the days it counts.
type Limit struct {
	Days  int      `json:"days"`           // 0: for ever
	Last  string   `json:"last,omitempty"` // the last day marked, as 2006-01-02 in UTC
	Marks []uint64 `json:"marks,omitempty"`
	// Marks are the numbers of the newest op at the days marked, oldest first;
	// no more than Days+1 are kept.
}

// dayForm is that of Limit.Last; it sorts by time.
const dayForm = "2006-01-02"

// Mark adds the day of now, and tells whether it is one that counts.
func (l *Limit) Mark(now time.Time, last uint64) bool {
	day := now.UTC().Format(dayForm)
	if l.Days == 0 || day <= l.Last {
		return false
	}
	l.Last, l.Marks = day, append(slices.Clone(l.Marks), last)
	l.Marks = l.Marks[max(0, len(l.Marks)-l.Days-1):]
	return true
}

// Most is the number of the newest op that is older than the limit, 0 for none:
// that of the mark that as many days as are kept have followed.
func (l *Limit) Most() uint64 {
	if l.Days == 0 || len(l.Marks) <= l.Days {
		return 0
	}
	return l.Marks[len(l.Marks)-1-l.Days]
}

// Line tells which checkpoints a trimmed log still knows. Each Trim gives the
// log another tag, which stands behind the chain value of every checkpoint given
// out from then on. A device whose checkpoint is of before, and of before the
// newest op dropped, would not hear of what replaced an op it holds: it has to
// start from nothing, and is told by [Dropped] what of its own was replaced.
type Line struct {
	Tags []string `json:"tags,omitempty"` // of all trims, the present one last; at most maxTags
	Past uint64   `json:"past,omitempty"` // number of the newest op ever dropped
}

// maxTags is how many trims back a checkpoint is known. One of before is no
// longer, which costs its device a start from nothing.
const maxTags = 60

// tagSize is the length of a tag in digits.
const tagSize = 16

// Tag is the present one, "" before any Trim.
func (l *Line) Tag() string {
	if len(l.Tags) == 0 {
		return ""
	}
	return l.Tags[len(l.Tags)-1]
}

// Cut begins anew after ops up to a number were dropped; id is a fresh RandomID.
func (l *Line) Cut(past uint64, id string) {
	l.Past = max(l.Past, past)
	l.Tags = append(slices.Clone(l.Tags), id[:tagSize])
	l.Tags = l.Tags[max(0, len(l.Tags)-maxTags):]
}

// Knows tells whether a checkpoint with a tag is still good.
func (l *Line) Knows(tag string, seq uint64) bool {
	if tag == l.Tag() {
		return true
	}
	known := slices.Contains(l.Tags, tag) || tag == "" && len(l.Tags) < maxTags
	return known && seq >= l.Past
}

// Tagged is a chain value as checkpoints have it.
func Tagged(chain, tag string) string {
	if tag == "" {
		return chain
	}
	return chain + "." + tag
}

// SplitTag takes the chain of a checkpoint apart.
func SplitTag(tagged string) (chain, tag string) {
	chain, tag, _ = strings.Cut(tagged, ".")
	return chain, tag
}

// NewLimit begins to count from a log of so many ops. storage.ErrInvalid: days
// are none from 0 to MaxKeep.
func NewLimit(days int, now time.Time, last uint64) (Limit, error) {
	if days < 0 || days > MaxKeep {
		return Limit{}, fmt.Errorf("%w: versions kept for %d days, from 0, which is for ever, to %d", storage.ErrInvalid, days, MaxKeep)
	}
	l := Limit{Days: days}
	l.Mark(now, last)
	return l, nil
}
