package units

import (
	"math"
	"strconv"
	"strings"

	"torchside/calc/words"
)

// commaMark is how a comma before exactly three digits is taken; everything else about a number needs no choice.
type commaMark bool

const (
	commaDecimal  commaMark = false
	commaThousand commaMark = true
)

// number is one number as typed.
type number struct {
	value     float64
	text      string // without thousand marks, with a decimal point: "1 1/2", "2200"
	ambiguous bool   // the commaMark decided the value
	fraction  bool   // it has a slash
}

// scanNumber reads the number at the start of s and returns what follows it. problem says in words what is wrong. Where a
// slash belongs to the unit, as in "5/100 ft³", fractions is false.
func scanNumber(s string, comma commaMark, fractions bool) (n number, rest, problem string) {
	run, rest, spaced := scanRun(s)
	if strings.Trim(run, ".,") == "" {
		return n, s, "there is no number where one is needed"
	}
	if fractions && allDigits(run) {
		if n, after, problem, ok := scanFraction(run, rest); ok {
			return n, after, problem
		}
	}
	clean, ambiguous, ok := readMarks(run, spaced, comma)
	if !ok {
		return n, s, words.S("the dots and commas in “%s” do not make one number", shorten(run))
	}
	exponent, rest := scanExponent(rest)
	value, problem := parseFloat(clean + exponent)
	return number{value: value, text: tidy(clean) + exponent, ambiguous: ambiguous}, rest, problem
}

// scanRun takes the digits, dots and commas at the start of s. Groups of three digits after single spaces, "12 345,6", are
// taken along without the spaces; spaced tells.
func scanRun(s string) (run, rest string, spaced bool) {
	end := digitRun(s, ".,")
	run, rest = s[:end], s[end:]
	if !allDigits(run) || len(run) > 3 {
		return run, rest, false
	}
	for len(rest) > 3 && rest[0] == ' ' && digitRun(rest[1:], "") == 3 && !strings.HasPrefix(strings.TrimLeft(rest[4:], " "), "/") {
		run, rest, spaced = run+rest[1:4], rest[4:], true
	}
	if spaced && len(rest) > 1 && (rest[0] == '.' || rest[0] == ',') {
		end = 1 + digitRun(rest[1:], "")
		run, rest = run+rest[:end], rest[end:]
	}
	return run, rest, spaced
}

// scanFraction reads what follows whole digits as the rest of a fraction "/8" or of a mixed number " 1/2", "-1/2"; ok is
// false if it is neither.
func scanFraction(digits, s string) (n number, rest, problem string, ok bool) {
	if den, rest, ok := scanSlash(s); ok {
		n, problem = makeFraction("0", digits, den)
		return n, rest, problem, true
	}
	if s == "" || (s[0] != ' ' && s[0] != '-') {
		return n, s, "", false
	}
	after := s[1:]
	end := digitRun(after, "")
	if end == 0 {
		return n, s, "", false
	}
	den, rest, ok := scanSlash(after[end:])
	if !ok {
		return n, s, "", false
	}
	n, problem = makeFraction(digits, after[:end], den)
	return n, rest, problem, true
}

// scanSlash reads "/8" with or without spaces around the slash.
func scanSlash(s string) (den, rest string, ok bool) {
	after, found := strings.CutPrefix(strings.TrimLeft(s, " "), "/")
	after = strings.TrimLeft(after, " ")
	end := digitRun(after, "")
	return after[:end], after[end:], found && end > 0
}

// makeFraction computes whole + num/den; whole is "0" for a plain fraction.
func makeFraction(whole, num, den string) (n number, problem string) {
	w, _ := strconv.ParseFloat(whole, 64)
	a, _ := strconv.ParseFloat(num, 64)
	b, _ := strconv.ParseFloat(den, 64)
	n = number{value: w + a/b, text: num + "/" + den, fraction: true}
	if whole != "0" {
		n.text = whole + " " + n.text
	}
	switch {
	case b == 0:
		return n, words.S("%s divides by zero", n.text)
	case whole != "0" && a >= b:
		return n, words.S("the fraction in %s is one or more", n.text)
	case math.IsInf(n.value, 0) || math.IsNaN(n.value) || (n.value == 0 && strings.Trim(num, "0") != ""):
		return n, "the fraction is too large or too small to compute with"
	}
	return n, ""
}

// readMarks turns dots and commas into at most one decimal point. ok is false if they make no number.
func readMarks(run string, spaced bool, comma commaMark) (clean string, ambiguous, ok bool) {
	dots, commas := strings.Count(run, "."), strings.Count(run, ",")
	switch {
	case commas == 0 && dots <= 1:
		return run, false, true
	case dots == 0 && commas == 1:
		whole, part, _ := strings.Cut(run, ",")
		ambiguous = !spaced && len(part) == 3 && len(whole) >= 1 && len(whole) <= 3 && whole[0] != '0'
		if ambiguous && comma == commaThousand {
			return whole + part, true, true
		}
		if ambiguous {
			part = strings.TrimRight(part, "0") // offered as a choice, "2.2" cannot be taken for 2200 again
		}
		return whole + "." + part, ambiguous, true
	case spaced:
		return "", false, false
	case commas == 0 || dots == 0:
		clean, ok = ungroup(run, run[strings.IndexAny(run, ".,")])
		return clean, false, ok
	}
	last := strings.LastIndexAny(run, ".,")
	whole, mark := run[:last], run[last]
	if strings.IndexByte(whole, mark) >= 0 {
		return "", false, false
	}
	clean, ok = ungroup(whole, '.'+','-mark)
	return clean + "." + run[last+1:], false, ok
}

// ungroup removes thousand marks; ok is false unless every group but the first has three digits.
func ungroup(s string, mark byte) (clean string, ok bool) {
	groups := strings.Split(s, string(mark))
	for i, g := range groups {
		if (i == 0 && (g == "" || len(g) > 3)) || (i > 0 && len(g) != 3) {
			return "", false
		}
	}
	return strings.Join(groups, ""), true
}

// scanExponent reads "e-3"; empty if there is none.
func scanExponent(s string) (exponent, rest string) {
	if s == "" || s[0]|0x20 != 'e' {
		return "", s
	}
	i := 1
	if len(s) > 1 && (s[1] == '+' || s[1] == '-') {
		i = 2
	}
	if end := digitRun(s[i:], ""); end > 0 {
		return "e" + s[1:i+end], s[i+end:]
	}
	return "", s
}

// parseFloat refuses numbers that floating point cannot hold, rather than making them infinite or zero.
func parseFloat(s string) (x float64, problem string) {
	x, err := strconv.ParseFloat(s, 64)
	mantissa, _, _ := strings.Cut(s, "e")
	switch {
	case err != nil:
		return 0, "the number is too large to compute with"
	case x == 0 && strings.Trim(mantissa, "0.") != "":
		return 0, "the number is too small to compute with"
	}
	return x, ""
}

// tidy writes ".5" as "0.5" and "5." as "5".
func tidy(decimal string) string {
	if decimal[0] == '.' {
		decimal = "0" + decimal
	}
	return strings.TrimSuffix(decimal, ".")
}

// digitRun returns how many bytes at the start of s are digits or one of also.
func digitRun(s, also string) int {
	i := 0
	for i < len(s) && (isDigit(s[i]) || strings.IndexByte(also, s[i]) >= 0) {
		i++
	}
	return i
}

func allDigits(s string) bool { return s != "" && digitRun(s, "") == len(s) }

func isDigit(b byte) bool { return b >= '0' && b <= '9' }
