package units

import (
	"math"
	"strconv"
)

// numberDrills are the numbered twist drills #1 to #80 in 0.0001 in. The sizes are those of ASME B94.11M; that standard was
// not at hand: they were taken from published drill charts that agree with each other.
var numberDrills = [...]uint16{
	2280, 2210, 2130, 2090, 2055, 2040, 2010, 1990, 1960, 1935, // 1 to 10
	1910, 1890, 1850, 1820, 1800, 1770, 1730, 1695, 1660, 1610, // 11 to 20
	1590, 1570, 1540, 1520, 1495, 1470, 1440, 1405, 1360, 1285, // 21 to 30
	1200, 1160, 1130, 1110, 1100, 1065, 1040, 1015, 995, 980, // 31 to 40
	960, 935, 890, 860, 820, 810, 785, 760, 730, 700, // 41 to 50
	670, 635, 595, 550, 520, 465, 430, 420, 410, 400, // 51 to 60
	390, 380, 370, 360, 350, 330, 320, 310, 292, 280, // 61 to 70
	260, 250, 240, 225, 210, 200, 180, 160, 145, 135, // 71 to 80
}

// letterDrills are the letter drills A to Z in 0.001 in; source as for numberDrills.
var letterDrills = [...]uint16{
	234, 238, 242, 246, 250, 257, 261, 266, 272, 277, 281, 290, 295,
	302, 316, 323, 332, 339, 348, 358, 368, 377, 386, 397, 404, 413,
}

// NumberDrill returns the diameter of a numbered drill; ok is false outside #1 to #80.
func NumberDrill(number int) (diameter Length, ok bool) {
	if number < 1 || number > len(numberDrills) {
		return 0, false
	}
	return Length(float64(numberDrills[number-1]) * Inch / 10000), true
}

// LetterDrill returns the diameter of a letter drill, A to Z in either case; ok is false for anything else.
func LetterDrill(letter rune) (diameter Length, ok bool) {
	i := (letter | 0x20) - 'a'
	if i < 0 || int(i) >= len(letterDrills) {
		return 0, false
	}
	return Length(float64(letterDrills[i]) * Inch / 1000), true
}

// drillTolerance is how far a bore may be from a numbered drill, relative, and still be shown as one: well under half of
// the narrowest step of the table (#34 to #35, 0.9 %), so that a drill is never shown as its neighbour.
const drillTolerance = 0.002

// DrillName returns the numbered drill of a bore, "#60", when one is within 0.2 %.
func DrillName(bore Length) (name string, ok bool) {
	best, off := 0, drillTolerance
	for i := range numberDrills {
		d, _ := NumberDrill(i + 1)
		if e := math.Abs(float64(bore/d) - 1); e <= off {
			best, off = i+1, e
		}
	}
	return "#" + strconv.Itoa(best), best > 0
}
