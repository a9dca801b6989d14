// Package calendar holds what packages that may not know a clock need of the Gregorian calendar.
package calendar

// DaysIn is the number of days of a month, 1 to 12, in the Gregorian calendar.
func DaysIn(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}

// Digits reads a text of nothing but digits: no sign, no space.
func Digits(text string) (n int, ok bool) {
	for i := range len(text) {
		if text[i] < '0' || text[i] > '9' {
			return 0, false
		}
		n = n*10 + int(text[i]-'0')
	}
	return n, text != ""
}
