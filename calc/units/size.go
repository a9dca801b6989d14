package units

import (
	"strconv"
	"strings"
)

// Words that mark a text as a size from a table rather than a length.
var (
	gaugeWords = map[string]bool{"ga": true, "gauge": true, "gage": true, "gauges": true, "g": true, "#": true}
	drillWords = map[string]bool{"#": true, "no": true, "nr": true, "num": true, "number": true, "drill": true, "letter": true, "size": true}
)

// sizeText reports whether s is a size: one of the words is in it, or it is a single letter, and returns what is left. The
// rest is a valid size only if it is one word.
func sizeText(s string, words map[string]bool) (size string, ok bool) {
	var rest []string
	for _, w := range sizeWords(strings.ToLower(s)) {
		if words[w] {
			ok = true
		} else {
			rest = append(rest, w)
		}
	}
	if !ok && words["drill"] && len(s) == 1 && isLetter(s[0]) {
		ok = true
	}
	return strings.Join(rest, " "), ok
}

// sizeWords splits a text into runs of digits, runs of letters and single signs; spaces and the dot of an abbreviation are
// dropped.
func sizeWords(s string) []string {
	var words []string
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
		if w := s[:n]; w != " " && !(w == "." && len(words) > 0 && isLetter(words[len(words)-1][0])) {
			words = append(words, w)
		}
		s = s[n:]
	}
	return words
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
		e := f.refuse(s, "the gauge table "+f.Sheet.String()+" has the whole numbers "+strconv.Itoa(low)+" to "+strconv.Itoa(high))
		return reading{}, e
	}
	return reading{si: float64(thickness), text: strconv.Itoa(n) + " ga (" + f.Sheet.String() + ")"}, nil
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
			return reading{si: float64(d), text: "drill " + strings.ToUpper(size)}, nil
		}
	}
	return reading{}, f.refuse(s, "drill sizes are #1 to #80 and the letters A to Z")
}
