package units

import "strconv"

// Format writes an SI value for a person in a unit, with the unit and with digits fit for the quantity. r is needed for
// cubic feet of gas only; without it the metric unit is used.
func Format(q Quantity, si float64, u Unit, r StandardRatio) string {
	if u.NeedsGas() && r == 0 {
		u = Metric().Unit(q)
	}
	return FormatNumber(q, si, u, r) + " " + u.Symbol()
}

// FormatNumber writes an SI value as Format does, without the unit.
func FormatNumber(q Quantity, si float64, u Unit, r StandardRatio) string {
	x, _ := u.FromSI(si, r)
	return strconv.FormatFloat(x, 'g', 4, 64)
}
