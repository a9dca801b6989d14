package journal_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"torchside/calc/journal"
)

// Each refusal has to say what was read, what is allowed, and why.
func TestCheck_says_what_was_read_what_is_allowed_and_why(t *testing.T) {
	long := func(n int) string { return strings.Repeat("ß", n) }
	for name, c := range map[string]struct {
		field, read string
		sheet       journal.Sheet
	}{
		"work":            {"work", `"knit"`, journal.Sheet{Work: "knit"}},
		"position":        {"position", `"7G"`, journal.Sheet{Position: "7G"}},
		"time":            {"at", `"yesterday"`, journal.Sheet{At: "yesterday"}},
		"date":            {"at", `"2026-02-30T10:00:00Z"`, journal.Sheet{At: "2026-02-30T10:00:00Z"}},
		"long note":       {"note", "10001 characters", journal.Sheet{Note: long(journal.MaxNote + 1)}},
		"broken note":     {"note", "broken characters", journal.Sheet{Note: "a\xffb"}},
		"nonsense number": {"ratio", "NaN", journal.Sheet{Ratio: ptr(math.NaN())}},
		"pressure":        {"fuel_gauge_pa", "3e+07 Pa", journal.Sheet{FuelGaugePa: ptr(3e7)}},
		"negative":        {"thickness_m", "-0.003 m", journal.Sheet{ThicknessM: ptr(-0.003)}},
		"score":           {"scores.ripple", "5", journal.Sheet{Scores: map[string]int{"ripple": 5}}},
		"skipped":         {"skipped", `"ripple"`, journal.Sheet{Scores: map[string]int{"ripple": 1}, Skipped: []string{"ripple"}}},
		"photo":           {"photos.0.hash", `"me.jpg"`, journal.Sheet{Photos: []journal.Photo{{Hash: "me.jpg"}}}},
		"upper-case hash": {"photos.0.hash", "ABC", journal.Sheet{Photos: []journal.Photo{{Hash: strings.Repeat("ABCD", 16)}}}},
		"role":            {"photos.0.role", `"selfie"`, journal.Sheet{Photos: []journal.Photo{{Hash: hash, Role: "selfie"}}}},
		"scale":           {"photos.0.scale", "two points 5 pixels apart", journal.Sheet{Photos: []journal.Photo{{Hash: hash, Scale: &journal.Scale{X2: 3, Y2: 4, M: 0.02}}}}},
		"many photos":     {"photos", "41 photos", journal.Sheet{Photos: drawn(41)}},
		"test":            {"tests.0.test", "nothing", journal.Sheet{Tests: []journal.TestResult{{Pass: true}}}},
		"card":            {"card", "{", journal.Sheet{Card: json.RawMessage("{")}},
		"big card":        {"card", "40002 bytes", journal.Sheet{Card: json.RawMessage(`"` + strings.Repeat("x", 40000) + `"`)}},
	} {
		t.Run(name, func(t *testing.T) {
			found := c.sheet.Check()
			if len(found) == 0 {
				t.Fatal("not refused")
			}
			p := found[0]
			if p.Field != c.field || !strings.Contains(p.Read, c.read) || p.Allowed == "" || p.Why == "" {
				t.Errorf("%+v", p)
			}
			if _, err := journal.Write(c.sheet); err == nil || err.Error() != p.Error() {
				t.Errorf("written all the same: %v", err)
			}
		})
	}
}

func drawn(n int) []journal.Photo {
	list := make([]journal.Photo, n)
	for i := range list {
		list[i].Draw = &journal.Drawing{}
	}
	return list
}

func TestWrite_takes_a_note_of_10000_characters_of_any_script(t *testing.T) {
	for _, letter := range []string{"a", "<", "ß", "ش", "鉄", "🔥", "\"", "\n"} {
		s := journal.Sheet{Note: strings.Repeat(letter, journal.MaxNote), Wrong: strings.Repeat(letter, journal.MaxText), Next: strings.Repeat(letter, journal.MaxText),
			Card: json.RawMessage(`"` + strings.Repeat("x", 10000) + `"`)}
		if got := sheetOf(t, bodyOf(t, s)); got.Note != s.Note {
			t.Errorf("%q came back otherwise", letter)
		}
	}
}

func TestUnfinished_keeps_an_empty_sheet_as_a_draft(t *testing.T) {
	var s journal.Sheet
	if _, err := journal.Write(s); err != nil {
		t.Errorf("a draft may be empty: %v", err)
	}
	fields := map[string]bool{}
	for _, p := range s.Unfinished() {
		fields[p.Field] = true
	}
	if !fields["sheet"] || !fields["at"] || !fields["work"] {
		t.Errorf("asked for %v", fields)
	}
	s = journal.Sheet{At: "2026-05-01T10:00:00+02:00", Work: "weld"}
	if p := s.Unfinished(); len(p) != 1 || p[0].Field != "sheet" {
		t.Errorf("time and work alone teach nothing: %v", p)
	}
	s.Note = "🙂"
	if p := s.Unfinished(); len(p) != 0 {
		t.Errorf("%v", p)
	}
}

func TestFlags_marks_the_future_and_refuses_nothing(t *testing.T) {
	const now = "2026-05-01T10:00:00+02:00"
	for at, flagged := range map[string]bool{
		"2026-05-01T10:00:00+02:00": false, "2026-05-01T09:04:00+01:00": false, "2026-05-01T10:06:00+02:00": true, "2036-01-01T00:00:00Z": true, "": false,
	} {
		s := journal.Sheet{At: at}
		if got := len(s.Flags(now)) > 0; got != flagged || len(s.Check()) > 0 {
			t.Errorf("%q: flagged %v, refused %v", at, got, s.Check())
		}
	}
	if got := sheetOf(t, []byte(`{"weather":1}`)).Flags(now); len(got) != 1 {
		t.Errorf("an unread field is told: %v", got)
	}
}

func TestNumbers_can_each_be_set_and_read(t *testing.T) {
	for _, n := range journal.Numbers() {
		s := journal.Sheet{}.WithNumber(n.Field, &n.High)
		if v := s.Number(n.Field); v == nil || *v != n.High || len(s.Check()) > 0 || s.Empty() {
			t.Errorf("%s: %v %v", n.Field, v, s.Check())
		}
		over := n.High * 1.001
		if p := s.WithNumber(n.Field, &over).Check(); len(p) != 1 || p[0].Field != n.Field {
			t.Errorf("%s over its limit: %v", n.Field, p)
		}
	}
}
