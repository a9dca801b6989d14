package journal_test

import (
	"math/rand"
	"strings"
	"testing"

	"torchside/calc/journal"
	"torchside/calc/journal/journaltest"
)

// corner is a sheet of a 1.6 mm corner joint.
func corner(day string, overall, fuelPa float64, tip string) journal.Brief {
	return journal.Brief{At: "2026-05-" + day + "T10:00:00Z", Work: "weld", Metal: "mild_steel", Joint: "corner", Thick: ptr(0.0016), Overall: &overall,
		FuelPa: &fuelPa, Tip: tip, Fuel: "acetylene"}
}

var wantCorner = journal.Wanted{Work: "weld", Metal: "mild_steel", Joint: "corner", Thick: 0.0016}

func TestBest_needs_three_sheets_and_says_how_many(t *testing.T) {
	list := []journal.Brief{corner("01", 3, 30e3, "2"), corner("02", 2, 31e3, "2")}
	if got := journal.Best(list, wantCorner); got.Enough || got.Sheets != 2 || !strings.Contains(got.Words, "2 of 3") {
		t.Errorf("%+v", got)
	}
	draft, unrated, other := corner("03", 4, 1, "9"), corner("04", 4, 1, "9"), corner("05", 4, 1, "9")
	draft.Draft, unrated.Overall, other.Joint = true, nil, "lap"
	thick := corner("06", 4, 1, "9")
	thick.Thick = ptr(0.003)
	if got := journal.Best(append(list, draft, unrated, other, thick), wantCorner); got.Sheets != 2 {
		t.Errorf("drafts, unrated sheets and other work count: %+v", got)
	}
}

func TestBest_is_the_median_of_the_best_third_with_its_spread(t *testing.T) {
	list := []journal.Brief{corner("01", 1, 10e3, "1"), corner("02", 4, 30e3, "2"), corner("03", 2, 11e3, "1"), corner("04", 3.5, 40e3, "3"),
		corner("05", 1.5, 12e3, "1"), corner("06", 3, 35e3, "2"), corner("07", 0, 13e3, "1")}
	got := journal.Best(list, wantCorner)
	want := journal.Spread{N: 3, Median: 35e3, Low: 30e3, High: 40e3}
	if !got.Enough || got.Sheets != 7 || got.Used != 3 || got.FuelPa != want || got.Tip != (journal.Common{Value: "2", N: 2, Of: 3}) || got.Newest != "2026-05-06T10:00:00Z" {
		t.Errorf("%+v", got)
	}
	if got.OxygenPa.N != 0 {
		t.Error("a number nobody noted was made up")
	}
}

// 15 psi gauge is the limit for acetylene (29 CFR 1910.253(a)(2)): a sheet that broke it must not become advice.
func TestBest_never_hands_on_a_fuel_pressure_over_the_limit(t *testing.T) {
	list := []journal.Brief{corner("01", 3, 30e3, "2"), corner("02", 3, 30e3, "2"), corner("03", 4, 104e3, "2")}
	list[2].Fuel = "" // not noted: taken for acetylene
	if got := journal.Best(list, wantCorner); got.FuelPa.N != 0 || got.OverLimit != 1 || !strings.Contains(got.Words, "15 psi") {
		t.Errorf("%+v", got)
	}
	list[2].Fuel = "propane"
	if got := journal.Best(list, wantCorner); got.FuelPa.N != 1 || got.OverLimit != 0 {
		t.Errorf("the limit is that of acetylene: %+v", got)
	}
}

