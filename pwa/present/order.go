package present

import "torchside/calc/units"

// OrderFigure writes a number that a step of an order carries, value and unit apart. One that is capped keeps the limit of acetylene also
// as it is written.
func OrderFigure(q units.Quantity, si float64, capped bool, o Options) (value, unit string) {
	s := scale{quantity: q, unit: o.Units.Unit(q)}
	if capped {
		s.limit = acetyleneLimit
	}
	return s.number(si)
}
