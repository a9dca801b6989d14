package present

import (
	"math"
	"strconv"
	"time"

	"torchside/calc/gas"
	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/calc/words"
)

// SeriesView is one trend ready to show.
type SeriesView struct {
	Title   string // "Weld, 1 to 2 mm"
	Word    string // "Rising", "Falling", "No clear change", "Not enough points"
	Sign    string // "rising", "falling", "level" or "few": names the shape
	Words   string // how many points there are
	Facts   []Fact
	Drawing Drawing
	Head    string     // of the column of values: "Score (0 to 4)"
	Rows    []TrendRow // the newest first, at most trendRows
	Older   int        // points without a row
}

// TrendRow is one point of a trend in the table.
type TrendRow struct{ Day, Value string }

// trendRows is the most rows of the table: what a thumb still scrolls through.
const trendRows = 30

// MeasureWords are the measures to choose from.
func MeasureWords() []Word {
	return []Word{{string(journal.ByScore), "Score"}, {string(journal.BySpeed), "Travel speed"}, {string(journal.ByGas), "Gas used"}}
}

// TrendNeeds says what a sheet must have to be a point.
func TrendNeeds(m journal.Measure) string {
	switch m {
	case journal.BySpeed:
		return "A finished sheet with a length and a time by the stopwatch is one point."
	case journal.ByGas:
		return "A finished sheet with both the oxygen and the fuel used is one point."
	}
	return words.S("A finished sheet with an overall score is one point: give it at least %s scores.", strconv.Itoa(journal.NeedScores))
}

// SeriesTitle names work and class of thickness.
func SeriesTitle(s journal.Series, o Options) string {
	title := journal.Name(s.Work)
	if title == "" {
		title = "Work not noted"
	}
	if s.Class == "" {
		return words.S("%s, thickness not noted", title)
	}
	return words.S("%s, %s", title, ThicknessClass(s.Class, o))
}

// NewSeries writes a trend.
func NewSeries(s journal.Series, o Options) SeriesView {
	w := measureWriter(s.Measure, o)
	v := SeriesView{Title: SeriesTitle(s, o), Words: s.Words + ".", Head: w.head}
	if s.Sample {
		v.Words += words.T(" Invented: all are of the sample journal.")
	}
	switch {
	case !s.Enough:
		v.Word, v.Sign = "Not enough points", "few"
	case s.Direction == "rising":
		v.Word, v.Sign = "Rising", "rising"
	case s.Direction == "falling":
		v.Word, v.Sign = "Falling", "falling"
	default:
		v.Word, v.Sign = "No clear change", "level"
	}
	v.Facts = trendFacts(s, w)
	for i := len(s.Points) - 1; i >= 0 && len(v.Rows) < trendRows; i-- {
		v.Rows = append(v.Rows, TrendRow{Day: trendDay(s.Points[i].X), Value: w.text(s.Points[i].Y)})
	}
	v.Older = len(s.Points) + s.Left - len(v.Rows)
	v.Drawing = drawSeries(v, s, w)
	return v
}

// trendFacts are the middle, the spread, and the change in 30 days with its interval.
func trendFacts(s journal.Series, w writer) []Fact {
	if len(s.Points) == 0 {
		return nil
	}
	list := []Fact{{"Middle of all points", w.text(s.Median), "trend-median"}, {"Half of them lie between", words.S("%s and %s", w.text(s.Low), w.text(s.High)), "trend-spread"}}
	if s.Enough {
		const month = 30 // days
		list = append(list, Fact{"Change in 30 days", w.change(s.Slope.Value * month), "trend-slope"},
			Fact{"With 95 % confidence", words.S("%s to %s", w.change(s.Slope.Low*month), w.change(s.Slope.High*month)), "trend-interval"})
	}
	if s.Left > 0 {
		list = append(list, Fact{"Older points left out", strconv.Itoa(s.Left), "trend-left"})
	}
	return list
}

// writer writes the values of one measure.
type writer struct {
	head   string
	number func(si float64) string // alone, for an axis
	unit   string
}

func measureWriter(m journal.Measure, o Options) writer {
	switch m {
	case journal.BySpeed:
		return quantityWriter("Travel speed", units.QuantitySpeed, o)
	case journal.ByGas:
		return quantityWriter("Oxygen and fuel used", units.QuantityStandardVolume, o)
	}
	return writer{head: "Score (0 to 4)", number: func(v float64) string { return words.Number(strconv.FormatFloat(v, 'f', 1, 64)) }}
}

func quantityWriter(name string, q units.Quantity, o Options) writer {
	u := o.Units.Unit(q)
	// The two gases differ by less than a hundredth in what a cubic foot of them is: oxygen stands for both.
	return writer{head: words.S("%s (%s)", name, u.Symbol()), unit: u.Symbol(), number: func(v float64) string { return words.Number(units.FormatNumber(q, v, u, gas.Oxygen.StandardRatio())) }}
}

func (w writer) text(v float64) string {
	if w.unit == "" {
		return w.number(v)
	}
	return w.number(v) + " " + w.unit
}

// change writes a difference with its sign. A score changes by hundredths.
func (w writer) change(v float64) string {
	sign := "+"
	if v < 0 {
		sign = "−"
	}
	if w.unit == "" {
		return sign + words.Number(strconv.FormatFloat(math.Abs(v), 'f', 2, 64))
	}
	return sign + w.text(math.Abs(v))
}

func trendDay(days float64) string {
	return time.Unix(int64(days*86400), 0).UTC().Format("2006-01-02")
}
