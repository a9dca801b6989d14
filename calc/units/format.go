package units

import (
	"math"
	"strconv"
	"strings"
)

// Format writes an SI value for a person, with the unit and with digits fit for the quantity: inches as the nearest 1/64
// when that is within 0.4 %, bores in inches as a numbered drill when one is within 0.2 %, minutes and hours as
// "1 h 25 min". A value that is not zero is never shown as zero, except a temperature. A unit that does not measure q is
// replaced by the metric preset's; so are cubic feet of gas when r, the gas's ratio, is not known.
func Format(q Quantity, si float64, u Unit, r StandardRatio) string {
	u = unitFor(q, u)
	if u.NeedsGas() && !(r > 0) {
		u = Metric().Unit(q)
	}
	if q == QuantityBore && u.Symbol() == "in" {
		if name, ok := DrillName(Length(si)); ok {
			return name
		}
	}
	if q == QuantityDuration && u.def().factor >= Minute && !math.IsInf(si, 0) && !math.IsNaN(si) {
		return formatDuration(si)
	}
	return withSymbol(FormatNumber(q, si, u, r), u)
}

// FormatNumber writes an SI value as Format does, as a number alone to stand beside its unit; "?" for a number that is not
// finite or for cubic feet of gas without r.
func FormatNumber(q Quantity, si float64, u Unit, r StandardRatio) string {
	u = unitFor(q, u)
	x, err := u.FromSI(si, r)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return "?"
	}
	if u.Symbol() == "in" && q.isLength() {
		if s, ok := fraction(x); ok {
			return s
		}
	}
	d := u.def()
	if q == QuantityTemperature {
		return fixed(x, d.places)
	}
	return digits(x, d.places, d.sig)
}

// withSymbol puts a unit behind a number.
func withSymbol(number string, u Unit) string {
	switch symbol := u.Symbol(); {
	case symbol == "" || symbol[0] == '/':
		return number + symbol
	default:
		return number + " " + symbol
	}
}

// fractionTolerance is how far a fraction of an inch may be from the value it stands for, relative.
const fractionTolerance = 0.004

// fraction writes inches as the nearest 1/64, above a foot as the nearest 1/16; ok is false if that is not close enough.
func fraction(x float64) (s string, ok bool) {
	steps := 64
	if x >= 12 {
		steps = 16
	}
	n := math.Round(x * float64(steps))
	if n < 1 || x > 1e6 || math.Abs(n/float64(steps)/x-1) > fractionTolerance {
		return "", false
	}
	whole, num := int(n)/steps, int(n)%steps
	for num > 0 && num%2 == 0 {
		num, steps = num/2, steps/2
	}
	switch {
	case num == 0:
		return strconv.Itoa(whole), true
	case whole > 0:
		s = strconv.Itoa(whole) + " "
	}
	return s + strconv.Itoa(num) + "/" + strconv.Itoa(steps), true
}

// formatDuration writes seconds below a minute, minutes to two digits below ten, else hours and whole minutes.
func formatDuration(si float64) string {
	sign, t := "", math.Abs(si)
	if si < 0 {
		sign = "-"
	}
	switch {
	case t >= 1e15:
		return sign + digits(t/Hour, 0, 3) + " h"
	case t < Minute:
		s := digits(t, 1, 2)
		if s == "0" {
			sign = ""
		}
		return sign + s + " s"
	case t < 9.95*Minute:
		return sign + digits(t/Minute, 1, 2) + " min"
	}
	minutes := int64(math.Round(t / Minute))
	h, m := strconv.FormatInt(minutes/60, 10)+" h", strconv.FormatInt(minutes%60, 10)+" min"
	switch {
	case minutes < 60:
		return sign + m
	case minutes%60 == 0:
		return sign + h
	}
	return sign + h + " " + m
}

// digits writes a number with sig significant digits, but no more than places decimals and never less than two
// significant digits; whole digits are never rounded away. Zeros at the end of the decimals are left out.
func digits(x float64, places, sig int) string {
	if x == 0 {
		return "0"
	}
	size := int(math.Floor(math.Log10(math.Abs(x))))
	if size >= 15 || size < -9 {
		return strconv.FormatFloat(x, 'g', 3, 64)
	}
	places = min(places, max(0, sig-1-size))
	if sig > 1 {
		places = max(places, 1-size)
	}
	return fixed(x, places)
}

// significant writes a number with n significant digits, without exponent for ordinary sizes; whole digits are kept.
func significant(x float64, n int) string { return digits(x, 99, n) }

// fixed writes a number with at most places decimals, never "-0". A half is rounded away from zero even where floating
// point holds it a hair short: 1/8 in is 3.18 mm, not 3.17.
func fixed(x float64, places int) string {
	const hair = 1e-14 // a few conversions' worth of rounding, far below anything shown
	s := strconv.FormatFloat(x+x*hair, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// roundTo writes a limit as the trade would, with three digits and no finer than finest, rounded up or down so that it stays
// within the limits; empty for an infinite one. A limit that is four digits but for the rounding of a conversion is written as
// those.
func roundTo(x float64, up bool, finest float64) string {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return ""
	}
	s := significant(x, 4)
	if rounded, _ := strconv.ParseFloat(s, 64); math.Abs(rounded-x) <= limitSlack*math.Abs(x) {
		return s
	}
	step := max(math.Pow(10, math.Max(math.Floor(math.Log10(math.Abs(x)))-2, -15)), finest)
	steps := math.Floor(x / step)
	if up {
		steps = math.Ceil(x / step)
	}
	return significant(steps*step, 4)
}
