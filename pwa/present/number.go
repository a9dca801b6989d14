package present

import (
	"math"

	"torchside/calc/units"
	"torchside/calc/words"
)

// Number is one shown number with where it comes from and the warnings that stand before it.
type Number struct {
	Key      string // data-val, and key of the sheet that tells where the number comes from
	Label    string
	Value    string // "5", "1/8", "2 h 40 min"
	Unit     string // "psi"; empty when Value has it all
	Band     string // "4.2 to 6 psi"; empty when there is none
	Kind     string // "maker's chart", "handbook", "computed", "common practice"; empty when not told
	Memory   bool   // some part of it is from memory
	Note     string // one sentence below; may be empty
	Warnings []Warning
}

// Text is value and unit as one string.
func (n Number) Text() string {
	if n.Unit == "" {
		return n.Value
	}
	return n.Value + " " + n.Unit
}

// From says in words where the number comes from.
func (n Number) From() string {
	switch {
	case n.Kind == "":
		return ""
	case n.Memory:
		return words.S("%s, from memory", n.Kind)
	}
	return n.Kind
}

// scale is how one SI number is written: its quantity, its unit, its gas and a limit that rounding must not pass.
type scale struct {
	quantity units.Quantity
	unit     units.Unit
	ratio    units.StandardRatio
	limit    float64 // SI; 0 means none
}

// number writes the value and the unit apart.
func (s scale) number(si float64) (value, unit string) {
	switch {
	case s.quantity == units.QuantityDuration && si < 1:
		return "no time", ""
	case s.quantity == units.QuantityDuration:
		return words.Number(units.Format(s.quantity, si, s.unit, s.ratio)), ""
	case s.quantity == units.QuantityBore && s.unit.Symbol() == "in":
		return words.Number(units.Format(s.quantity, si, s.unit, s.ratio)), ""
	case s.limit > 0:
		return atMost(s, si), s.unit.Symbol()
	case s.quantity == units.QuantityPower:
		si = threeDigits(si, s.unit) // a band of tens of per cent makes "10701 Btu/h" a false promise
	}
	return words.Number(units.FormatNumber(s.quantity, si, s.unit, s.ratio)), s.unit.Symbol()
}

// threeDigits rounds a value to three significant digits in the unit it is shown in.
func threeDigits(si float64, u units.Unit) float64 {
	x, err := u.FromSI(si, 0)
	if err != nil || x == 0 {
		return si
	}
	step := math.Pow10(int(math.Floor(math.Log10(math.Abs(x)))) - 2)
	back, err := u.SI(math.Round(x/step)*step, 0)
	if err != nil {
		return si
	}
	return back
}

// text writes value and unit together.
func (s scale) text(si float64) string {
	v, u := s.number(si)
	if u == "" {
		return v
	}
	return v + " " + u
}

// band writes a range with the unit once; empty when there is no width to speak of.
func (s scale) band(low, high float64) string {
	if !(low < high) {
		return ""
	}
	if s.quantity == units.QuantityDuration && low < 1 { // "0 s to 5 h" startles, and says no more
		return words.S("up to %s", s.text(high))
	}
	lo, unit := s.number(low)
	hi, _ := s.number(high)
	if lo == hi {
		return ""
	}
	if unit == "" {
		return words.S("%s to %s", lo, hi)
	}
	return words.S("%s to %s %s", lo, hi, unit)
}
