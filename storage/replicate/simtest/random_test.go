package simtest_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"torchside/storage/replicate/simtest"
)

// More of them: go test ./storage/replicate/simtest -run Random -first 2000 -schedules 100000 -timeout 0
var (
	first = flag.Uint64("first", 0, "seed of the first random schedule")
	many  = flag.Uint64("schedules", schedules, "how many random schedules")
)

func fails(s simtest.Schedule) bool { return simtest.Run(s, simtest.Hooks{}) != nil }

// A schedule that fails is made shorter and kept; TestKept plays it from then on.
func TestRandom_schedules_lose_nothing(t *testing.T) {
	for seed := *first; seed < *first+*many; seed++ {
		s := simtest.Random(seed)
		err := simtest.Run(s, simtest.Hooks{})
		if err == nil {
			continue
		}
		short := simtest.Shrink(s, fails)
		file := filepath.Join("testdata", fmt.Sprintf("seed-%d.txt", seed))
		if err := os.WriteFile(file, []byte(short.String()), 0o644); err != nil {
			t.Error(err)
		}
		t.Fatalf("seed %d: %v\nshorter, and kept as %s: %v\n%s", seed, err, file, simtest.Run(short, simtest.Hooks{}), short)
	}
}

// What once found a fault in the engine, and for each fault made on purpose the
// shortest schedule known that shows it. Without a fault all must hold.
func TestKept_schedules_lose_nothing_but_for_the_fault_they_show(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(files) < len(mutants)+len(trimMutants) {
		t.Fatalf("%d kept schedules for %d faults, %v", len(files), len(mutants)+len(trimMutants), err)
	}
	for _, file := range files {
		name := strings.TrimSuffix(filepath.Base(file), ".txt")
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			s, err := simtest.Parse(string(text))
			if err != nil {
				t.Fatal(err)
			}
			if err := simtest.Run(s, simtest.Hooks{}); err != nil {
				t.Error(err)
			}
			fault := strings.ReplaceAll(name, "-", " ")
			hooks, made := mutants[fault]
			if !made {
				hooks, made = trimMutants[fault]
			}
			if made && simtest.Run(s, hooks()) == nil {
				t.Error("the schedule does not show the fault any more; shrink another")
			}
		})
	}
}

func TestParse_reads_what_String_writes(t *testing.T) {
	s := simtest.Random(7)
	read, err := simtest.Parse(s.String())
	if err != nil || read.String() != s.String() || len(read.Events) != len(s.Events) {
		t.Errorf("read %v, %v", read, err)
	}
	for _, bad := range []string{"", "seed x", s.String() + "edit\n"} {
		if _, err := simtest.Parse(bad); err == nil {
			t.Errorf("%q was read", bad)
		}
	}
}

// One seed is one world: a failure can be repeated.
func TestRun_does_the_same_each_time(t *testing.T) {
	for seed := range uint64(50) {
		a, b := mutantError(seed), mutantError(seed)
		if fmt.Sprint(a) != fmt.Sprint(b) {
			t.Errorf("seed %d: first %v, then %v", seed, a, b)
		}
	}
}

// mutantError is what a world with a fault ends in: mostly an error with ids in it.
func mutantError(seed uint64) error {
	return simtest.Run(simtest.Random(seed), mutants["last write wins"]())
}
