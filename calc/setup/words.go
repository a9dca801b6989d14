package setup

import (
	"slices"
	"strconv"
	"strings"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// litresPerHour turns L/h into m³/s.
const litresPerHour = 1e-3 / 3600

// Works returns every work in the order a list shows them.
func Works() []Work { return []Work{Weld, Braze, Heat, Bend, Cut} }

// Metals returns every metal in the order a list shows them.
func Metals() []Metal {
	return []Metal{MildSteel, GalvanisedSteel, StainlessSteel, CastIron, Copper, Brass, Aluminium}
}

// Joints returns every joint in the order a list shows them.
func Joints() []Joint { return []Joint{Butt, Corner, Lap, Tee, Edge} }

// Grades returns every hose grade.
func Grades() []HoseGrade { return []HoseGrade{GradeR, GradeRM, GradeT, GradeAcetylene, GradeAllFuels} }

// commas joins the members of a list for a message.
func commas[T ~string](list []T) string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return words.Join(out, ", ")
}

// number writes a value with four significant digits, without an exponent where a person would not write one.
func number(v float64) string {
	if v != 0 && (v < 1e-3 && v > -1e-3 || v >= 1e6 || v <= -1e6) {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	s := strconv.FormatFloat(v, 'f', 3, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return words.Number(s)
}

// Quantities stand in both unit systems, as units.System.Say takes them.

func pressureText(pa float64) string {
	return number(round(pa/1e5, 3)) + " bar (" + number(round(pa/units.PSI, 1)) + " psi)"
}

func lengthText(m float64) string {
	return number(round(m*1000, 3)) + " mm (" + number(round(m/units.Inch, 3)) + " in)"
}

// flowText writes a flow with two digits at least, so that a small one is never shown as none.
func flowText(m3s float64, g gas.Gas) string {
	us := m3s * 3600 / units.CubicFoot
	if r := g.StandardRatio(); r > 0 {
		us /= float64(r)
	}
	return small(m3s/litresPerHour) + " L/h (" + small(us) + " ft³/h)"
}

// flowOf writes flows of one gas.
func flowOf(g gas.Gas) func(float64) string {
	return func(m3s float64) string { return flowText(m3s, g) }
}

// small writes a number with no decimals above a hundred, one above ten, and two digits below.
func small(v float64) string {
	switch {
	case v >= 100:
		return number(round(v, 0))
	case v >= 10:
		return number(round(v, 1))
	}
	return number(round(v, 2))
}

// speedText writes the speed of a gas.
func speedText(ms ...float64) string {
	return ranged(ms, 1, " m/s") + " (" + ranged(ms, units.Foot, " ft/s") + ")"
}

// ranged writes one number, or two as a range, in a unit.
func ranged(si []float64, unit float64, symbol string) string {
	texts := make([]string, len(si))
	for i, v := range si {
		texts[i] = small(v / unit)
	}
	return words.Join(texts, " to ") + symbol
}

// timeText writes a time as the card's numbers are written, so that one time never reads as two.
func timeText(s float64) string {
	minute, _ := units.UnitBySymbol(units.QuantityDuration, "min")
	return units.Format(units.QuantityDuration, s, minute, 0)
}

func temperatureText(k float64) string {
	return number(round(k-273.15, 1)) + " °C (" + number(round((k-273.15)*1.8+32, 1)) + " °F)"
}

func round(v float64, digits int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'f', digits, 64), 64)
	if err != nil {
		return v
	}
	return r
}

func known[T ~string](list []T, w T) bool { return slices.Contains(list, w) }
