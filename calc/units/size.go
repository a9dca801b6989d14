package units

import (
	"strconv"
	"strings"

	"torchside/calc/words"
)

// Words that mark a text as a size from a table rather than a length.
var (
	gaugeWords = map[string]bool{"ga": true, "gauge": true, "gage": true, "gauges": true, "g": true, "#": true}
	drillWords = map[string]bool{"#": true, "no": true, "nr": true, "num": true, "number": true, "drill": true, "letter": true, "size": true, "broca": true, "bohrer": true}
)

// sizeText reports whether s is a size: one of the words is in it, or it is a single letter, and returns what is left. The
// rest is a valid size only if it is one word.
func sizeText(s string, parts map[string]bool) (size string, ok bool) {
	var rest []string
	for _, w := range sizeWords(strings.ToLower(s)) {
		if parts[w] {
			ok = true
		} else {
			rest = append(rest, w)
		}
	}
	if !ok && parts["drill"] && len(s) == 1 && isLetter(s[0]) {
		ok = true
	}
	return strings.Join(rest, " "), ok
}

// sizeWords splits a text into runs of digits, runs of letters and single signs; spaces and the dot of an abbreviation are
// dropped.
func sizeWords(s string) []string {
	var parts []string
	for s != "" {
		n := digitRun(s, "")
		if n == 0 {
			for n < len(s) && isLetter(s[n]) {
				n++
			}
		}
		if n == 0 {
			n = 1
		}
		if w := s[:n]; w != " " && !(w == "." && len(parts) > 0 && isLetter(parts[len(parts)-1][0])) {
			parts = append(parts, w)
		}
		s = s[n:]
	}
	return parts
}

// readGauge looks a sheet gauge number up in the field's table.
func (f Field) readGauge(s, number string) (reading, *ParseError) {
	if !f.Sheet.known() {
		return reading{}, f.refuse(s, "a gauge number is another thickness for each metal: choose the metal first, or give mm or in")
	}
	low, high := f.Sheet.Numbers()
	n, err := strconv.Atoi(number)
	thickness, ok := f.Sheet.Thickness(n)
	if err != nil || !ok || !allDigits(number) {
		e := f.refuse(s, words.S("the gauge table %s has the whole numbers %s to %s", f.Sheet.String(), strconv.Itoa(low), strconv.Itoa(high)))
		return reading{}, e
	}
	return reading{si: float64(thickness), text: words.S("%s ga (%s)", strconv.Itoa(n), f.Sheet.String())}, nil
}

// readDrill looks up a numbered or letter drill.
func (f Field) readDrill(s, size string) (reading, *ParseError) {
	if n, err := strconv.Atoi(size); err == nil && allDigits(size) {
		if d, ok := NumberDrill(n); ok {
			return reading{si: float64(d), text: "#" + strconv.Itoa(n)}, nil
		}
	}
	if len(size) == 1 {
		if d, ok := LetterDrill(rune(size[0])); ok {
			return reading{si: float64(d), text: words.S("drill %s", strings.ToUpper(size))}, nil
		}
	}
	return reading{}, f.refuse(s, "drill sizes are #1 to #80 and the letters A to Z")
}
