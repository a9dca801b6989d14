package journal

import (
	"strconv"

	"torchside/calc/calendar"
)

// instant is a time read from RFC 3339 text: milliseconds since 1970-01-01 UTC (what is finer is cut off), and the local date as
// written.
type instant struct {
	milli            int64
	year, month, day int
}

// readTime reads RFC 3339 as records write it, with offset or Z. This package may not import a clock, so it reads the text
// itself.
func readTime(text string) (instant, bool) {
	if len(text) < len("2006-01-02T15:04:05Z") || text[4] != '-' || text[7] != '-' || text[10] != 'T' && text[10] != 't' ||
		text[13] != ':' || text[16] != ':' {
		return instant{}, false
	}
	var part [6]int
	for i, at := range [][2]int{{0, 4}, {5, 7}, {8, 10}, {11, 13}, {14, 16}, {17, 19}} {
		n, ok := calendar.Digits(text[at[0]:at[1]])
		if !ok {
			return instant{}, false
		}
		part[i] = n
	}
	fraction, rest, ok := readFraction(text[19:])
	if !ok || part[1] < 1 || part[1] > 12 || part[2] < 1 || part[2] > calendar.DaysIn(part[0], part[1]) || part[3] > 23 || part[4] > 59 || part[5] > 59 {
		return instant{}, false
	}
	offset, ok := readOffset(rest)
	if !ok {
		return instant{}, false
	}
	seconds := daysFromCivil(part[0], part[1], part[2])*86400 + part[3]*3600 + part[4]*60 + part[5] - offset
	return instant{milli: int64(seconds)*1000 + int64(fraction), year: part[0], month: part[1], day: part[2]}, true
}

// readFraction reads ".123" of a second as milliseconds, if it is there.
func readFraction(text string) (milli int, rest string, ok bool) {
	if text == "" || text[0] != '.' {
		return 0, text, true
	}
	end := 1
	for end < len(text) && text[end] >= '0' && text[end] <= '9' {
		end++
	}
	milli, ok = calendar.Digits((text[1:end] + "000")[:3])
	return milli, text[end:], ok && end > 1
}

// readOffset reads "Z" or "+01:00" as seconds east of UTC.
func readOffset(text string) (int, bool) {
	if text == "Z" || text == "z" {
		return 0, true
	}
	if len(text) != len("+01:00") || text[0] != '+' && text[0] != '-' || text[3] != ':' {
		return 0, false
	}
	h, okH := calendar.Digits(text[1:3])
	m, okM := calendar.Digits(text[4:6])
	if !okH || !okM || h > 23 || m > 59 {
		return 0, false
	}
	if text[0] == '-' {
		return -(h*3600 + m*60), true
	}
	return h*3600 + m*60, true
}

// days is the instant in days since 1970-01-01 UTC.
func (t instant) days() float64 { return float64(t.milli) / 86400e3 }

// daysFromCivil counts days from 1970-01-01 in the Gregorian calendar: a year begun in March has its leap day last, and 400
// years have 146 097 days.
func daysFromCivil(year, month, day int) int {
	if month <= 2 {
		year--
		month += 12
	}
	era := floorDiv(year, 400)
	inEra := year - era*400
	inYear := (153*(month-3)+2)/5 + day - 1
	return era*146097 + inEra*365 + inEra/4 - inEra/100 + inYear - 719468
}

// civilFromDays is the date of a day counted from 1970-01-01; the inverse of daysFromCivil.
func civilFromDays(days int) (year, month, day int) {
	days += 719468
	era := floorDiv(days, 146097)
	inEra := days - era*146097
	inYearOfEra := (inEra - inEra/1460 + inEra/36524 - inEra/146096) / 365
	inYear := inEra - (365*inYearOfEra + inYearOfEra/4 - inYearOfEra/100)
	shifted := (5*inYear + 2) / 153
	day = inYear - (153*shifted+2)/5 + 1
	month, year = shifted+3, inYearOfEra+era*400
	if month > 12 {
		month, year = month-12, year+1
	}
	return year, month, day
}

func floorDiv[T int | int64](a, b T) T {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// pad writes a number with leading zeros.
func pad(n, width int) string {
	text := strconv.Itoa(n)
	for len(text) < width {
		text = "0" + text
	}
	return text
}
