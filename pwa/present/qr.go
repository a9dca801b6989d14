package present

import (
	"strconv"
	"strings"
)

// qrMargin is the width of the empty margin a reader needs, in modules (ISO/IEC 18004: four).
const qrMargin = 4

// QR draws a code given as rows of 1 (dark) and 0. Without rows there is no drawing. It is dark on light in every theme: readers
// look for that.
func QR(rows []string, says string) Drawing {
	if len(rows) == 0 {
		return Drawing{Text: says}
	}
	var path strings.Builder
	for y, row := range rows {
		for x := 0; x < len(row); x++ {
			start := x
			for x < len(row) && row[x] == '1' {
				x++
			}
			if n := x - start; n > 0 {
				path.WriteString("M" + strconv.Itoa(start+qrMargin) + " " + strconv.Itoa(y+qrMargin) + "h" + strconv.Itoa(n) + "v1h-" + strconv.Itoa(n) + "z")
			}
		}
	}
	side := len(rows) + 2*qrMargin
	var s svg
	whole := strconv.Itoa(side)
	s.path("qr-ground", "M0 0h"+whole+"v"+whole+"h-"+whole+"z")
	s.path("qr-dark", path.String())
	return s.wrap("qr", "QR code", says, side, side)
}
