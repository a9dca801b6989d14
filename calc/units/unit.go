package units

import (
	"errors"
	"math"
	"slices"
)

// StandardRatio is a gas's real density at 70 °F over its real density at 15 °C, both at 101.325 kPa; about 0.979. It turns
// cubic feet (70 °F) into standard volume (15 °C). Zero means the gas is not known.
type StandardRatio float64

// ErrNeedsGas is returned when cubic feet of gas are read or written without a gas: a standard volume is mass divided by
// the real density of that gas, so there is nothing to convert with.
var ErrNeedsGas = errors.New("cubic feet of gas are stated at 70 °F: choose the gas first")

// ErrDifferentQuantities is returned when two units do not measure the same thing.
var ErrDifferentQuantities = errors.New("the two units measure different quantities")

// Unit is one unit of one quantity. It is comparable; the zero Unit is no unit and stands for the SI unit where it is used.
type Unit struct {
	quantity Quantity
	index    uint8 // position in unitTable[quantity]
}

// Symbol returns what is shown beside a number, "psi" or "ft³/h"; empty for a plain number and for the zero Unit.
func (u Unit) Symbol() string { return u.def().symbol }

// Quantity returns what the unit measures.
func (u Unit) Quantity() Quantity { return u.quantity }

// IsZero reports whether u is no unit.
func (u Unit) IsZero() bool { return u == Unit{} }

// NeedsGas reports whether the unit is of cubic feet of gas, which need a [StandardRatio].
func (u Unit) NeedsGas() bool { return u.def().state != 0 }

// StandardState names the state a gas volume in this unit is stated at, such as "70 °F, 101.325 kPa"; empty when the unit
// measures no gas volume.
func (u Unit) StandardState() string {
	switch u.quantity {
	case QuantityStandardVolume, QuantityStandardFlow, QuantityMoneyPerVolume:
		if u.NeedsGas() {
			return "70 °F, 101.325 kPa"
		}
		return "15 °C, 101.325 kPa"
	}
	return ""
}

// SI turns a number in this unit into SI. Errors: [ErrNeedsGas].
func (u Unit) SI(x float64, r StandardRatio) (float64, error) {
	d := u.def()
	f, err := d.scale(r)
	return x*f + d.offset, err
}

// FromSI turns an SI number into this unit. Errors: [ErrNeedsGas].
func (u Unit) FromSI(si float64, r StandardRatio) (float64, error) {
	d := u.def()
	f, err := d.scale(r)
	return (si - d.offset) / f, err
}

// plain is FromSI for a number to be shown: what the rounding of 273.15 K leaves of 0 °C is 0. NaN without a gas.
func (u Unit) plain(si float64, r StandardRatio) float64 {
	x, _ := u.FromSI(si, r)
	if u.quantity == QuantityTemperature && math.Abs(x) < 1e-9 {
		return 0
	}
	return x
}

// Convert turns a number in one unit into another of the same quantity; all names of length count as one. r matters for
// cubic feet of gas only. Errors: [ErrDifferentQuantities], [ErrNeedsGas].
func Convert(x float64, from, to Unit, r StandardRatio) (float64, error) {
	if from.quantity != to.quantity && !(from.quantity.isLength() && to.quantity.isLength()) {
		return math.NaN(), ErrDifferentQuantities
	}
	if from.NeedsGas() && to.NeedsGas() {
		r = 1 // the same state on both sides: the ratio cancels
	}
	si, err := from.SI(x, r)
	if err != nil {
		return math.NaN(), err
	}
	return to.FromSI(si, r)
}

// UnitsOf returns the units a person may choose for a quantity; nil for no quantity. A few more are understood when typed.
func UnitsOf(q Quantity) []Unit {
	if q >= quantityCount {
		return nil
	}
	us := make([]Unit, 0, len(unitTable[q]))
	for i, d := range unitTable[q] {
		if !d.hidden {
			us = append(us, Unit{q, uint8(i)})
		}
	}
	return us
}

// UnitBySymbol finds a unit of a quantity by its symbol or by any other way people write it ("scfh", "deg F", "inches").
func UnitBySymbol(q Quantity, s string) (Unit, bool) {
	if q >= quantityCount {
		return Unit{}, false
	}
	rows := unitTable[q]
	// Most symbols come from our own texts and stand as they are in the table.
	if i := slices.IndexFunc(rows, func(d unitDef) bool { return s == d.symbol }); i >= 0 {
		return Unit{q, uint8(i)}, true
	}
	want := unitKey(s)
	for i, d := range rows {
		if want == symbolKeys[q][i] || slices.Contains(d.also, want) {
			return Unit{q, uint8(i)}, true
		}
	}
	return Unit{}, false
}

// symbolKeys are the symbols of the table in the form that is compared.
var symbolKeys = func() (keys [quantityCount][]string) {
	for q, rows := range unitTable {
		for _, d := range rows {
			keys[q] = append(keys[q], unitKey(d.symbol))
		}
	}
	return keys
}()

// def returns the unit's row; the SI unit's for one that does not exist.
func (u Unit) def() unitDef {
	if u.quantity < quantityCount && int(u.index) < len(unitTable[u.quantity]) {
		return unitTable[u.quantity][u.index]
	}
	return unitDef{factor: 1, places: 6, sig: 4}
}

// scale returns the factor to SI, with the gas's density ratio where the unit is stated at 70 °F.
func (d unitDef) scale(r StandardRatio) (float64, error) {
	if d.state == 0 {
		return d.factor, nil
	}
	if !(r > 0) || math.IsInf(float64(r), 0) {
		return math.NaN(), ErrNeedsGas
	}
	if d.state < 0 {
		return d.factor / float64(r), nil
	}
	return d.factor * float64(r), nil
}
