package upkeep

import (
	"errors"
	"fmt"
	"math/rand"
	"strings"
	"testing"
	"time"
)

func day(t testing.TB, text string) Day {
	t.Helper()
	d, ok := ParseDay(text)
	if !ok {
		t.Fatalf("%q is no day", text)
	}
	return d
}

// Months of the calendar: over leap days, short months and the ends of years. Worked out on a paper calendar.
func TestAddMonths_keepsToTheCalendar(t *testing.T) {
	for _, c := range []struct {
		from   string
		months int
		want   string
	}{
		{"2024-02-29", 12, "2025-02-28"}, {"2024-02-29", 48, "2028-02-29"}, {"2023-01-31", 1, "2023-02-28"}, {"2024-01-31", 1, "2024-02-29"},
		{"2023-08-31", 1, "2023-09-30"}, {"2023-12-15", 1, "2024-01-15"}, {"2019-06-01", 60, "2024-06-01"}, {"2100-02-28", 12, "2101-02-28"}, {"2096-02-29", 48, "2100-02-28"},
	} {
		if got := AddMonths(day(t, c.from), c.months).String(); got != c.want {
			t.Errorf("%s and %d months is %s, want %s", c.from, c.months, got, c.want)
		}
	}
}

// Days in order, written and read, and the months of every year, against the standard library's calendar.
func TestDay_asTheStandardLibrary(t *testing.T) {
	at := time.Date(1895, 12, 25, 0, 0, 0, 0, time.UTC)
	before := Day{}
	for range 80000 {
		d, ok := ParseDay(at.Format(time.DateOnly))
		if !ok || d.String() != at.Format(time.DateOnly) || !before.Before(d) || d.After(d) {
			t.Fatalf("%v is %v", at, d)
		}
		if first := time.Date(at.Year(), at.Month()+7, 1, 0, 0, 0, 0, time.UTC); AddMonths(d, 7).YearMonth() != first.Format("2006-01") {
			t.Fatalf("%v and 7 months is %v", d, AddMonths(d, 7))
		}
		before, at = d, at.AddDate(0, 0, 1)
	}
	for _, text := range []string{"2031-02-29", "2031-13-01", "2031-00-10", "2031-04-31", "31-04-01", "2031/04/01", "2031-04-1 ", ""} {
		if d, ok := ParseDay(text); ok {
			t.Errorf("%q is %v", text, d)
		}
	}
}

// Never later for a shorter interval, and never earlier than the day counted from.
func TestDue_laws(t *testing.T) {
	random := rand.New(rand.NewSource(3))
	for range 500 {
		from := AddMonths(Day{1990, 1, 1 + random.Intn(31)}, random.Intn(600))
		months := 1 + random.Intn(150)
		a, _ := Task{Months: 12}.Due(History{Done: from, Months: months})
		b, _ := Task{Months: 12}.Due(History{Done: from, Months: months + 1})
		if !b.After(a) || !a.After(from) {
			t.Fatalf("%v: %d months %v, one more %v", from, months, a, b)
		}
		if by := (Day{a.Year, a.Month, 1}); by.After(from) && by.Before(a) {
			if c, _ := (Task{Months: 12}).Due(History{Done: from, By: by, Months: months}); c != by {
				t.Fatalf("the day marked on the part, %v, is passed over for %v", by, c)
			}
		}
	}
}

func TestDue_countsFromWhatIsKnown(t *testing.T) {
	task := Task{Months: 12}
	for name, c := range map[string]struct {
		h    History
		want string
	}{
		"nothing":                    {History{}, ""},
		"made":                       {History{From: day(t, "2030-05-01")}, "2031-05-01"},
		"done after made":            {History{From: day(t, "2030-05-01"), Done: day(t, "2031-01-01")}, "2032-01-01"},
		"tested after it was noted":  {History{From: day(t, "2031-05-01"), Done: day(t, "2030-01-01")}, "2032-05-01"},
		"marked day alone":           {History{By: day(t, "2033-01-01")}, "2033-01-01"},
		"done after the marked day":  {History{By: day(t, "2030-01-01"), Done: day(t, "2030-02-01")}, "2031-02-01"},
		"owner's interval":           {History{Done: day(t, "2030-01-01"), Months: 3}, "2030-04-01"},
		"marked day before interval": {History{Done: day(t, "2030-01-01"), By: day(t, "2030-03-01")}, "2030-03-01"},
	} {
		got, ok := task.Due(c.h)
		if ok != (c.want != "") || ok && got.String() != c.want {
			t.Errorf("%s: %v %v, want %s", name, got, ok, c.want)
		}
	}
	if _, ok := (Task{}).Due(History{Done: day(t, "2030-01-01")}); ok {
		t.Error("a task without an interval is due")
	}
}

func TestAt_statesByDay(t *testing.T) {
	today := day(t, "2031-05-10")
	for due, want := range map[string]State{"2031-05-10": Overdue, "2020-01-01": Overdue, "2031-05-11": Soon, "2031-06-10": Soon, "2031-06-11": Fine} {
		if got := At(day(t, due), today, true, 12); got != want {
			t.Errorf("%s is %s, want %s", due, got, want)
		}
	}
	if At(day(t, "2031-05-11"), today, true, 1) != Fine || At(today, today, true, 1) != Overdue {
		t.Error("a monthly task is called soon, or not called due")
	}
	if At(today, today, false, 12) != Unknown {
		t.Error("without a day it is not unknown")
	}
}

