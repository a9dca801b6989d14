package present

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"torchside/calc/journal"
	"torchside/calc/units"
)

func TestScoreMark_says_the_same_by_word_number_and_bars(t *testing.T) {
	for _, c := range []struct {
		v    *float64
		text string
		bars int
	}{{nil, "Not scored", -1}, {ptr(0), "Poor, 0.0 of 4", 0}, {ptr(1.9), "Weak, 1.9 of 4", 1}, {ptr(2), "Usable, 2.0 of 4", 2}, {ptr(3.6), "Good, 3.6 of 4", 3},
		{ptr(4), "Clean, 4.0 of 4", 4}, {ptr(math.NaN()), "Not scored", -1}} {
		if m := NewScoreMark(c.v); m.Text() != c.text || m.Level != c.bars {
			t.Errorf("%v reads %q with %d bars, want %q with %d", c.v, m.Text(), m.Level, c.text, c.bars)
		}
	}
}

func TestSheetLine_names_the_sheet_by_what_is_known_in_the_owners_units(t *testing.T) {
	b := journal.Brief{At: "2026-05-03T16:41:00+02:00", Work: "weld", Metal: "mild_steel", Joint: "corner", Thick: ptr(0.003175), Test: "fail", Draft: true}
	line := NewSheetLine(b, "", Options{Units: units.US()})
	if line.Title != "Weld\u00a0· Mild steel\u00a0· 1/8\u00a0in\u00a0· Corner" || line.What != "" || line.When != "2026-05-03 16:41" || strings.Join(line.Tags, ",") != "Draft,Test failed" {
		t.Errorf("%+v", line)
	}
	b.Title = "Gate"
	if line := NewSheetLine(b, "Outside corner", Options{Units: units.Metric()}); line.Title != "Gate" || !strings.Contains(line.What, "3.18\u00a0mm") {
		t.Errorf("%+v", line)
	}
	if line := NewSheetLine(journal.Brief{At: "some day"}, "", Options{Units: units.Metric()}); line.Title == "" || line.When != "some day" {
		t.Errorf("%+v", line)
	}
}

// rising makes n points that rise by a tenth a day, ten days apart.
func rising(n int, m journal.Measure) journal.Series {
	points := make([]journal.XY, n)
	for i := range points {
		points[i] = journal.XY{X: float64(20000 + 10*i), Y: 0.5 + 0.1*float64(i)}
	}
	s := journal.Trend(points)
	s.Measure, s.Work, s.Class = m, "weld", "1-2"
	return s
}

func TestSeries_says_the_direction_only_with_enough_points(t *testing.T) {
	few := NewSeries(rising(journal.MinTrend-1, journal.ByScore), Options{Units: units.Metric()})
	if few.Sign != "few" || !strings.Contains(few.Words, "7 of 8") || strings.Contains(few.Drawing.SVG, "plot-line") {
		t.Errorf("%+v", few)
	}
	v := NewSeries(rising(20, journal.ByScore), Options{Units: units.Metric()})
	if v.Word != "Rising" || v.Title != "Weld, 1 to 2 mm" || strings.Count(v.Drawing.SVG, "plot-point") != 20 || !strings.Contains(v.Drawing.SVG, "plot-line") {
		t.Errorf("%+v", v)
	}
	facts := map[string]string{}
	for _, f := range v.Facts {
		facts[f.Val] = f.Value
		if !strings.Contains(v.Drawing.Text, f.Value) {
			t.Errorf("the words lack %q", f.Value)
		}
	}
	// A tenth in ten days is three tenths in thirty.
	if facts["trend-slope"] != "+0.30" || facts["trend-interval"] != "+0.30 to +0.30" || facts["trend-median"] != "1.4" && facts["trend-median"] != "1.5" {
		t.Errorf("%v", facts)
	}
	if us := NewSeries(rising(20, journal.BySpeed), Options{Units: units.US()}); us.Title != "Weld, 18 to 14 ga" || !strings.Contains(us.Head, "in/min") {
		t.Errorf("%s, %s", us.Title, us.Head)
	}
	if long := NewSeries(rising(40, journal.ByScore), Options{Units: units.Metric()}); len(long.Rows) != trendRows || long.Older != 10 || long.Rows[0].Day <= long.Rows[1].Day {
		t.Errorf("%d rows, %d older", len(long.Rows), long.Older)
	}
}

