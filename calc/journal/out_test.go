package journal_test

import (
	"encoding/csv"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"torchside/calc/journal"
	"torchside/calc/journal/journaltest"
)

// The standard library's reader is the judge of RFC 4180.
func TestCSV_is_read_back_cell_by_cell(t *testing.T) {
	nasty := journal.Sheet{Work: "weld", Note: "a, \"b\"\r\nc\n鉄 🔥", Title: "=1+1", Tip: "-2", Place: "@home", Next: "＝x", Wrong: "tab\tin it"}
	sheets := append(journaltest.Sheets(50, 12), nasty)
	rows, err := csv.NewReader(strings.NewReader(string(journal.CSV(sheets)))).ReadAll()
	if err != nil || len(rows) != len(sheets)+1 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	cell := map[string]string{}
	for i, head := range rows[0] {
		cell[head] = rows[len(rows)-1][i]
	}
	want := map[string]string{"title": "'=1+1", "tip": "'-2", "place": "'@home", "try next": "'＝x", "what was wrong": "tab\tin it", "thickness (mm)": ""}
	for head, text := range want {
		if cell[head] != text {
			t.Errorf("%s: %q, want %q", head, cell[head], text)
		}
	}
	if got := strings.ReplaceAll(cell["note"], "\r\n", "\n"); got != "a, \"b\"\nc\n鉄 🔥" {
		t.Errorf("%q", got)
	}
}

func TestCSV_never_begins_a_cell_like_a_formula(t *testing.T) {
	for _, start := range []string{"=", "+", "-", "@", "\t", "\r"} {
		rows, err := csv.NewReader(strings.NewReader(string(journal.CSV([]journal.Sheet{{Title: start + "x", Note: start, Place: start + "1"}})))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, cell := range rows[1] {
			if strings.HasPrefix(cell, start) {
				t.Errorf("%q", cell)
			}
		}
	}
}

func ExampleText() {
	thickness, length, time := 0.0016, 0.1, 50.0
	s := journal.Sheet{At: "2026-05-17T14:30:00+02:00", Title: "Gate hinge", Work: "weld", Metal: "mild_steel", Joint: "corner", Position: "flat", ThicknessM: &thickness,
		TravelLengthM: &length, TravelS: &time, Scores: map[string]int{"width": 3, "ripple": 2, "porosity": 4}, Next: "A little faster."}
	fmt.Print(journal.Text(s, nil))
	// Output:
	// Gate hinge
	// Time: 2026-05-17T14:30:00+02:00
	// Work: Weld
	// Metal: Mild steel
	// Joint: Corner
	// Position: Flat (1G)
	// Thickness: 0.0016 m
	// Travel, length: 0.1 m
	// Travel, time: 50 s
	// Travel speed: 0.002 m/s
	// Overall: 3.0 of 4, from 3 of 8 scores
	//   Even width: 3 (even with one or two slips)
	//   Ripples: 2 (regular for half the length)
	//   Porosity: 4 (none)
	//   Not scored: Reinforcement, Undercut, Penetration, Tie-in, Distortion
	// Try next: A little faster.
}

func TestText_leaves_no_word_of_the_sheet_out(t *testing.T) {
	for _, s := range journal.Sample("2026-06-02T10:00:00+02:00") {
		text := journal.Text(s, nil)
		for _, want := range []string{s.Title, s.Tip, s.Wrong, s.Next, s.Note, "invented"} {
			if !strings.Contains(text, want) {
				t.Errorf("%q is not in\n%s", want, text)
			}
		}
	}
}

func TestSample_is_thirty_marked_sheets_that_get_better(t *testing.T) {
	const now = "2026-06-02T10:00:00+02:00"
	list := journal.Sample(now)
	if len(list) != journal.SampleSize || !reflect.DeepEqual(list, journal.Sample(now)) {
		t.Fatalf("%d sheets", len(list))
	}
	photos, best := 0, 0.0
	var early, late []float64
	for i, s := range list {
		if p := s.Unfinished(); !s.Sample || !s.Finished || len(p) > 0 || len(s.Flags(now)) > 0 {
			t.Errorf("sheet %d: %v", i, p)
		}
		if i > 0 && journal.SortKey(s.At) <= journal.SortKey(list[i-1].At) {
			t.Errorf("sheet %d is not later than the one before", i)
		}
		if _, ok := journal.DrillByID(s.Drill); !ok {
			t.Errorf("no drill %q", s.Drill)
		}
		if s.FuelGaugePa != nil && *s.FuelGaugePa > 70e3 {
			t.Errorf("sheet %d sets acetylene at %v Pa", i, *s.FuelGaugePa)
		}
		photos += len(s.Photos)
		o := s.Overall().Value
		best = max(best, o)
		if i < 10 {
			early = append(early, o)
		} else if i >= 20 {
			late = append(late, o)
		}
	}
	if photos < 20 || mean(late) < mean(early)+0.5 || best < 3 {
		t.Errorf("%d photos, from %.1f to %.1f, best %.1f", photos, mean(early), mean(late), best)
	}
	if journal.Sample("soon") != nil {
		t.Error("a sample for no time")
	}
}

func mean(list []float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += v
	}
	return sum / float64(len(list))
}

func TestDrawing_gives_the_same_bead_within_its_picture_every_time(t *testing.T) {
	for _, s := range journal.Sample("2026-06-02T10:00:00+02:00") {
		for _, p := range s.Photos {
			upper, lower := p.Draw.Outline(40)
			again, _ := p.Draw.Outline(40)
			if !reflect.DeepEqual(upper, again) || len(upper) != 41 {
				t.Fatal("not the same twice")
			}
			for i := range upper {
				if upper[i].Y >= lower[i].Y || upper[i].Y < 0 || lower[i].Y > 0.7 || upper[i].X < 0 || upper[i].X > 1 {
					t.Fatalf("%+v: %v %v", p.Draw, upper[i], lower[i])
				}
			}
			for _, spot := range p.Draw.Spots() {
				if spot.X < 0 || spot.X > 1 || spot.Y < 0 || spot.Y > 0.7 {
					t.Fatalf("%v", spot)
				}
			}
		}
	}
}
