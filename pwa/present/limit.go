package present

import (
	"math"
	"strconv"

	"torchside/calc/units"
	"torchside/calc/words"
)

// atMost writes an SI number that keeps a limit so that the shown one keeps it too: where rounding to the usual digits would
// pass the limit, the number is cut off instead. A number over the limit is shown as it is.
func atMost(s scale, si float64) string {
	plain := units.FormatNumber(s.quantity, si, s.unit, s.ratio)
	text := words.Number(plain)
	shown, err := strconv.ParseFloat(plain, 64)
	if err != nil || si > s.limit {
		return text
	}
	limit, err := s.unit.FromSI(s.limit, s.ratio)
	// The slack is far below a shown digit: a limit that is a round number in this unit must show as that number.
	if err != nil || shown <= limit*(1+1e-9) {
		return text
	}
	x, _ := s.unit.FromSI(si, s.ratio)
	places := max(0, 2-int(math.Floor(math.Log10(x)))) // three digits are finer than any gauge
	step := math.Pow(10, float64(places))
	return decimal(math.Floor(x*step)/step, places)
}