// Whatever the points are, everything drawn lies inside the picture.
func TestSeries_draws_inside_the_picture(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	for range 200 {
		points := make([]journal.XY, 1+r.IntN(40))
		for i := range points {
			points[i] = journal.XY{X: 20000 + 400*r.Float64(), Y: 0.02 * r.ExpFloat64()}
		}
		s := journal.Trend(points)
		s.Measure = []journal.Measure{journal.ByScore, journal.BySpeed, journal.ByGas}[r.IntN(3)]
		svg := NewSeries(s, Options{Units: units.Metric()}).Drawing.SVG
		for _, part := range strings.Split(svg, "<circle ")[1:] {
			x, y := attribute(t, part, "cx"), attribute(t, part, "cy")
			if x < plotLeft || x > plotWidth || y < 0 || y > plotHeight {
				t.Fatalf("a point at %v, %v", x, y)
			}
		}
		if strings.Contains(svg, "NaN") {
			t.Fatal(svg)
		}
	}
}

func attribute(t *testing.T, part, name string) float64 {
	t.Helper()
	_, rest, _ := strings.Cut(part, name+`="`)
	text, _, _ := strings.Cut(rest, `"`)
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestCompare_marks_what_differs_by_more_than_is_shown(t *testing.T) {
	a := journal.Sheet{Work: "weld", Metal: "mild_steel", Tip: "1", OxygenGaugePa: ptr(30000), FuelGaugePa: ptr(30000), TravelLengthM: ptr(0.1), TravelS: ptr(60), Fuel: "acetylene"}
	b := a
	b.OxygenGaugePa, b.FuelGaugePa, b.TravelS, b.Tip, b.Note = ptr(30010), ptr(45000), ptr(75), "", "Windy"
	different, same := NewCompare(journal.Compare(a, b), journal.DrillName, Options{Units: units.Metric()})
	got := map[string]CompareLine{}
	for _, l := range append(different, same...) {
		got[l.Field] = l
	}
	for field, want := range map[string]CompareLine{
		"work":            {A: "Weld", B: "Weld", Sign: "same"},
		"fuel":            {A: "Acetylene", B: "Acetylene", Sign: "same"},
		"oxygen_gauge_pa": {A: "0.3 bar", B: "0.3 bar", Sign: "same"},
		"fuel_gauge_pa":   {A: "0.3 bar", B: "0.45 bar", Sign: "different", Change: "+0.15 bar (+50 %)"},
		"travel_s":        {A: "60 s", B: "75 s", Sign: "different", Change: "+15 s (+25 %)"},
		"travel_speed":    {A: "100 mm/min", B: "80 mm/min", Sign: "different", Change: "−20 mm/min (−20 %)"},
		"tip":             {A: "1", B: "not noted", Sign: "one"},
		"note":            {A: "not noted", B: "Windy", Sign: "one"},
	} {
		if l := got[field]; l.A != want.A || l.B != want.B || l.Sign != want.Sign || l.Change != want.Change || l.Word == "" {
			t.Errorf("%s: %+v, want %+v", field, l, want)
		}
	}
}

func TestDrillMark_runs_through_the_oxide_colours_in_order(t *testing.T) {
	for i, l := range []journal.Level{journal.Bare, journal.Straw, journal.Bronze, journal.Purple, journal.Blue} {
		if m := NewDrillMark(journal.DrillProgress{Level: l, Words: "x"}); m.Steps != i || m.Name == "" || m.Words != "x" {
			t.Errorf("%q: %+v", l, m)
		}
	}
}

func TestUnderstood_is_in_the_owners_unit(t *testing.T) {
	for _, tt := range []struct{ read, unit, want string }{
		{"1/8 in = 3.175 mm", "mm", "3.175 mm"},
		{"1/8 in = 3.175 mm", "in", "1/8 in"},
		{"1.8 psi = 0.1241 bar", "psi", "1.8 psi"},
		{"1.8 psi = 0.1241 bar", "bar", "0.1241 bar"},
		{"3 mm", "in", "3 mm"},
		{"", "in", ""},
	} {
		if got := Understood(tt.read, tt.unit); got != tt.want {
			t.Errorf("of %q in %s: %q, want %q", tt.read, tt.unit, got, tt.want)
		}
	}
}

// What the owner typed stands on a sheet as it was typed; what the sample brings is said in the language in use.
func TestNewJournalSheet_leavesTheOwnersWordsAlone(t *testing.T) {
	s := journal.Sheet{Title: "Gate", Place: "yard", Tip: "copper", Flux: "borax flux", Filler: "rod"}
	own := 0
	for _, f := range NewJournalSheet(s, "", Options{Units: units.Metric()}).Facts {
		if f.Own() {
			own++
		}
	}
	if own != 4 {
		t.Errorf("%d facts are the owner's own, want place, tip, rod and flux", own)
	}
}
