package journal

import (
	"math"
	"slices"
	"strconv"
	"unicode/utf8"
)

func clone[T any](list []T) []T { return append([]T(nil), list...) }

// sortedOnce sorts strings and drops repeats; nil stays nil.
func sortedOnce(list []string) []string {
	slices.Sort(list)
	return slices.Compact(list)
}

func hypot(x, y float64) float64 { return math.Hypot(x, y) }

// finite reports whether a number is one.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// number writes a number as short as it can be read back.
func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// shorten cuts a text for a message, at a whole character.
func shorten(text string) string {
	const longest = 60
	if utf8.RuneCountInString(text) <= longest {
		return text
	}
	return string([]rune(text)[:longest]) + "…"
}

func median(sorted []float64) float64 {
	n := len(sorted)
	if n == 0 {
		return math.NaN()
	}
	if n%2 == 1 {
		return sorted[n/2]
	}
	return (sorted[n/2-1] + sorted[n/2]) / 2
}
