package simulation_test

import (
	"flag"
	"testing"

	"torchside/storage/simulation"
)

var (
	first = flag.Uint64("first", 0, "seed of the first random schedule")
	count = flag.Uint64("count", 2000, "how many random schedules")
)

func TestRandom_schedules_lose_nothing(t *testing.T) {
	for seed := *first; seed < *first+*count; seed++ {
		s := simulation.Random(seed)
		if err := simulation.Run(s, simulation.Hooks{}); err != nil {
			small := simulation.Shrink(s, func(c simulation.Schedule) bool { return simulation.Run(c, simulation.Hooks{}) != nil })
			t.Fatalf("seed %d: %v\nshrunk to %v: %v", seed, err, small, simulation.Run(small, simulation.Hooks{}))
		}
	}
}
