package leak

import (
	"torchside/calc/gas"
	"torchside/calc/units"
)

// margin makes every waiting time 1 % longer: a bar must be passed, not met, and the band is not quite even on both sides.
const margin = 1.01

// timeNeeded is how long a test with these errors must run to see a leak: the reading errors weigh by one over the time. Both
// must come below it, the smallest detectable leak and the high end of a section that loses nothing.
func (t Test) timeNeeded(r rate, wanted units.StandardFlow) units.Duration {
	_, large := t.volumes()
	spread := r.smallest * large / float64(t.Volume)
	return t.duration() * units.Duration(margin*spread/float64(wanted))
}

// moreTime is how much longer an undecided test must go on if the gas goes on as it did: until the high end is below the
// allowed leak, or the low end above zero, whichever comes first. A gain counts as no leak.
func (t Test) moreTime(r rate, allowed units.StandardFlow) units.Duration {
	_, large := t.volumes()
	share := large / float64(t.Volume)
	value := max(0, r.band.Value)
	whole := 0.0 // as a multiple of the time so far
	if room := float64(allowed) - value*share; room > 0 {
		whole = r.smallest * share / room
	}
	if value > 0 {
		if proof := r.smallest / value; whole == 0 || proof < whole {
			whole = proof
		}
	}
	return max(DurationMinimum, t.duration()*units.Duration(margin*whole-1))
}

// Plan is a test that has not been made yet.
type Plan struct {
	Gas              gas.Gas
	Volume           units.Volume
	VolumeError      units.Volume
	Gauge            units.GaugePressure // test pressure
	Temperature      *units.Temperature  // nil when there will be no thermometer
	PressureError    units.AbsolutePressure
	TemperatureError units.TemperatureDifference
	Ambient          units.AbsolutePressure // 0 means units.StandardAtmosphere
	BarometerError   units.AbsolutePressure
}

// test is the plan carried out on a section that loses nothing.
func (p Plan) test(after units.Duration) Test {
	t := Test{Gas: p.Gas, Volume: p.Volume, VolumeError: p.VolumeError, PressureError: p.PressureError,
		TemperatureError: p.TemperatureError, Ambient: p.Ambient, BarometerError: p.BarometerError}
	pressure := p.Gauge.Absolute(t.ambient())
	t.Readings = []Reading{{Pressure: pressure, Temperature: p.Temperature}, {At: after, Pressure: pressure, Temperature: p.Temperature}}
	return t
}

// SmallestDetectable returns the smallest leak a test of that length will show. Errors as Test.Result.
func (p Plan) SmallestDetectable(after units.Duration) (units.StandardFlow, error) {
	r, err := p.test(after).Result()
	return r.SmallestDetectable, err
}

// TimeNeeded returns how long to wait so that a leak of that size shows and a tight section can be called tight. Errors as
// Test.Result, and *gas.RangeError for a leak that is none.
func (p Plan) TimeNeeded(wanted units.StandardFlow) (units.Duration, error) {
	if err := inRange("wanted_leak_std_m3_s", wanted, FlowMinimum, FlowMaximum, "m³/s", whyAllowed); err != nil {
		return 0, err
	}
	t := p.test(units.Hour)
	t.Allowed = &wanted
	r, err := t.Result()
	return r.TimeNeeded, err
}
