//go:build !race

package simtest_test

import (
	"flag"
	"strings"
	"testing"

	"torchside/storage/replicate/simtest"
	"torchside/storage/vault/memvault"
)

// All with another run of an engine: go test ./storage/replicate/simtest -run Small -runs 3 -timeout 0
var runs = flag.Int("runs", 2, "how often an engine runs in a small world")

// edits of a small world.
const edits = 3

// smallWorlds calls play with every order of edits and runs; the first letter
// is that of phone a, as the phones are alike but for who made the record.
func smallWorlds(t *testing.T, play func(events string)) {
	t.Helper()
	var add func(events string, edited, ran int)
	add = func(events string, edited, ran int) {
		if edited == edits && ran == *runs {
			play(events)
			return
		}
		if edited < edits {
			add(events+"a", edited+1, ran)
			add(events+"b", edited+1, ran)
		}
		if ran < *runs {
			add(events+"A", edited, ran+1)
			add(events+"B", edited, ran+1)
		}
	}
	add("", 0, 0)
}

func TestSmall_worlds_lose_nothing_whatever_strikes_where(t *testing.T) {
	worlds, played := 0, 0
	try := func(s simtest.Small) simtest.Count {
		played++
		count, err := simtest.RunSmall(s, simtest.Hooks{})
		if err != nil {
			t.Fatalf("%+v: %v", s, err)
		}
		return count
	}
	smallWorlds(t, func(events string) {
		if strings.IndexAny(events, "bB") == 0 {
			return // the same with the phones' names exchanged
		}
		worlds++
		whole := try(simtest.Small{Events: events})
		for double := range whole.Messages + 1 {
			for lose := range whole.Messages + 1 {
				for crash := range whole.Steps {
					try(simtest.Small{Events: events, Crash: crash + 1, Double: double, Lose: lose})
				}
				for commit := range edits {
					for _, m := range []memvault.Moment{memvault.BeforeCommit, memvault.AfterCommit} {
						try(simtest.Small{Events: events, VaultCrash: commit + 1, Moment: m, Double: double, Lose: lose})
					}
				}
			}
		}
	})
	t.Logf("%d orders of events, %d worlds", worlds, played)
}

// The same with old versions dropped at each moment, and a crash at each step.
func TestSmall_worlds_with_a_trim_lose_nothing_that_is_kept(t *testing.T) {
	worlds, played, trimmed := 0, 0, 0
	smallWorlds(t, func(events string) {
		if strings.IndexAny(events, "bB") == 0 {
			return // the same with the phones' names exchanged
		}
		for at := range len(events) + 1 {
			worlds++
			s := simtest.Small{Events: events[:at] + "T" + events[at:]}
			for crash, steps := 0, 1; crash <= steps; crash++ {
				played++
				s.Crash = crash
				count, err := simtest.RunSmall(s, simtest.Hooks{})
				if err != nil {
					t.Fatalf("%+v: %v", s, err)
				}
				if crash == 0 {
					steps = count.Steps
				}
				trimmed += min(1, count.Dropped)
			}
		}
	})
	t.Logf("%d orders of events, %d worlds, %d in which something was dropped", worlds, played, trimmed)
	if trimmed == 0 {
		t.Error("nothing was ever dropped")
	}
}

// The same worlds find faults that need no rare luck.
func TestSmall_worlds_find_faults(t *testing.T) {
	for _, name := range []string{"the vault confirms before it commits", "a store forgets a head", "a store moves its checkpoint first",
		"last write wins", "a store does not note that a change waits", "the outbox is cleared before the answer"} {
		t.Run(name, func(t *testing.T) {
			found := false
			smallWorlds(t, func(events string) {
				for crash := range 30 {
					if found {
						return
					}
					for lose := range 3 {
						_, err := simtest.RunSmall(simtest.Small{Events: events, Crash: crash, Lose: lose}, mutants[name]())
						found = found || err != nil
					}
				}
			})
			if !found {
				t.Error("no small world finds it")
			}
		})
	}
}
