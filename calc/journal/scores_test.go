package journal_test

import (
	"math/rand"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/journal"
)

// Every published limit must stand in the table of weld quality with the same source and number, and one of trust C must be
// marked as from memory.
func TestScores_carry_the_limits_of_the_reference_table(t *testing.T) {
	rows := calctest.Reference(t, "weld_quality.csv")
	limits := journal.TestLimits()
	for _, s := range journal.ScoresFor("weld") {
		limits = append(limits, s.Limits...)
	}
	checked := 0
	for _, l := range limits {
		if l.Unit == "" {
			continue
		}
		row := rowOf(rows, l)
		if row == nil {
			t.Errorf("no row says %q", l.Text)
			continue
		}
		if fromMemory := row.Text("trust") == "C"; fromMemory != l.FromMemory {
			t.Errorf("%s: from memory %v, trust %s", l.Text, l.FromMemory, row.Text("trust"))
		}
		checked++
	}
	if checked < 7 {
		t.Errorf("only %d limits have a number", checked)
	}
}

// rowOf finds the row with the source and number of a limit.
func rowOf(rows []calctest.Row, l journal.Limit) *calctest.Row {
	for i, r := range rows {
		source := strings.TrimSuffix(l.Source, " (second-hand)")
		if r.Text("source") == source && r.Text("unit_si") == "mm" && r.Has("value_si") && r.Number("value_si") == l.SI*1000 {
			return &rows[i]
		}
	}
	return nil
}

func TestScores_have_ids_of_their_own_and_words_for_every_step(t *testing.T) {
	for _, w := range journal.Works() {
		seen := map[string]bool{}
		for _, s := range journal.ScoresFor(w.ID) {
			if s.ID == "" || seen[s.ID] || s.Name == "" || s.About == "" || s.Source == "" {
				t.Errorf("%s: %+v", w.ID, s)
			}
			seen[s.ID] = true
			words := map[string]bool{}
			for _, step := range s.Steps {
				if step == "" || words[step] {
					t.Errorf("%s %s: step %q", w.ID, s.ID, step)
				}
				words[step] = true
			}
		}
		if len(seen) < journal.NeedScores {
			t.Errorf("%s has %d scores", w.ID, len(seen))
		}
	}
	if journal.ScoresFor("knit") != nil {
		t.Error("an unknown work has scores")
	}
}

func TestOverall_is_the_mean_of_what_was_scored_and_says_what_was_not(t *testing.T) {
	weld := func(scores map[string]int, tests ...journal.TestResult) journal.Overall {
		return journal.Sheet{Work: "weld", Scores: scores, Tests: tests}.Overall()
	}
	three := map[string]int{"width": 4, "ripple": 3, "tie_in": 2}
	fail, pass := journal.TestResult{Test: "root_bend"}, journal.TestResult{Test: "face_bend", Pass: true}
	for name, c := range map[string]struct {
		got    journal.Overall
		known  bool
		value  float64
		capped bool
		left   int
	}{
		"nothing scored":       {weld(nil), false, 0, false, 8},
		"two are too few":      {weld(map[string]int{"width": 4, "ripple": 4}), false, 0, false, 6},
		"three":                {weld(three), true, 3, false, 5},
		"a failed test caps":   {weld(three, pass, fail), true, journal.FailedCap, true, 5},
		"a passed one changes": {weld(three, pass), true, 3, false, 5},
		"already below":        {weld(map[string]int{"width": 0, "ripple": 1, "tie_in": 0}, fail), true, 1.0 / 3, false, 5},
		"others do not count":  {weld(map[string]int{"width": 4, "ripple": 3, "tie_in": 2, "drag": 0}), true, 3, false, 5},
	} {
		if g := c.got; g.Known != c.known || g.Value != c.value || g.Capped != c.capped || len(g.Skipped) != c.left || g.Words() == "" {
			t.Errorf("%s: %+v", name, g)
		}
	}
}

// The overall score can never lie outside the scores it comes from, and no better score may lower it.
func TestOverall_never_falls_when_a_score_rises(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	for range 500 {
		s := journal.Sheet{Work: "weld", Scores: map[string]int{}}
		for _, score := range journal.ScoresFor("weld") {
			s.Scores[score.ID] = r.Intn(journal.MaxScore)
		}
		before := s.Overall().Value
		s.Scores["ripple"]++
		if after := s.Overall().Value; !(after > before) || after > journal.MaxScore {
			t.Fatalf("%v: %v then %v", s.Scores, before, after)
		}
	}
}

func TestDrills_can_each_be_begun_and_written_as_an_own_one(t *testing.T) {
	seen := map[string]bool{}
	for _, d := range journal.Drills() {
		if seen[d.ID] || d.Aim == "" || d.Look == "" || d.Group == "" {
			t.Errorf("%+v", d)
		}
		seen[d.ID] = true
		if p := d.Sheet().Check(); len(p) > 0 {
			t.Errorf("%s: %v", d.ID, p[0])
		}
		body, err := journal.WriteDrill(d)
		if err != nil {
			t.Errorf("%s: %v", d.ID, err)
		}
		if back, err := journal.ReadDrill(body); err != nil || back.Aim != d.Aim {
			t.Errorf("%s: %v", d.ID, err)
		}
	}
	for _, bad := range []journal.Drill{{Work: "weld"}, {Name: "x"}, {Name: "x", Work: "knit"}, {Name: "x", Work: "weld", Score: 9}} {
		if _, err := journal.WriteDrill(bad); err == nil {
			t.Errorf("%+v was written", bad)
		}
	}
}

// An older good sheet must not hide a bad one today.
func TestProgress_counts_the_last_sheets_only(t *testing.T) {
	d, _ := journal.DrillByID("corner")
	sheets := func(scores ...float64) []journal.Brief { // the oldest first
		var list []journal.Brief
		for i := range scores {
			list = append(list, journal.Brief{At: "2026-05-1" + string(rune('0'+i)) + "T10:00:00Z", Overall: &scores[i]})
		}
		rand.New(rand.NewSource(2)).Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		return list
	}
	for name, c := range map[string]struct {
		sheets []journal.Brief
		level  journal.Level
		on     bool
	}{
		"none":                   {nil, journal.Bare, false},
		"only a draft":           {[]journal.Brief{{Draft: true, Overall: ptr(4)}}, journal.Bare, false},
		"one without a score":    {[]journal.Brief{{}}, journal.Straw, false},
		"one bad":                {sheets(1), journal.Straw, false},
		"one good":               {sheets(3), journal.Bronze, false},
		"two good":               {sheets(3, 4), journal.Purple, false},
		"three good":             {sheets(3, 4, 3), journal.Blue, true},
		"a bad one after":        {sheets(3, 4, 3, 2), journal.Purple, false},
		"good long ago":          {sheets(4, 4, 4, 1, 1, 1), journal.Straw, false},
		"just under the mark":    {sheets(2.9, 2.9, 2.9), journal.Straw, false},
		"bad long ago, good now": {sheets(0, 0, 3, 3, 3), journal.Blue, true},
	} {
		got := journal.Progress(d, c.sheets)
		if got.Level != c.level || got.MoveOn != c.on || got.Words == "" || got.Share < 0 || got.Share > 1 {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
