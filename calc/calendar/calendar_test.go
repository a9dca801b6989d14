package calendar_test

import (
	"testing"
	"time"

	"torchside/calc/calendar"
)

// Go's own calendar is the outside truth: day 0 of the next month is the last of this one.
func TestDaysIn_asTheLibrary(t *testing.T) {
	for year := 1899; year <= 2401; year++ {
		for month := 1; month <= 12; month++ {
			want := time.Date(year, time.Month(month+1), 0, 0, 0, 0, 0, time.UTC).Day()
			if got := calendar.DaysIn(year, month); got != want {
				t.Errorf("%d-%d: %d days, want %d", year, month, got, want)
			}
		}
	}
}

func TestDigits_readsDigitsOnly(t *testing.T) {
	for text, want := range map[string]int{"0": 0, "07": 7, "2031": 2031, "": -1, "+202": -1, "-5": -1, " 5": -1, "5x": -1} {
		got, ok := calendar.Digits(text)
		if ok != (want >= 0) || ok && got != want {
			t.Errorf("%q: %d, %v", text, got, ok)
		}
	}
}
