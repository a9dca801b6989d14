package present

import (
	"math"
	"strconv"
	"strings"

	"torchside/calc/gas"
	"torchside/calc/journal"
	"torchside/calc/units"
	"torchside/calc/words"
)

// CompareLine is one field of two sheets side by side.
type CompareLine struct {
	Field, Name string
	A, B        string // "not noted" where there is nothing
	Word        string // "Same", "Different", "Only in A", "Only in B"
	Sign        string // "same", "different" or "one": names the shape
	Change      string // of numbers: "+0.2 mm (+12 %)"
}

// minutesFrom is the time in seconds from which minutes say it better.
const minutesFrom = 300

// notNoted stands for a value that a sheet has not.
const notNoted = "not noted"

// NewCompare writes the lines of two sheets: what differs, in the order of a sheet, and what is the same.
func NewCompare(lines []journal.Difference, drill func(id string) string, o Options) (different, same []CompareLine) {
	for _, d := range lines {
		l := compareLine(d, o)
		if d.Field == "at" {
			l.A, l.B = Stamp(d.A), Stamp(d.B)
		}
		if d.Field == "drill" {
			l.A, l.B = drill(d.A), drill(d.B)
		}
		if l.Sign == "same" {
			same = append(same, l)
		} else {
			different = append(different, l)
		}
	}
	return different, same
}

func compareLine(d journal.Difference, o Options) CompareLine {
	l := CompareLine{Field: d.Field, Name: d.Name, A: d.A, B: d.B}
	if d.Quantity != "" {
		l.A, l.B = compareNumber(d, d.NumA, o), compareNumber(d, d.NumB, o)
		l.Change = changeText(d, o)
	}
	if d.Field == "fuel" {
		l.A, l.B = words.Capital(l.A), words.Capital(l.B)
	}
	switch {
	case l.A == "":
		l.A, l.Word, l.Sign = notNoted, "Only in B", "one"
	case l.B == "":
		l.B, l.Word, l.Sign = notNoted, "Only in A", "one"
	case l.A == l.B: // also numbers that differ by less than what is shown
		l.Word, l.Sign, l.Change = "Same", "same", ""
	default:
		l.Word, l.Sign = "Different", "different"
	}
	return l
}

// compareNumber writes a number of a line; "" for none.
func compareNumber(d journal.Difference, v *float64, o Options) string {
	switch {
	case v == nil:
		return ""
	case d.Quantity == "score":
		return words.Number(strings.TrimSuffix(strconv.FormatFloat(*v, 'f', 1, 64), ".0"))
	}
	return quantityText(d, *v, o)
}

func quantityText(d journal.Difference, v float64, o Options) string {
	for _, q := range units.Quantities() {
		if q.String() != d.Quantity {
			continue
		}
		if q == units.QuantityDuration && v < minutesFrom {
			return trimmed(math.Round(v*10)/10) + " s"
		}
		u := o.Units.Unit(q)
		if q == units.QuantityLength {
			u = o.Units.Unit(units.QuantityThickness) // rods and beads are no rooms
		}
		return words.Number(units.Format(q, v, u, gas.Oxygen.StandardRatio()))
	}
	return trimmed(v)
}

func trimmed(v float64) string { return words.Number(strconv.FormatFloat(v, 'g', 4, 64)) }

// changeText is by how much a number grew from A to B; "" when it did not.
func changeText(d journal.Difference, o Options) string {
	if d.Change == nil || d.Same {
		return ""
	}
	sign := "+"
	if *d.Change < 0 {
		sign = "−"
	}
	size := math.Abs(*d.Change)
	text := sign + compareNumber(d, &size, o)
	if strings.HasPrefix(text[len(sign):], "0 ") {
		return "" // less than is written
	}
	if d.Relative == nil || d.Quantity == "score" {
		return text
	}
	return text + " (" + sign + words.Number(strconv.FormatFloat(100*math.Abs(*d.Relative), 'f', 0, 64)) + " %)"
}
