package flame_test

import (
	"testing"

	"torchside/calc/flame"
)

// speedRatios stand for the 15 oxygen to acetylene ratios, 0.6 to 4, at which the reference codes were timed: the nine of
// flame_equilibrium.csv and six between them.
var speedRatios = []float64{0.6, 0.7, 0.8, 0.9, 0.95, 1, 1.05, 1.1, 1.2, 1.3, 1.5, 1.75, 2, 2.5, 4}

// One flame from a cold start, graphite allowed, species loaded before; NASA CEA with 25 gases takes 29 to 31 µs, with its full
// set 198 µs (flame_README.md).
func BenchmarkSolver_acetylene_oxygen(b *testing.B) {
	solver, err := flame.NewSolver(acetyleneOxygen(1))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		for _, ratio := range speedRatios {
			if _, err := solver.At(ratio); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/1e3/float64(b.N*len(speedRatios)), "µs/flame")
}

// The sweep behind a slider: 60 ratios of one fuel.
func BenchmarkSolver_sweep_of_60(b *testing.B) {
	solver, err := flame.NewSolver(acetyleneOxygen(1))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		for i := range 60 {
			if _, err := solver.At(0.6 + 1.9*float64(i)/59); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func TestSolver_allocates_nothing(t *testing.T) {
	for _, in := range []flame.Reactants{acetyleneOxygen(0.8), acetyleneOxygen(1), acetyleneOxygen(2)} {
		solver, err := flame.NewSolver(in)
		if err != nil {
			t.Fatal(err)
		}
		if n := testing.AllocsPerRun(100, func() {
			if _, err := solver.At(in.Ratio); err != nil {
				t.Fatal(err)
			}
		}); n != 0 {
			t.Errorf("ratio %v: %v allocations a solve", in.Ratio, n)
		}
	}
}

// Every solve starts cold: what was solved before makes no difference, to the last bit.
func TestSolver_starts_cold(t *testing.T) {
	solver, err := flame.NewSolver(acetyleneOxygen(1))
	if err != nil {
		t.Fatal(err)
	}
	for _, ratio := range []float64{2.5, 0.6, 1, 4, 0.887, 1.1} {
		got, err := solver.At(ratio)
		if err != nil {
			t.Fatal(err)
		}
		if want := solved(t, acetyleneOxygen(ratio)); got != want {
			t.Errorf("ratio %v: %v K after other ratios, %v K alone", ratio, got.Temperature, want.Temperature)
		}
	}
}
