package journal

import (
	"cmp"
	"slices"
	"strconv"

	"torchside/calc/words"
)

// Measure is what a trend is of.
type Measure string

// The measures: the overall score (0 to MaxScore), travel speed by the stopwatch (m/s), gas used per sheet (oxygen and fuel, m³).
const (
	ByScore Measure = "score"
	BySpeed Measure = "speed"
	ByGas   Measure = "gas"
)

// Series is one measure over time for one work and class of thickness.
type Series struct {
	Measure     Measure
	Work, Class string
	Points      []XY // X in days since 1970-01-01 UTC, in order; at most MaxTrend, the newest
	Left        int  // older points left out
	Enough      bool
	Slope       Slope  // per day; only when Enough
	Direction   string // "rising", "falling" or "no clear change"; "" unless Enough
	Words       string
	Sample      bool // they are of the sample journal: there is no sheet of the owner's own
	// Median, Low and High are the middle, the first and the third quartile of the points: the spread.
	Median, Low, High float64
}

// Trends makes a series for each work and class of thickness that has a point, those with the most points first. Drafts are left out, and the sample
// journal as soon as there is one sheet of the owner's own.
func Trends(briefs []Brief, m Measure) []Series {
	type key struct{ work, class string }
	groups := map[key][]XY{}
	used := ownFirst(briefs)
	for _, b := range used {
		t, ok := readTime(b.At)
		v := m.of(b)
		if !ok || b.Draft || v == nil {
			continue
		}
		k := key{b.Work, ClassOf(b.Thick)}
		groups[k] = append(groups[k], XY{t.days(), *v})
	}
	var list []Series
	for k, points := range groups {
		s := Trend(points)
		s.Measure, s.Work, s.Class, s.Sample = m, k.work, k.class, used[0].Sample
		list = append(list, s)
	}
	slices.SortFunc(list, func(a, b Series) int {
		return cmp.Or(cmp.Compare(len(b.Points)+b.Left, len(a.Points)+a.Left), cmp.Compare(a.Work, b.Work), cmp.Compare(a.Class, b.Class))
	})
	return list
}

// of is the value of a brief; nil when it has none.
func (m Measure) of(b Brief) *float64 {
	switch m {
	case ByScore:
		return b.Overall
	case BySpeed:
		return b.Speed
	case ByGas:
		return b.Gas
	}
	return nil
}

// Trend looks at points with X in days. Below [MinTrend] points, or when all are of one moment, it says so instead of a slope.
// "Rising" and "falling" are said only when the whole interval is on that side of zero.
func Trend(points []XY) Series {
	total := len(points)
	s := Series{Points: newest(clone(points), MaxTrend)}
	s.Left = total - len(s.Points)
	s.spread()
	if total < MinTrend {
		s.Words = words.S("Not enough points: %s of %s", strconv.Itoa(total), strconv.Itoa(MinTrend))
		return s
	}
	slope, ok := TheilSen(s.Points, normal975)
	if !ok {
		s.Words = "Not enough points: all are of one moment"
		return s
	}
	s.Enough, s.Slope, s.Direction = true, slope, "no clear change"
	switch {
	case slope.Low > 0:
		s.Direction = "rising"
	case slope.High < 0:
		s.Direction = "falling"
	}
	s.Words = words.Count(len(s.Points), "point") + ": " + s.Direction
	return s
}

// spread sets the quartiles, by linear interpolation between the points in order.
func (s *Series) spread() {
	ys := axis(s.Points, func(p XY) float64 { return p.Y })
	if len(ys) == 0 {
		return
	}
	s.Low, s.Median, s.High = quantile(ys, 0.25), median(ys), quantile(ys, 0.75)
}

func quantile(sorted []float64, q float64) float64 {
	at := q * float64(len(sorted)-1)
	i := int(at)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (sorted[i+1]-sorted[i])*(at-float64(i))
}
