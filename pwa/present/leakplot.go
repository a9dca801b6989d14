package present

import (
	"math"

	"torchside/calc/units"
	"torchside/calc/words"
)

// TrendPoint is one ended leak test of a section.
type TrendPoint struct {
	At        int64 // ms
	Verdict   string
	Leak      units.Band // std m³/s
	GaugeOnly bool       // no rate: it stands in the words alone
}

// Size of the plot, in its own units, and its margins.
const (
	trendWidth, trendHeight = 320, 150
	trendLeft, trendRight   = 12, 12
	trendTop, trendBottom   = 26, 28
)

// Trend draws the leak rates of a section over time, each with its band, against the allowed leak.
func Trend(name string, points []TrendPoint, allowed float64, ratio units.StandardRatio, o Options) Drawing {
	text := trendText(points, ratio, o)
	var sized []TrendPoint
	for _, p := range points {
		if !p.GaugeOnly {
			sized = append(sized, p)
		}
	}
	if len(sized) < 2 {
		return Drawing{Text: text}
	}
	t := newTrend(sized, allowed)
	t.axes(LeakFlow(allowed, ratio, o))
	for _, p := range sized {
		t.point(p)
	}
	t.line(sized)
	s := &t.svg
	s.text("trend-date trend-from", trendLeft, trendHeight-6, Day(sized[0].At))
	s.text("trend-date trend-to", trendWidth-trendRight, trendHeight-6, Day(sized[len(sized)-1].At))
	return s.wrap("trend", words.S("Leak of %s over time", name), text, trendWidth, trendHeight)
}

// trendText is the plot in words.
func trendText(points []TrendPoint, ratio units.StandardRatio, o Options) string {
	parts := make([]string, 0, len(points))
	for _, p := range points {
		said := words.S("%s %s", Day(p.At), p.Verdict)
		if !p.GaugeOnly {
			said += words.S(", %s", LeakFlow(p.Leak.Value, ratio, o))
		}
		parts = append(parts, said)
	}
	return words.Join(parts, "; ") + "."
}

// trend is a plot under construction.
type trend struct {
	svg
	from, to  int64
	low, high float64
	allowed   float64
}

// newTrend chooses the scales: nothing and the allowed leak are always in it, and bands wider than ten times the largest rate are cut.
func newTrend(points []TrendPoint, allowed float64) *trend {
	t := &trend{from: points[0].At, to: points[len(points)-1].At, high: allowed * 1.25, allowed: allowed}
	most := allowed
	for _, p := range points {
		most = max(most, math.Abs(p.Leak.Value))
	}
	for _, p := range points {
		t.low = min(t.low, max(p.Leak.Low, -most))
		t.high = max(t.high, p.Leak.Value*1.1, min(p.Leak.High, 3*most))
	}
	return t
}

func (t *trend) x(at int64) float64 {
	if t.to == t.from {
		return trendWidth / 2
	}
	const inset = 14 // room for a sign at either end
	return trendLeft + inset + float64(at-t.from)/float64(t.to-t.from)*(trendWidth-trendLeft-trendRight-2*inset)
}

func (t *trend) y(rate float64) float64 {
	share := (min(max(rate, t.low), t.high) - t.low) / (t.high - t.low)
	return trendHeight - trendBottom - share*(trendHeight-trendTop-trendBottom)
}

// axes are the lines of no leak and of the allowed one.
func (t *trend) axes(allowed string) {
	t.path("trend-zero", "M"+at(trendLeft, t.y(0))+"H"+num(trendWidth-trendRight))
	t.path("trend-allowed", "M"+at(trendLeft, t.y(t.allowed))+"H"+num(trendWidth-trendRight))
	t.text("trend-label", trendLeft, 16, words.S("- - allowed %s   — no leak", allowed))
}

// point is one test: its band as a bar, its verdict as a shape.
func (t *trend) point(p TrendPoint) {
	x, y := t.x(p.At), t.y(p.Leak.Value)
	t.path("trend-band", "M"+at(x, t.y(p.Leak.Low))+"V"+num(t.y(p.Leak.High)))
	switch p.Verdict {
	case "tight":
		t.circle("trend-point trend-tight", x, y, 6)
	case "leaking":
		t.path("trend-point trend-leaking", "M"+at(x-6, y-6)+"H"+num(x+6)+"V"+num(y+6)+"H"+num(x-6)+"Z")
	default:
		t.path("trend-point trend-undecided", "M"+at(x, y-8)+"L"+at(x+8, y)+"L"+at(x, y+8)+"L"+at(x-8, y)+"Z")
	}
}

// line joins the tests.
func (t *trend) line(points []TrendPoint) {
	d := ""
	for i, p := range points {
		word := "L"
		if i == 0 {
			word = "M"
		}
		d += word + at(t.x(p.At), t.y(p.Leak.Value))
	}
	t.path("trend-line", d)
}
