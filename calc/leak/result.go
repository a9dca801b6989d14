package leak

import (
	"torchside/calc/units"
)

// Verdict is what a test says about a section.
type Verdict string

// The verdicts.
const (
	Tight     Verdict = "tight"
	Leaking   Verdict = "leaking"
	Undecided Verdict = "undecided"
)

// Judge compares a leak with the allowed one: tight only if the high end is below it, leaking only if the low end is above zero
// and the high end above it, else undecided.
func Judge(leak units.Band, allowed units.StandardFlow) Verdict {
	switch {
	case leak.High < float64(allowed):
		return Tight
	case leak.Low > 0 && leak.High > float64(allowed):
		return Leaking
	}
	return Undecided
}

// Result is what a test shows. Flows are in std m³/s.
type Result struct {
	Leak               units.Band         // positive is gas lost
	SmallestDetectable units.StandardFlow // a smaller leak would have passed for none in this test
	StandardError      units.StandardFlow // of the rate by least squares, from the scatter; 0 with two readings
	Allowed            units.StandardFlow // what the verdict was made against
	Verdict            Verdict
	Movement           Movement // of the gas, temperature allowed for; see Locate

	// CertainLeak: the low end is above zero. Beside a verdict of Tight it is a small but certain leak.
	CertainLeak bool
	// GasCameIn: the section certainly gained gas. When it gained more than the allowed leak, a leak of that size may hide
	// behind it and the verdict is Undecided.
	GasCameIn bool
	// Emptied: nothing was left at the end, so the leak is at least the value; it is never called tight.
	Emptied bool

	TimeNeeded units.Duration // after which a like test sees the allowed leak and calls a tight section tight
	MoreTime   units.Duration // Undecided: how much longer to go on, if the readings go on as they do; 0 when more time is no help

	// TightPressure is what the section would show at the last temperature had it lost nothing; nil when a temperature is
	// missing or it lies outside the gas data.
	TightPressure *units.AbsolutePressure
	Notes         []Note // cautions first
}

// SmallLeak reports a small but certain leak: proven, and below the allowed one.
func (r Result) SmallLeak() bool { return r.CertainLeak && r.Verdict == Tight }

// Result works the test out. Errors: *gas.RangeError with the field names of the command line, an error wrapping gas.ErrUnknown.
func (t Test) Result() (Result, error) {
	if err := t.check(); err != nil {
		return Result{}, err
	}
	states, err := t.states()
	if err != nil {
		return Result{}, err
	}
	rate := t.rate(leastSquares(states))
	r := Result{
		SmallestDetectable: units.StandardFlow(rate.smallest), StandardError: units.StandardFlow(rate.standardError),
		Allowed: t.allowed(), CertainLeak: rate.band.Low > 0, GasCameIn: rate.band.High < 0, Emptied: t.emptied(),
		Movement: movement(rate.band), TightPressure: t.tightPressure(),
	}
	r.Leak = t.openEnded(rate.band, states, r.Emptied)
	r.Verdict = Judge(r.Leak, r.Allowed)
	// A gain larger than the allowed leak may hide one of that size: such a test shows nothing.
	if r.Leak.High < -float64(r.Allowed) {
		r.Verdict = Undecided
	}
	r.TimeNeeded = t.timeNeeded(rate, r.Allowed)
	if r.Verdict == Undecided && !r.GasCameIn && !r.Emptied {
		r.MoreTime = t.moreTime(rate, r.Allowed)
	}
	r.Notes = t.notes(r)
	return r, nil
}

// emptied reports whether the last reading cannot be told from no pressure.
func (t Test) emptied() bool {
	return t.Readings[len(t.Readings)-1].Pressure <= t.ambient()+t.pressureError()
}

// openEnded widens the band of a section that ran empty: when is not known, so the high end counts as if within a second.
func (t Test) openEnded(b units.Band, states []state, emptied bool) units.Band {
	if !emptied {
		return b
	}
	_, large := t.volumes()
	lost := (states[0].high - states[len(states)-1].low) * large / float64(t.Gas.StandardDensity())
	b.High = max(b.High, lost/float64(DurationMinimum))
	b.Reason = "the section ran empty, nobody knows when: the leak is at least this, and the high end counts as if it emptied in a second"
	return b
}

// movement reads a band as one of the three movements.
func movement(b units.Band) Movement {
	switch {
	case b.Low > 0:
		return Fell
	case b.High < 0:
		return Rose
	}
	return Held
}

// Together adds the leaks of two volumes of one line that were watched at the same time, such as both sides of a regulator; Judge
// then compares the sum.
func Together(a, b units.Band) units.Band {
	return units.Band{Value: a.Value + b.Value, Low: a.Low + b.Low, High: a.High + b.High, Reason: a.Reason}
}

// Creep reads the result of a RegulatorCreep test: the gas that came in past the seat, and the verdict on the seat by the same rule as
// a leak. A leak of the delivery side hides creep of its size, so test that first.
func (r Result) Creep() (units.Band, Verdict) {
	in := units.Band{Value: -r.Leak.Value, Low: -r.Leak.High, High: -r.Leak.Low, Reason: r.Leak.Reason}
	return in, Judge(in, r.Allowed)
}
