package main

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// The test binary is told its part through these variables.
const (
	phaseVar  = "KILL_PHASE"  // "save": write, then wait for the end; "check": are they there
	writesVar = "KILL_WRITES" // how many to write
)

// busyWrites keeps the program writing until it is killed.
const busyWrites = 1_000_000

// killRuns kills the browser the given number of times, each time one write
// later after its start than the time before, and checks after each kill.
func killRuns(ctx context.Context, s *site, profile string, times int, busy bool) (int, error) {
	var saved []string
	for round := range times {
		more, err := saveAndKill(ctx, s, profile, 1+round, busy)
		if err != nil {
			return 1, err
		}
		saved = append(saved, more...)
		s.program = killProgram("check", 0, saved)
		code, err := play(ctx, s, profile, printed)
		if err != nil {
			return 1, fmt.Errorf("look after kill %d of %d: %w", round+1, times, err)
		}
		if code != 0 {
			return 1, fmt.Errorf("after kill %d of %d: writes reported as saved are missing", round+1, times)
		}
	}
	fmt.Printf("browser killed %d times, %d of %d saved writes found\n", times, len(saved), len(saved))
	return 0, nil
}

// saveAndKill lets the program save n times, or more when busy, kills the
// browser at the n-th, and returns every id reported as saved before it died.
func saveAndKill(ctx context.Context, s *site, profile string, n int, busy bool) ([]string, error) {
	var saved []string
	writes := n
	if busy {
		writes = busyWrites
	}
	s.program = killProgram("save", writes, nil)
	_, err := play(ctx, s, profile, func(m message) verdict {
		id, ok := strings.CutPrefix(m.Text, "saved ")
		if m.Kind != "note" || !ok {
			return printed(m)
		}
		if saved = append(saved, id); len(saved) < n {
			return goOn
		}
		return kill
	})
	if !errors.Is(err, errKilled) {
		return nil, errors.Join(errors.New("the program ended before the browser could be killed"), err)
	}
	return saved, nil
}

// killProgram runs the one test that knows the phases.
func killProgram(phase string, writes int, saved []string) program {
	return program{
		Argv: []string{"kill.test", "-test.run=^TestStore_survives_a_killed_browser$"},
		Env:  map[string]string{phaseVar: phase, writesVar: strconv.Itoa(writes)},
		// What was reported as saved so far, in all rounds.
		Given: strings.Join(saved, " "),
	}
}
