package leak

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// TightPressure returns the pressure of a closed volume that was at p and from, loses nothing and comes to another temperature:
// the p₂ at which ρ(p₂, to) = ρ(p, from), real gas. It is what a gauge follows without any leak: about 0.35 % of the absolute
// pressure per kelvin at low pressure, 0.5 % for oxygen at 150 bar. Errors: *gas.RangeError outside the gas data.
func TightPressure(g gas.Gas, p units.AbsolutePressure, from, to units.Temperature) (units.AbsolutePressure, error) {
	target, err := g.Density(p, from)
	if err != nil {
		return 0, err
	}
	found := p * units.AbsolutePressure(to/from)
	// Density is nearly proportional to pressure, so each step leaves a small share of the error.
	for range 100 {
		d, err := g.Density(found, to)
		if err != nil {
			return 0, err
		}
		next := found * units.AbsolutePressure(target/d)
		if math.Abs(float64(next/found-1)) < 1e-14 {
			return next, nil
		}
		found = next
	}
	return found, nil
}

// tightPressure is TightPressure from the first to the last reading, nil when it cannot be told.
func (t Test) tightPressure() *units.AbsolutePressure {
	first, last := t.Readings[0], t.Readings[len(t.Readings)-1]
	if first.Temperature == nil || last.Temperature == nil {
		return nil
	}
	p, err := TightPressure(t.Gas, first.Pressure, *first.Temperature, *last.Temperature)
	if err != nil {
		return nil
	}
	return &p
}
