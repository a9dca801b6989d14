package journal_test

import (
	"crypto/sha256"
	"fmt"
	"math/rand"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"torchside/calc/journal"
	"torchside/calc/journal/journaltest"
)

func TestWords_folds_case_accents_digits_and_leaves_other_scripts_whole(t *testing.T) {
	for text, want := range map[string]string{
		"Größer, GRÖSSER":         "grosser",
		"Żelazo naïve Åse":        "zelazo naive ase",
		"1/8 in; 3,2 mm 3.2":      "1 8 in 3.2 mm",
		"1,2,3":                   "1.2.3",
		"No. 2":                   "no 2",
		"e\u0301tain étain":       "etain",
		"حَدِيد حديد":             "حديد",
		"٣٫٢ مم":                  "3.2 مم",
		"שלום עולם":               "שלום עולם",
		"溶接 鉄":                    "溶 接 鉄",
		"ok 👍🏽👍 🔥hot":             "ok 👍 🔥 hot",
		"\u200f \u200d \t\n":      "",
		"ΣΊΣΥΦΟΣ":                 "σίσυφοσ",
		"don't":                   "don t",
		strings.Repeat("a", 1000): strings.Repeat("a", journal.MaxTerm),
	} {
		if got := strings.Join(journal.Words(text), " "); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

func FuzzWords_folding_twice_changes_nothing(f *testing.F) {
	f.Add("Größer 3,2 حَدِيد 👍🏽")
	f.Fuzz(func(t *testing.T, text string) {
		once := journal.Words(text)
		if again := journal.Words(strings.Join(once, " ")); !slices.Equal(once, again) {
			t.Errorf("%q: %q then %q", text, once, again)
		}
	})
}

func TestIndex_sorts_by_the_instant_whatever_the_offset(t *testing.T) {
	for at, want := range map[string]string{
		"2026-05-17T14:30:00+02:00":     "2026-05-17T12:30:00.000Z",
		"2026-01-01T00:30:00.25+01:00":  "2025-12-31T23:30:00.250Z",
		"1969-12-31T23:59:59.5Z":        "1969-12-31T23:59:59.500Z",
		"2024-02-29T23:00:00.123-05:30": "2024-03-01T04:30:00.123Z",
		"":                              "", "2026-05-17": "", "2025-02-29T00:00:00Z": "", "0000-01-01T00:00:00+01:00": "",
	} {
		if got := journal.SortKey(at); got != want {
			t.Errorf("%q: %q, want %q", at, got, want)
		}
	}
}

// The package reads times without a clock library; the standard library is the reference.
func TestSortKey_agrees_with_the_standard_library_on_random_times(t *testing.T) {
	r := rand.New(rand.NewSource(9))
	for range 5000 {
		at := time.Unix(r.Int63n(6e9)-2e9, int64(r.Intn(1000))*1e6).In(time.FixedZone("", (r.Intn(49)-24)*1800))
		want := at.UTC().Format("2006-01-02T15:04:05.000Z07:00")
		if got := journal.SortKey(at.Format("2006-01-02T15:04:05.000Z07:00")); got != want {
			t.Fatalf("%s: %s, want %s", at, got, want)
		}
	}
}

// The entries of one full sheet, by the version that made them. Stores hold entries of before until the version is another: what Index
// gives must not change without it.
func TestIndex_changes_only_with_its_version(t *testing.T) {
	s := journal.Sheet{At: "2026-05-31T23:30:00-05:00", Finished: true, Title: "Gate hinge", Work: "weld", Metal: "mild_steel", Joint: "corner", Position: "vertical_up",
		ThicknessM: ptr(0.0016), Tip: "No. 2", Filler: "RG45", Flame: "neutral", Drill: "corner", Wrong: "too hot", Next: "quicker", Note: "3,2 mm Größe",
		Photos: []journal.Photo{{Hash: hash, Caption: "root side"}}, Tests: []journal.TestResult{{Test: "break", Pass: true, Seen: "fibrous"}},
		Scores: map[string]int{"width": 3, "ripple": 3, "tie_in": 4}}
	sort, terms, brief := journal.Index(journal.Kind, bodyOf(t, s))
	given := fmt.Sprintf("%s\n%s\n%s", sort, strings.Join(terms, "\n"), brief)
	sum := fmt.Sprintf("%d: %x", journal.IndexVersion, sha256.Sum256([]byte(given)))
	if want := "2: 439f6ac9d724d1da69ee160cd3d1e2aeec836c5f62d7f4fe9a681c6393f95b0e"; sum != want {
		t.Errorf("the index gives something else: raise journal.IndexVersion (unless it is raised already) and write here %q for\n%s", sum, given)
	}
}

func TestIndex_finds_a_sheet_by_each_of_its_filters(t *testing.T) {
	s := journal.Sheet{At: "2026-05-31T23:30:00-05:00", Finished: true, Work: "weld", Metal: "mild_steel", Joint: "corner", Position: "vertical_up", ThicknessM: ptr(0.0016),
		Tip: "No. 2", Drill: "corner", Photos: []journal.Photo{{Hash: hash}}, Tests: []journal.TestResult{{Test: "break", Pass: true}},
		Scores: map[string]int{"width": 3, "ripple": 3, "tie_in": 4}}
	sort, terms, brief := journal.Index(journal.Kind, bodyOf(t, s))
	if sort != "2026-06-01T04:30:00.000Z" || !slices.IsSorted(terms) {
		t.Errorf("%q %q", sort, terms)
	}
	b, err := journal.ReadBrief(brief)
	if err != nil || !reflect.DeepEqual(b, journal.BriefOf(s)) {
		t.Errorf("%s: %v", brief, err)
	}
	for _, f := range []journal.Filter{{}, {Work: "weld"}, {Metal: "mild_steel"}, {Joint: "corner"}, {Position: "vertical_up"}, {Class: "1-2"}, {Tip: "no 2"}, {Drill: "corner"},
		{Score: "3"}, {Month: "2026-05"}, {Test: "pass"}, {Photo: true}, {Work: "weld", Photo: true, Month: "2026-05"}} {
		if !journal.Ask(f, "").Matches(terms) {
			t.Errorf("%+v does not find it", f)
		}
	}
	for _, f := range []journal.Filter{{Work: "cut"}, {Class: "2-2.8"}, {Tip: "3"}, {Score: "4"}, {Month: "2026-06"}, {Test: "fail"}, {Draft: true}, {Sample: true}, {Work: "weld", Joint: "lap"}} {
		if journal.Ask(f, "").Matches(terms) {
			t.Errorf("%+v finds it", f)
		}
	}
}

func TestAsk_finds_every_word_and_the_beginning_of_the_last(t *testing.T) {
	terms := journal.Sheet{Note: "Größere Pfütze an der Kante, حديد 鉄材 🔥 3,2 mm", Work: "weld"}.Terms()
	for text, want := range map[string]bool{
		"": true, "pfutze": true, "PFÜ": true, "kante gross": true, "gross kante": false, "grossere kante": true, "gross ": false, "3.2": true, "حدي": true, "鉄": true, "材鉄": true,
		"🔥": true, "🧊": false, "weld": true, "work=weld": false, "=": true, "pfutze pfu": true, "~": true,
	} {
		if got := journal.Ask(journal.Filter{}, text).Matches(terms); got != want {
			t.Errorf("%q: found %v, want %v (%+v)", text, got, want, journal.Ask(journal.Filter{}, text))
		}
	}
}

// Whatever is in a sheet must be found by any word of it.
func TestAsk_finds_each_sheet_by_each_word_of_its_note(t *testing.T) {
	for _, s := range journaltest.Sheets(100, 10) {
		terms := s.Terms()
		for _, w := range strings.Fields(s.Note) {
			if !journal.Ask(journal.Filter{}, w).Matches(terms) {
				t.Fatalf("%q does not find %q", w, s.Note)
			}
		}
	}
}

func TestIndex_of_what_it_cannot_read_is_empty(t *testing.T) {
	for _, c := range []struct{ kind, body string }{{"torch", "{}"}, {journal.Kind, "["}, {journal.DrillKind, `{"name":"x"}`}} {
		if sort, terms, brief := journal.Index(c.kind, []byte(c.body)); sort != "" || terms != nil || brief != nil {
			t.Errorf("%+v: %q %q %s", c, sort, terms, brief)
		}
	}
}

func TestClasses_hold_the_metric_and_the_inch_size_of_one_sheet_together(t *testing.T) {
	// 16 and 11 gauge of the Manufacturers' Standard are 0.0598 in and 0.1196 in (see calc/units).
	for _, group := range [][]float64{{1.6, 25.4 / 16, 25.4 * 0.0598}, {3, 25.4 / 8, 25.4 * 0.1196}, {6, 25.4 / 4}, {10, 25.4 * 3 / 8}} {
		first := journal.ClassOf(ptr(group[0] / 1000))
		for _, mm := range group {
			if got := journal.ClassOf(ptr(mm / 1000)); got != first || got == "" {
				t.Errorf("%v mm is %q, %v mm is %q", mm, got, group[0], first)
			}
		}
	}
	list := journal.Classes()
	for i := 1; i < len(list); i++ {
		if list[i].Low != list[i-1].High {
			t.Errorf("a gap before %s", list[i].ID)
		}
	}
}

func BenchmarkIndex(b *testing.B) {
	bodies := make([][]byte, 200)
	for i, s := range journaltest.Sheets(len(bodies), 11) {
		bodies[i] = bodyOf(b, s)
	}
	b.ResetTimer()
	size := 0
	for i := range b.N {
		_, _, brief := journal.Index(journal.Kind, bodies[i%len(bodies)])
		size += len(brief)
	}
	b.ReportMetric(float64(size)/float64(b.N), "briefbytes/op")
}

// The names in gauges and inches must say the same ranges: every size they name falls into its class. Gauges are those of steel
// sheet (Manufacturers' Standard Gauge, in inches).
func TestClasses_have_names_in_gauges_and_inches_of_the_same_range(t *testing.T) {
	const inch = 0.0254
	gauge := map[int]float64{20: 0.0359, 18: 0.0478, 14: 0.0747, 13: 0.0897, 12: 0.1046, 11: 0.1196}
	sizes := map[string][]float64{"lt1": {gauge[20]}, "1-2": {gauge[18], gauge[14]}, "2-2.8": {gauge[13], gauge[12]}, "2.8-4.5": {gauge[11], 5.0 / 32},
		"4.5-7": {3.0 / 16, 1.0 / 4}, "7-12": {5.0 / 16, 7.0 / 16}, "12-25": {1.0 / 2, 15.0 / 16}, "gt25": {1}}
	for _, c := range journal.Classes() {
		for _, size := range sizes[c.ID] {
			m := size * inch
			if got := journal.ClassOf(&m); got != c.ID {
				t.Errorf("%v in is in %s, not in %s (%s)", size, got, c.ID, c.US)
			}
		}
		if c.US == "" || len(sizes[c.ID]) == 0 {
			t.Errorf("%s has no name or no size", c.ID)
		}
	}
}