// The intervals of cylinders are the shortest that Table 1 of 49 CFR 180.209 prints (as published by the Government Printing Office): DOT-3A
// and 3AA "5, 10, or 12", DOT-8 and 8AL "10 or 20" years.
func TestTasks_cylindersAsPrinted(t *testing.T) {
	for kind, printed := range map[string][]int{"cylinder": {5, 10, 12}, "acetylene_cylinder": {10, 20}} {
		if got := Tasks(kind)[0].Months; got != 12*printed[0] {
			t.Errorf("%s: %d months", kind, got)
		}
	}
	for _, task := range tasks {
		if task.Source == "" || task.Title == "" {
			t.Errorf("%+v has no source or no name", task)
		}
	}
}

// The form of the marks is that of 49 CFR 180.213(d): month, tester's number in a square, year; and of the UN model rules: year and month.
func TestReadStamp_readsWhatIsStamped(t *testing.T) {
	today := day(t, "2026-11-26")
	for text, want := range map[string]string{
		"06 19": "2019-06", "6-19": "2019-06", "6/2019": "2019-06", "2019/06": "2019-06", "2019 06": "2019-06", "6 A123 19": "2019-06 A123", "6A12319": "2019-06 A123",
		"12b45721+": "2021-12 B457", "11 26": "2011-26!", "06 95": "1995-06", "10 26": "2026-10", "03 A1B2 08 + *": "2008-03 A1B2", "7.98": "1998-07", "19/06": "2006-19!",
	} {
		s, err := ReadStamp(text, today)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		got := s.Month.YearMonth()
		if s.RIN != "" {
			got += " " + s.RIN
		}
		if strings.HasSuffix(want, "!") {
			continue // looked at below
		}
		if got != want {
			t.Errorf("%q is %s, want %s", text, got, want)
		}
	}
}

// Where both readings are possible the older one counts, and both are told.
func TestReadStamp_takesTheOlderOfTwoReadings(t *testing.T) {
	s, err := ReadStamp("08 11", day(t, "2026-11-26"))
	if err != nil || s.Month.YearMonth() != "2008-11" || len(s.Notes) != 1 || !strings.Contains(s.Notes[0], "2011-08 or 2008-11") {
		t.Errorf("%+v %v", s, err)
	}
	if s, err := ReadStamp("08 A123 11", day(t, "2026-11-26")); err != nil || s.Month.YearMonth() != "2011-08" || len(s.Notes) != 0 {
		t.Errorf("with the tester's number: %+v %v", s, err)
	}
}

// A star never lengthens anything by itself: it is from memory.
func TestReadStamp_starOnlyTells(t *testing.T) {
	s, err := ReadStamp("06 A123 19+*", day(t, "2026-11-26"))
	if err != nil || s.Marks != "+*" || len(s.Notes) != 2 || !strings.Contains(s.Notes[0], "from memory") {
		t.Errorf("%+v %v", s, err)
	}
}

// What cannot be read says what was read, what is allowed and why; never a date, never a panic.
func TestReadStamp_refuses(t *testing.T) {
	today := day(t, "2026-11-26")
	for _, text := range []string{"", " ", "worn off", "13 A123 19", "00 19", "6", "6 19 20", "06 1890", "12 2026", "2027/01", "+*", "06 A12 19", "６ 19", "6 199", "-1 -1"} {
		s, err := ReadStamp(text, today)
		var e *ParseError
		if !errors.As(err, &e) || e.Read != text || e.Why == "" || !s.Month.IsZero() {
			t.Errorf("%q: %+v %v", text, s, err)
		}
	}
}

// Every mark that is written is read again as what it was.
func TestReadStamp_readsEveryMonthBack(t *testing.T) {
	today := day(t, "2026-11-26")
	for y := 1930; y <= 2026; y++ {
		for m := 1; m <= 12; m++ {
			want := Day{y, m, 1}
			if want.After(today) {
				continue
			}
			for _, text := range []string{fmt.Sprintf("%d/%02d", y, m), fmt.Sprintf("%02d %d", m, y), fmt.Sprintf("%d K07X %02d", m, y%100)} {
				s, err := ReadStamp(text, today)
				if err != nil || s.Month.Month != want.Month || (s.RIN == "" && s.Month != want) {
					t.Fatalf("%q is %v %v", text, s.Month, err)
				}
			}
		}
	}
}

func FuzzReadStamp(f *testing.F) {
	for _, text := range []string{"06 A123 19+*", "2019/06", "★", "6\x00", "\xff\xfe"} {
		f.Add(text)
	}
	today := Day{2026, 11, 26}
	f.Fuzz(func(t *testing.T, text string) {
		if s, err := ReadStamp(text, today); err == nil && (s.Month.After(today) || s.Month.Year < oldestStamp) {
			t.Errorf("%q is %v", text, s.Month)
		}
	})
}

func ExampleReadStamp() {
	s, _ := ReadStamp("6 A123 19 +", Day{2026, 11, 26})
	fmt.Println(s.Month.YearMonth(), s.RIN)
	// Output: 2019-06 A123
}
