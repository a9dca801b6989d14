package upkeep

import (
	"strconv"
	"strings"
	"unicode"

	"torchside/calc/words"
)

// Stamp is what the newest test mark on a cylinder says.
type Stamp struct {
	Month Day      // the first day of the month of the test
	RIN   string   // of who tested it, where it stands between month and year (49 CFR 180.213); "" without
	Marks string   // what stands behind the year
	Notes []string // what the marks mean, and what was decided where two readings are possible
}

// ParseError says what was read, what is allowed and why.
type ParseError struct{ Read, Allowed, Why string }

func (e *ParseError) Error() string {
	return words.S("read %s; allowed: %s; %s", strconv.Quote(e.Read), e.Allowed, e.Why)
}

const allowedStamps = "month and year as stamped, 06 19 or 6 A123 19, or year and month with four digits, 2019/06, with + or * behind it"

func refused(text, why string) error {
	return &ParseError{Read: text, Allowed: allowedStamps, Why: why}
}

// oldestStamp is the oldest year believed: cylinders of that age are museum pieces.
const oldestStamp = 1910

// ReadStamp reads the newest test mark of a cylinder as somebody types it. today decides the century of a year of two digits, and that a
// test does not lie ahead. Where month and year cannot be told apart the older of the two readings is taken, and said.
func ReadStamp(text string, today Day) (Stamp, error) {
	marks, fields := split(text)
	s := Stamp{Marks: marks}
	if len(fields) == 3 && isRIN(fields[1]) {
		s.RIN = strings.ToUpper(fields[1])
		fields = []string{fields[0], fields[2]}
	}
	if len(fields) != 2 {
		return Stamp{}, refused(text, "a test mark is a month and a year, with the tester's number between them at most")
	}
	readings, err := readings(text, fields, s.RIN != "", today)
	if err != nil {
		return Stamp{}, err
	}
	s.Month = readings[0]
	if len(readings) == 2 && readings[1].Before(s.Month) {
		s.Month = readings[1]
	}
	if len(readings) == 2 && readings[0] != readings[1] {
		s.Notes = append(s.Notes, words.F("It may mean %s or %s: the older one counts.", readings[0].YearMonth(), readings[1].YearMonth()))
	}
	s.Notes = append(s.Notes, markNotes(marks)...)
	return s, nil
}

// split takes the marks off the end, and cuts the rest where digits, letters and separators meet.
func split(text string) (marks string, fields []string) {
	rest := strings.TrimRightFunc(text, func(r rune) bool { return strings.ContainsRune("+*★☆ sSeE", r) })
	marks = strings.ToUpper(strings.ReplaceAll(strings.TrimSpace(text[len(rest):]), " ", ""))
	for _, f := range strings.FieldsFunc(rest, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("/-.^•·–", r) }) {
		fields = append(fields, cut(f)...)
	}
	return marks, fields
}

// cut parts a mark typed without blanks, 6A12319: of six or more signs that begin with a month and a letter, the last two are the year.
func cut(f string) []string {
	at := strings.IndexFunc(f, unicode.IsLetter)
	if at < 1 || at > 2 || len(f) != at+6 || !isRIN(f[at:at+4]) {
		return []string{f}
	}
	return []string{f[:at], f[at : at+4], f[at+4:]}
}

// isRIN reports whether a text is a requalifier's number: a letter and three digits or letters.
func isRIN(f string) bool {
	if len(f) != 4 || !unicode.IsLetter(rune(f[0])) {
		return false
	}
	return strings.IndexFunc(f, func(r rune) bool { return r > 127 || !unicode.IsLetter(r) && !unicode.IsDigit(r) }) < 0
}

// readings are the months the two numbers can mean: month and year, and the other way round where no tester's number tells. Those ahead of
// today are no tests.
func readings(text string, fields []string, american bool, today Day) ([]Day, error) {
	var list []Day
	ahead := false
	for i := range 2 {
		month, year := fields[i], fields[1-i]
		if i == 1 && american {
			break
		}
		at, ok := monthOf(month, year, today)
		switch {
		case ok && at.After(today):
			ahead = true
		case ok:
			list = append(list, at)
		}
	}
	switch {
	case len(list) == 0 && ahead:
		return nil, refused(text, "this month lies ahead of today, and a stamp tells of a test that was done")
	case len(list) == 0:
		return nil, refused(text, "this is no month of a year")
	}
	return list, nil
}

func monthOf(month, year string, today Day) (Day, bool) {
	m, err1 := strconv.Atoi(month)
	y, err2 := strconv.Atoi(year)
	if err1 != nil || err2 != nil || m < 1 || m > 12 || len(month) > 2 {
		return Day{}, false
	}
	switch len(year) {
	case 2:
		y += today.Year / 100 * 100
		if (Day{y, m, 1}).After(today) {
			y -= 100
		}
	case 4:
	default:
		return Day{}, false
	}
	if y < oldestStamp {
		return Day{}, false
	}
	return Day{y, m, 1}, true
}

// markNotes say what the marks behind the year mean. They are from memory of 49 CFR 180.213, so none of them lengthens an interval.
func markNotes(marks string) []string {
	var notes []string
	if strings.ContainsAny(marks, "*★☆") {
		notes = append(notes, "The star stands for ten years instead of five (49 CFR 180.209(b), from memory): five count here until you set ten, after your supplier's word.")
	}
	if strings.Contains(marks, "+") {
		notes = append(notes, "The plus allows the filler 10 % more than the stamped pressure (from memory). It changes no date.")
	}
	if strings.ContainsAny(marks, "SE") {
		notes = append(notes, "A letter behind the year tells how it was tested (from memory). It changes no date.")
	}
	return notes
}