// The order in which a store hands the sheets over must not change the answer, and the median must lie within its spread.
func TestBest_and_Trends_do_not_depend_on_the_order(t *testing.T) {
	var list []journal.Brief
	for _, s := range journaltest.Sheets(600, 4) {
		list = append(list, journal.BriefOf(s))
	}
	wanted := journal.Wanted{Work: "weld", Thick: 0.0016}
	first, trends := journal.Best(list, wanted), journal.Trends(list, journal.ByScore)
	if !first.Enough || len(trends) == 0 {
		t.Fatal("the test journal answers nothing")
	}
	r := rand.New(rand.NewSource(5))
	for range 5 {
		r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		if again := journal.Best(list, wanted); again != first {
			t.Fatalf("%+v\n%+v", again, first)
		}
		for i, s := range journal.Trends(list, journal.ByScore) {
			if s.Work != trends[i].Work || s.Class != trends[i].Class || s.Slope != trends[i].Slope {
				t.Fatalf("%+v\n%+v", s, trends[i])
			}
		}
	}
	for _, s := range []journal.Spread{first.FuelPa, first.OxygenPa, first.Ratio, first.Speed, first.Score} {
		if s.N == 0 || s.Median < s.Low || s.Median > s.High {
			t.Errorf("%+v", s)
		}
	}
}

func TestTrends_find_that_the_test_journal_gets_better(t *testing.T) {
	var list []journal.Brief
	for _, s := range journaltest.Sheets(3000, 6) {
		list = append(list, journal.BriefOf(s))
	}
	for m, want := range map[journal.Measure]string{journal.ByScore: "rising", journal.BySpeed: "rising"} {
		best := journal.Trends(list, m)[0]
		if best.Direction != want || best.Slope.Low > best.Slope.Value || best.Low > best.High {
			t.Errorf("%s: %+v", m, best)
		}
	}
}

func TestCompare_has_a_line_for_every_field_either_sheet_has(t *testing.T) {
	a := journal.Sheet{Work: "weld", Tip: "2", FuelGaugePa: ptr(30e3), TravelLengthM: ptr(0.1), TravelS: ptr(50), Scores: map[string]int{"ripple": 2, "width": 1, "tie_in": 3}}
	b := journal.Sheet{Work: "weld", Tip: "2", FuelGaugePa: ptr(36e3), Note: "better", Scores: map[string]int{"ripple": 4}, Photos: []journal.Photo{{Role: "after"}}}
	lines := map[string]journal.Difference{}
	for _, d := range journal.Compare(a, b) {
		lines[d.Field] = d
	}
	if d := lines["tip"]; !d.Same || d.A != "2" {
		t.Errorf("%+v", d)
	}
	if d := lines["fuel_gauge_pa"]; d.Same || *d.Change != 6e3 || *d.Relative != 0.2 {
		t.Errorf("%+v", d)
	}
	if d := lines["scores.ripple"]; *d.Change != 2 {
		t.Errorf("%+v", d)
	}
	if d := lines["travel_speed"]; *d.NumA != 0.002 || d.NumB != nil || d.Same || d.Change != nil {
		t.Errorf("%+v", d)
	}
	for _, field := range []string{"note", "photos", "scores.width", "overall", "work"} {
		if _, ok := lines[field]; !ok {
			t.Errorf("no line for %s", field)
		}
	}
	if _, ok := lines["flux"]; ok {
		t.Error("a line for what neither has")
	}
}

func TestCompare_of_a_sheet_with_itself_finds_no_difference(t *testing.T) {
	for _, s := range journaltest.Sheets(100, 8) {
		for _, d := range journal.Compare(s, s) {
			if !d.Same {
				t.Fatalf("%+v", d)
			}
		}
	}
}

// Invented sheets answer only as long as there are none of the owner's own, and then say so.
func TestBest_never_mixes_the_sample_with_own_sheets(t *testing.T) {
	list := []journal.Brief{corner("01", 3, 30e3, "2"), corner("02", 3, 31e3, "2"), corner("03", 4, 32e3, "2")}
	for i := range list {
		list[i].Sample = true
	}
	if got := journal.Best(list, wantCorner); !got.Enough || !got.Sample {
		t.Errorf("%+v", got)
	}
	if got := journal.Best(append(list, corner("04", 1, 20e3, "1")), wantCorner); got.Enough || got.Sample || got.Sheets != 1 {
		t.Errorf("one own sheet beside three of the sample: %+v", got)
	}
}
