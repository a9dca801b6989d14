package simtest

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
)

// Kind is what happens in one step.
type Kind string

// What can happen. Those of a vault name no phone.
const (
	Edit     Kind = "edit"     // a phone's user makes, changes or deletes something
	Sync     Kind = "sync"     // a phone runs its engine
	Die      Kind = "die"      // a phone runs its engine and crashes on the way
	Fill     Kind = "fill"     // a phone has no room from now on, or has it again
	Clock    Kind = "clock"    // a phone's clock is set to something else
	Wipe     Kind = "wipe"     // a phone loses everything
	Clone    Kind = "clone"    // a phone is copied to a new one
	Add      Kind = "add"      // a new phone
	Keep     Kind = "keep"     // a phone's state is kept aside
	Return   Kind = "return"   // a phone goes back to what was kept aside
	Import   Kind = "import"   // a phone takes over another's export
	Crash    Kind = "crash"    // the vault crashes at a commit to come
	Backup   Kind = "backup"   // the vault is copied aside
	Restore  Kind = "restore"  // the vault goes back to a copy
	Replace  Kind = "replace"  // the vault is a new, empty one
	FillDisk Kind = "filldisk" // the vault has no room from now on, or has it again
	Late     Kind = "late"     // a message of earlier arrives once more
	Swap     Kind = "swap"     // a phone's user gives something another photo
	Limit    Kind = "limit"    // the owner sets how long the vault keeps old versions
	Day      Kind = "day"      // a day passes at the vault
	Trim     Kind = "trim"     // the vault drops old versions
)

// Event is one step: what, at which phone, and a seed for its details.
type Event struct {
	Kind  Kind
	Phone int
	Seed  uint64
}

// String is the form of a line in a file.
func (e Event) String() string { return fmt.Sprintf("%s %d %d", e.Kind, e.Phone, e.Seed) }

// Schedule is a world and what happens in it.
type Schedule struct {
	Seed   uint64
	Phones int
	Flaky  int // of a hundred messages, how many go wrong
	Events []Event
}

// String is the form of a file: the world, then a line for each event.
func (s Schedule) String() string {
	var text strings.Builder
	fmt.Fprintf(&text, "seed %d phones %d flaky %d\n", s.Seed, s.Phones, s.Flaky)
	for _, e := range s.Events {
		fmt.Fprintln(&text, e)
	}
	return text.String()
}

// Parse reads the form of String.
func Parse(text string) (Schedule, error) {
	var s Schedule
	lines := strings.Split(strings.TrimSpace(text), "\n")
	if _, err := fmt.Sscanf(lines[0], "seed %d phones %d flaky %d", &s.Seed, &s.Phones, &s.Flaky); err != nil {
		return s, fmt.Errorf("first line %q: %w", lines[0], err)
	}
	for _, line := range lines[1:] {
		var e Event
		if _, err := fmt.Sscanf(line, "%s %d %d", &e.Kind, &e.Phone, &e.Seed); err != nil {
			return s, fmt.Errorf("line %q: %w", line, err)
		}
		s.Events = append(s.Events, e)
	}
	return s, nil
}

// weight is how often a kind comes.
type weight struct {
	kind Kind
	of   int
}

// weights say how often each kind comes, of the sum of all.
var weights = []weight{
	{Edit, 34}, {Sync, 30}, {Die, 8}, {Fill, 2}, {Clock, 3}, {Wipe, 1}, {Clone, 1}, {Add, 1}, {Keep, 2}, {Return, 1},
	{Import, 1}, {Crash, 5}, {Backup, 6}, {Restore, 5}, {Replace, 1}, {FillDisk, 2}, {Late, 3},
}

// trimWeights are added where old versions are dropped.
var trimWeights = []weight{{Swap, 14}, {Limit, 2}, {Day, 22}, {Trim, 14}}

// Random makes the schedule of a seed: 2 to 5 phones and 10 to 49 events.
func Random(seed uint64) Schedule {
	return random(seed, rand.New(rand.NewPCG(seed, 0x70726368)), weights, 10, 40)
}

// RandomTrim is Random in a world where the vault keeps old versions for a few
// days, with 20 to 79 events.
func RandomTrim(seed uint64) Schedule {
	r := rand.New(rand.NewPCG(seed, 0x7472696d))
	s := random(seed, r, append(slices.Clone(weights), trimWeights...), 20, 60)
	s.Events = append([]Event{{Kind: Limit, Seed: 1 + r.Uint64()>>16}}, s.Events...)
	return s
}

// random draws a world and its events.
func random(seed uint64, r *rand.Rand, from []weight, least, more int) Schedule {
	s := Schedule{Seed: seed, Phones: 2 + r.IntN(4), Flaky: []int{0, 10, 30}[r.IntN(3)]}
	for range least + r.IntN(more) {
		s.Events = append(s.Events, Event{Kind: pick(r, from), Phone: r.IntN(s.Phones), Seed: r.Uint64() >> 16})
	}
	return s
}

// pick draws a kind by its weight.
func pick(r *rand.Rand, from []weight) Kind {
	sum := 0
	for _, w := range from {
		sum += w.of
	}
	at := r.IntN(sum)
	for _, w := range from {
		if at -= w.of; at < 0 {
			return w.kind
		}
	}
	return Edit
}

// Shrink returns a shorter schedule that still fails, by leaving events out as
// long as that is so: first many at a time, then one.
func Shrink(s Schedule, fails func(Schedule) bool) Schedule {
	for size := len(s.Events) / 2; size > 0; {
		shorter := false
		for at := 0; at+size <= len(s.Events); {
			c := s
			c.Events = slices.Delete(slices.Clone(s.Events), at, at+size)
			if fails(c) {
				s, shorter = c, true
				continue
			}
			at += size
		}
		if !shorter || size > 1 {
			size /= 2
		}
	}
	return s
}
