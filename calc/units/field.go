package units

import "math"

// Field says how one input is read: its limits, the unit assumed when none is typed, and why the limits are what they are.
type Field struct {
	Name     string   // what the person sees beside the input: "Thickness"
	Quantity Quantity // what is read
	Unit     Unit     // assumed when none is typed; the zero Unit means the metric preset's

	// Min and Max are the limits in SI, inclusive; an infinite one is no limit. Both zero means no limits but those of
	// physics.
	Min, Max float64
	Why      string // the reason of the limits, in trade words

	Sheet    SheetTable    // which table "16 ga" means; thickness only
	Standard StandardRatio // of the gas, for ft³ of gas; zero refuses ft³ with the reason
	Optional bool          // nothing typed is an answer
}

// Parsed is what a text was understood as.
type Parsed struct {
	SI    float64 // finite and within the field's limits
	Unit  Unit    // as typed, else the field's
	Read  string  // for the person: "1/8 in = 3.175 mm", "16 ga (Manufacturers' Standard, steel) = 1.519 mm"
	Empty bool    // nothing was typed into an optional field; SI is then no answer
}

// limitSlack is the relative error of a limit that was computed from another unit; a number within it of a limit is the
// limit. Conversions are good to a few parts in 1e16.
const limitSlack = 1e-12

// unit returns the unit assumed when none is typed.
func (f Field) unit() Unit { return unitFor(f.Quantity, f.Unit) }

// unlimited reports whether the field has no limits of its own.
func (f Field) unlimited() bool { return f.Min == 0 && f.Max == 0 }

// clamp moves a number that is outside the limits by no more than rounding onto the limit; ok is false further out.
func (f Field) clamp(si float64) (clamped float64, ok bool) {
	switch {
	case f.unlimited() || (si >= f.Min && si <= f.Max):
		return si, true
	case math.Abs(si-f.Min) < limitSlack*math.Abs(f.Min):
		return f.Min, true
	case math.Abs(si-f.Max) < limitSlack*math.Abs(f.Max):
		return f.Max, true
	}
	return si, false
}

// unitFor returns u if it measures q, under whichever name of a length, else the metric preset's unit.
func unitFor(q Quantity, u Unit) Unit {
	switch {
	case u.quantity == q && !u.IsZero():
		return u
	case q.isLength() && u.quantity.isLength():
		return Unit{q, u.index} // one table of units serves every name of a length
	}
	return Metric().Unit(q)
}
