package upkeep

import (
	"strconv"

	"torchside/calc/calendar"
)

// Day is a day of the calendar; the zero Day is none.
type Day struct{ Year, Month, Day int }

// ParseDay reads a day as ISO 8601 writes it, 2031-05-01; ok is false for anything else, and for days that do not exist.
func ParseDay(text string) (d Day, ok bool) {
	if len(text) != len("2031-05-01") || text[4] != '-' || text[7] != '-' {
		return Day{}, false
	}
	y, okYear := calendar.Digits(text[:4])
	m, okMonth := calendar.Digits(text[5:7])
	n, okDay := calendar.Digits(text[8:])
	if !okYear || !okMonth || !okDay || y < 1 || m < 1 || m > 12 || n < 1 || n > calendar.DaysIn(y, m) {
		return Day{}, false
	}
	return Day{y, m, n}, true
}

// String writes a day as ISO 8601 does; the zero Day as nothing.
func (d Day) String() string {
	if d.IsZero() {
		return ""
	}
	return d.YearMonth() + "-" + two(d.Day)
}

// YearMonth writes the month alone, 2031-05.
func (d Day) YearMonth() string {
	text := "000" + strconv.Itoa(d.Year)
	return text[len(text)-4:] + "-" + two(d.Month)
}

func two(n int) string {
	text := "0" + strconv.Itoa(n)
	return text[len(text)-2:]
}

// IsZero reports whether it is no day.
func (d Day) IsZero() bool { return d == Day{} }

// Before reports whether a day comes before another; no day comes before all.
func (d Day) Before(e Day) bool { return d.number() < e.number() }

// After reports whether a day comes after another.
func (d Day) After(e Day) bool { return e.Before(d) }

// number puts days in order; it counts nothing.
func (d Day) number() int { return (d.Year*13+d.Month)*32 + d.Day }

// AddMonths is the same day of the month some months later, or the last day of a shorter month: 29 February and twelve months is 28 February.
func AddMonths(d Day, months int) Day {
	n := d.Year*12 + d.Month - 1 + months
	year, month := n/12, n%12+1
	return Day{year, month, min(d.Day, calendar.DaysIn(year, month))}
}
