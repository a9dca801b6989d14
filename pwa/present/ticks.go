package present

import (
	"math"
	"strconv"

	"torchside/calc/words"
)

// ticks are the marks of a scale from 0 to an end: labelled ones at a step of 1, 2 or 5 times a power of ten, and smaller ones
// between them.
type ticks struct {
	step, small float64
	decimals    int // of a label
}

// newTicks finds the finest step that gives at most n labelled marks above zero.
func newTicks(end float64, n int) ticks {
	if !(end > 0) || math.IsInf(end, 0) {
		end = 1
	}
	power := math.Floor(math.Log10(end / float64(n)))
	for ; ; power++ {
		base := math.Pow(10, power)
		for _, m := range []struct{ step, parts float64 }{{1, 5}, {2, 4}, {5, 5}} {
			// A hair of slack: 10 × 0.1 must count as ten steps of 0.1.
			if end/(m.step*base) <= float64(n)*(1+1e-9) {
				return ticks{m.step * base, m.step * base / m.parts, int(math.Max(0, -power))}
			}
		}
	}
}

// label writes a labelled mark.
func (t ticks) label(v float64) string {
	if v == 0 {
		return "0"
	}
	return words.Number(strconv.FormatFloat(v, 'f', t.decimals, 64))
}

// count is how many marks of a size fit up to an end, zero not counted.
func (t ticks) count(end, size float64) int { return int(math.Floor(end/size*(1+1e-9) + 1e-9)) }
