package journal_test

import (
	"math"
	"math/rand"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/journal"
)

// sen are the seven points of the worked example in P. K. Sen, J. Am. Stat. Assoc. 63 (1968), as the test suite of SciPy
// (scipy/stats, TestTheilslopes) has them: slope 4, intercept 4, and at 93 % the interval 3.71 to 4.38.
func sen() []journal.XY {
	return []journal.XY{{X: 1, Y: 9}, {X: 2, Y: 15}, {X: 3, Y: 19}, {X: 4, Y: 20}, {X: 10, Y: 45}, {X: 12, Y: 55}, {X: 18, Y: 78}}
}

// z93 is the 96.5 % point of the normal distribution (any table of it): 93 % lie within.
const z93 = 1.8119

func TestTheilSen_gives_the_worked_example_of_Sen_1968(t *testing.T) {
	s, ok := journal.TheilSen(sen(), z93)
	if !ok || s.N != 7 || s.Pairs != 21 {
		t.Fatalf("%+v", s)
	}
	calctest.Near(t, s.Value, 4, 1e-12, "printed as 4; a ratio of whole numbers")
	calctest.Near(t, s.Intercept, 4, 1e-12, "SciPy's test has 4.0")
	calctest.Near(t, s.Low, 3.71, 0.005, "printed to two decimals")
	calctest.Near(t, s.High, 4.38, 0.005, "printed to two decimals")
}

// The same suite: y = 0, 1, 1 over 0, 1, 2 has slope and intercept 0.5; y = 0, 1, 1 over 0, 1, 3 (a point masked) one third and two thirds.
func TestTheilSen_gives_the_small_cases_of_the_reference_implementation(t *testing.T) {
	for _, c := range []struct{ x3, slope, intercept float64 }{{2, 0.5, 0.5}, {3, 1.0 / 3, 2.0 / 3}} {
		s, _ := journal.TheilSen([]journal.XY{{X: 0, Y: 0}, {X: 1, Y: 1}, {X: c.x3, Y: 1}}, z93)
		calctest.Near(t, s.Value, c.slope, 1e-12, "exact in the reference")
		calctest.Near(t, s.Intercept, c.intercept, 1e-12, "exact in the reference")
	}
}

// Laws on random input: order does not matter, scaling and shifting y scale and shift the answer, the slope lies within its
// interval, and a third of wild points does not turn a clear slope around.
func TestTheilSen_keeps_its_laws_on_random_points(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	for range 200 {
		n := 8 + r.Intn(40)
		points := make([]journal.XY, n)
		for i := range points {
			points[i] = journal.XY{X: float64(r.Intn(60)), Y: float64(r.Intn(5))}
		}
		points[0].X, points[1].X = 0, 1 // two different x at least
		a, ok := journal.TheilSen(points, 1.96)
		if !ok || a.Low > a.Value || a.Value > a.High {
			t.Fatalf("%+v", a)
		}
		moved := make([]journal.XY, n)
		for i, p := range points {
			moved[n-1-i] = journal.XY{X: p.X + 100, Y: 4*p.Y + 7}
		}
		b, _ := journal.TheilSen(moved, 1.96)
		if b.Value != 4*a.Value || b.Low != 4*a.Low || b.High != 4*a.High {
			t.Fatalf("%+v, four times as steep %+v", a, b)
		}
	}
	for range 50 {
		var points []journal.XY
		for i := range 30 {
			y := 0.1*float64(i) + 0.01*r.Float64()
			if i%4 == 0 {
				y = -1000 * r.Float64()
			}
			points = append(points, journal.XY{X: float64(i), Y: y})
		}
		if s, _ := journal.TheilSen(points, 1.96); math.Abs(s.Value-0.1) > 0.05 {
			t.Fatalf("eight wild points of thirty moved it to %v", s.Value)
		}
	}
}

func TestTrend_says_when_there_are_not_enough_points(t *testing.T) {
	line := func(n int, slope float64) []journal.XY {
		var list []journal.XY
		for i := range n {
			list = append(list, journal.XY{X: float64(i), Y: slope*float64(i) + 0.01*float64(i%3)})
		}
		return list
	}
	same := line(20, 1)
	for i := range same {
		same[i].X = 5
	}
	flat := line(20, 0)
	for name, c := range map[string]struct {
		points    []journal.XY
		enough    bool
		direction string
	}{
		"none":           {nil, false, ""},
		"one too few":    {line(journal.MinTrend-1, 1), false, ""},
		"just enough":    {line(journal.MinTrend, 1), true, "rising"},
		"falling":        {line(30, -1), true, "falling"},
		"no clear way":   {flat, true, "no clear change"},
		"all of one day": {same, false, ""},
	} {
		got := journal.Trend(c.points)
		if got.Enough != c.enough || got.Direction != c.direction || got.Words == "" {
			t.Errorf("%s: %+v", name, got)
		}
	}
	if got := journal.Trend(line(journal.MaxTrend+50, 1)); got.Left != 50 || got.Points[0].X != 50 {
		t.Errorf("the newest count: %d left, from %v", got.Left, got.Points[0])
	}
}

// Invented sheets must not make a person look better or worse than they are.
func TestTrends_and_Progress_leave_the_sample_out_beside_own_sheets(t *testing.T) {
	sample := journal.Sample("2026-06-01T12:00:00Z")
	var briefs []journal.Brief
	for _, s := range sample {
		briefs = append(briefs, journal.BriefOf(s))
	}
	for _, s := range journal.Trends(briefs, journal.ByScore) {
		if !s.Sample {
			t.Errorf("%s %s does not say that it is invented", s.Work, s.Class)
		}
	}
	d, _ := journal.DrillByID("rod")
	if p := journal.Progress(d, briefs); !p.Sample || p.Sheets == 0 {
		t.Errorf("%+v", p)
	}
	one := 2.0
	briefs = append(briefs, journal.Brief{At: "2026-05-01T12:00:00Z", Work: "cut", Overall: &one})
	if got := journal.Trends(briefs, journal.ByScore); len(got) != 1 || got[0].Sample || len(got[0].Points) != 1 {
		t.Errorf("%+v", got)
	}
	if p := journal.Progress(d, briefs); p.Sample || p.Sheets != 1 {
		t.Errorf("%+v", p)
	}
}
