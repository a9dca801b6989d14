package present

import (
	"torchside/calc/journal"
	"torchside/calc/words"
)

// Size of a plot of the journal in its own units, and its margins.
const (
	plotWidth, plotHeight = 340, 230
	plotLeft, plotRight   = 52, 12
	plotTop, plotBottom   = 14, 30
)

// plot is a plot of a series under construction.
type plot struct {
	svg
	from, to, low, high float64
}

// drawSeries draws the points, the band that holds half of them, and the straight line through them with its interval.
func drawSeries(v SeriesView, s journal.Series, w writer) Drawing {
	text := seriesText(v)
	if len(s.Points) == 0 {
		return Drawing{Text: text}
	}
	p := newPlot(s)
	p.band(s)
	p.axes(w)
	if s.Enough {
		p.line(s)
	}
	for _, at := range s.Points {
		p.circle("plot-point", p.x(at.X), p.y(at.Y), 4)
	}
	return p.wrap("plot", words.S("%s: %s over time", v.Title, v.Head), text, plotWidth, plotHeight)
}

// seriesText is the plot in words.
func seriesText(v SeriesView) string {
	text := words.S("%s. %s", v.Word, v.Words)
	for _, f := range v.Facts {
		text += words.S(" %s: %s.", f.Name, f.Value)
	}
	return text
}

// newPlot chooses the scales. A score has all of 0 to 4; other measures begin at zero, so that a small change does not look large.
func newPlot(s journal.Series) *plot {
	p := &plot{from: s.Points[0].X, to: s.Points[len(s.Points)-1].X, high: journal.MaxScore}
	if s.Measure == journal.BySpeed || s.Measure == journal.ByGas {
		p.high = 0
		for _, at := range s.Points {
			p.high = max(p.high, at.Y*1.05)
		}
	}
	if p.high == 0 {
		p.high = 1
	}
	return p
}

func (p *plot) x(day float64) float64 {
	const inset = 8 // room for a point at either end
	if p.to == p.from {
		return (plotLeft + plotWidth - plotRight) / 2
	}
	return plotLeft + inset + (day-p.from)/(p.to-p.from)*(plotWidth-plotLeft-plotRight-2*inset)
}

// y keeps what lies outside the scale on its edge.
func (p *plot) y(v float64) float64 {
	share := (min(max(v, p.low), p.high) - p.low) / (p.high - p.low)
	return plotHeight - plotBottom - share*(plotHeight-plotTop-plotBottom)
}

// band is the half of the points that lies in the middle, and its median.
func (p *plot) band(s journal.Series) {
	p.path("plot-band", "M"+at(plotLeft, p.y(s.Low))+"H"+num(plotWidth-plotRight)+"V"+num(p.y(s.High))+"H"+num(plotLeft)+"Z")
	p.path("plot-median", "M"+at(plotLeft, p.y(s.Median))+"H"+num(plotWidth-plotRight))
}

// axes are three levels with their values, and the first and the last day.
func (p *plot) axes(w writer) {
	for _, v := range []float64{p.low, (p.low + p.high) / 2, p.high} {
		p.path("plot-level", "M"+at(plotLeft, p.y(v))+"H"+num(plotWidth-plotRight))
		p.text("plot-value", plotLeft-6, p.y(v)+5, w.number(v))
	}
	p.text("plot-day plot-from", plotLeft, plotHeight-8, trendDay(p.from))
	if p.to > p.from {
		p.text("plot-day plot-to", plotWidth-plotRight, plotHeight-8, trendDay(p.to))
	}
}

// line is the robust straight line, and the steepest and the flattest one of its interval through the middle of the days.
func (p *plot) line(s journal.Series) {
	middle := (p.from + p.to) / 2
	level := s.Slope.Intercept + s.Slope.Value*middle
	for _, l := range []struct {
		class string
		slope float64
	}{{"plot-edge", s.Slope.Low}, {"plot-edge", s.Slope.High}, {"plot-line", s.Slope.Value}} {
		p.path(l.class, "M"+at(p.x(p.from), p.y(level+l.slope*(p.from-middle)))+"L"+at(p.x(p.to), p.y(level+l.slope*(p.to-middle))))
	}
}
