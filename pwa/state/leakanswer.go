package state

import (
	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

// LeakAnswer is what the readings of a test say so far.
type LeakAnswer struct {
	Verdict   leak.Verdict
	GaugeOnly bool       // the gauge was judged alone: there is no rate
	Leak      units.Band // std m³/s; of a creep test what came in
	Smallest  units.StandardFlow
	Allowed   units.StandardFlow
	Default   bool // the allowed leak is ours, not the owner's
	Certain   bool
	Small     bool           // certain, and below the allowed one
	More      units.Duration // how much longer an undecided test must go on; 0 when more time is no help
	Elapsed   units.Duration
	Moved     leak.Movement
	Tight     *units.GaugePressure // what the gauge would show had nothing leaked
	Notes     []leak.Note
	Finding   *leak.Finding
	Losses    *leak.Losses
	Air       *leak.Air
	AtMost    bool   // losses and air are of the largest leak the test cannot exclude
	Problem   string // why there is no answer
}

// barometerDrift is how far the weather moves the barometer in an hour, in Pa (from memory; it only widens the band). The shortest
// test counts as two hours.
const (
	barometerDrift = 100.0
	barometerHours = 2.0
)

// gaugeKeys are the keys under which one gauge of a test is kept.
type gaugeKeys struct{ gauge, division, scale, volume, volumeError string }

var (
	mainGauge  = gaugeKeys{leakGauge, leakDivision, leakScale, leakVolume, leakVolumeError}
	otherGauge = gaugeKeys{leakOther, leakOtherDiv, leakOtherScale, leakOtherVolume, leakOtherError}
)

// calcTest is a test by one of its gauges as package leak takes it; ok is false when that gauge was not read twice.
func (t LeakTest) calcTest(k gaugeKeys) (leak.Test, bool) {
	ambient := units.AbsolutePressure(t.setting(leakBarometer))
	allowed := units.StandardFlow(t.setting(leakAllowed))
	c := leak.Test{
		Gas: t.Gas, Volume: units.Volume(t.setting(k.volume)), VolumeError: units.Volume(t.setting(k.volumeError)),
		PressureError:    units.AbsolutePressure(t.setting(k.division) / 2),
		TemperatureError: units.TemperatureDifference(t.setting(leakThermometer)),
		Ambient:          ambient, Allowed: &allowed, GaugeMaximum: units.GaugePressure(t.setting(k.scale)),
	}
	for _, r := range t.Readings {
		p, ok := r.value(k.gauge)
		if !ok {
			continue
		}
		one := leak.Reading{At: units.Duration(float64(r.At-t.Start) / 1000), Pressure: units.GaugePressure(p).Absolute(ambient)}
		if v, ok := r.value(leakTemperature); ok {
			temperature := units.Temperature(v)
			one.Temperature = &temperature
		}
		c.Readings = append(c.Readings, one)
	}
	if len(c.Readings) < 2 || c.Volume == 0 || c.PressureError == 0 {
		return c, false
	}
	hours := float64(c.Readings[len(c.Readings)-1].At-c.Readings[0].At) / units.Hour
	c.BarometerError = units.AbsolutePressure(barometerDrift * min(max(barometerHours, hours), 30))
	return c, true
}

// answer works a test out; it is nil before the second reading.
func (a App) answer(t LeakTest) *LeakAnswer {
	if len(t.Readings) < 2 {
		return nil
	}
	out := LeakAnswer{Elapsed: units.Duration(float64(t.last().At-t.Start) / 1000), Allowed: units.StandardFlow(t.setting(leakAllowed))}
	out.Default = out.Allowed == leak.DefaultAllowed
	if t.Section.GaugeOnly(t.Gas) {
		out.byGauge(t)
	} else {
		out.byRate(t)
	}
	if out.Problem == "" && t.Section == leak.WholeRig {
		out.withDelivery(t)
	}
	if out.Problem != "" {
		out.Problem = a.Prefs.Units.Say(out.Problem)
		return &out
	}
	out.Small = out.Certain && out.Verdict == leak.Tight
	out.Finding = a.finding(t, out.Moved)
	a.meaning(t, &out)
	return &out
}

// byRate is the answer of a section whose gas data reach far enough.
func (o *LeakAnswer) byRate(t LeakTest) {
	c, ok := t.calcTest(mainGauge)
	if !ok {
		o.Problem = "Two readings of the gauge are needed."
		return
	}
	r, err := c.Result()
	if err != nil {
		o.Problem = readable(err)
		return
	}
	o.take(r, c.Ambient)
	if t.Section == leak.RegulatorCreep {
		o.Leak, o.Verdict = r.Creep()
		o.Certain = o.Leak.Low > 0
	}
}

// take takes a result over as it is.
func (o *LeakAnswer) take(r leak.Result, ambient units.AbsolutePressure) {
	o.Verdict, o.Leak, o.Smallest, o.Certain, o.More, o.Moved = r.Verdict, r.Leak, r.SmallestDetectable, r.CertainLeak, r.MoreTime, r.Movement
	o.Notes = r.Notes
	if r.TightPressure != nil {
		g := r.TightPressure.Gauge(ambient)
		o.Tight = &g
	}
}

// noteGaugeOnly says why there is no rate.
var noteGaugeOnly = leak.Note{
	Code: "gauge_only", Source: "how the gas is kept in its cylinder", Trust: leak.TrustOwn,
	Text: "On the cylinder side of this gas only the gauge itself can be judged, not the size of a leak: a gauge that stands still is no proof. Soap the cylinder valve and the nut as well.",
}

// byGauge judges a gauge alone: fallen is a leak of unknown size, standing still is no proof.
func (o *LeakAnswer) byGauge(t LeakTest) {
	o.GaugeOnly, o.Verdict, o.Moved = true, leak.Undecided, leak.Held
	o.Notes = append(o.Notes, noteGaugeOnly)
	first, last := t.Readings[0], t.last()
	start, ok1 := first.value(leakGauge)
	end, ok2 := last.value(leakGauge)
	if !ok1 || !ok2 {
		o.Problem = "Two readings of the gauge are needed."
		return
	}
	moved, ok := leak.MovedByGauge(units.GaugePressure(start), units.GaugePressure(end), units.AbsolutePressure(t.setting(leakDivision)/2), t.steady())
	if !ok {
		o.Notes = append(o.Notes, leak.Note{Code: "temperature_moved", Source: "how the gas is kept in its cylinder", Trust: leak.TrustOwn,
			Text: "The temperature changed or was not read, and this gas follows it far more than a dry one: the gauge tells nothing. Read the thermometer both times."})
		return
	}
	o.Moved = moved
	if moved == leak.Fell {
		o.Verdict, o.Certain = leak.Leaking, true
	}
}

// steady reports whether the temperature stayed within what the thermometer can tell.
func (t LeakTest) steady() bool {
	first, ok1 := t.Readings[0].value(leakTemperature)
	last, ok2 := t.last().value(leakTemperature)
	return ok1 && ok2 && max(first-last, last-first) <= t.setting(leakThermometer)
}

// withDelivery adds the delivery side to the whole rig, which is watched by both gauges.
func (o *LeakAnswer) withDelivery(t LeakTest) {
	c, ok := t.calcTest(otherGauge)
	if !ok {
		o.Verdict = undecidedUnlessLeaking(o.Verdict)
		o.Notes = append(o.Notes, leak.Note{Code: "other_not_read", Source: "the readings", Trust: leak.TrustOwn,
			Text: "The delivery gauge was not read twice, so the hose is not part of the verdict: read both gauges."})
		return
	}
	r, err := c.Result()
	switch {
	case err != nil:
		o.Problem = readable(err)
	case o.GaugeOnly:
		// The rate is that of the delivery side; the cylinder side adds no proof that it is tight.
		moved, verdict, notes := o.Moved, o.Verdict, o.Notes
		o.take(r, c.Ambient)
		o.Notes = append(notes, o.Notes...)
		o.Certain = o.Certain || verdict == leak.Leaking
		if moved != leak.Held {
			o.Moved = moved
		}
		if verdict == leak.Leaking {
			o.Verdict = leak.Leaking
		}
		o.Verdict = undecidedUnlessLeaking(o.Verdict)
	default:
		o.Leak = leak.Together(o.Leak, r.Leak)
		o.Smallest += r.SmallestDetectable
		o.Verdict, o.Certain = leak.Judge(o.Leak, o.Allowed), o.Leak.Low > 0
		o.More = max(o.More, r.MoreTime)
		if o.Verdict != leak.Undecided {
			o.More = 0
		}
	}
}

func undecidedUnlessLeaking(v leak.Verdict) leak.Verdict {
	if v == leak.Leaking {
		return v
	}
	return leak.Undecided
}

// finding says where the gas goes, from both gauges of the line and from a test of the other line at the same time.
func (a App) finding(t LeakTest, moved leak.Movement) *leak.Finding {
	if f := a.crossing(t, moved); f != nil {
		return f
	}
	other, ok := t.otherMoved()
	if !ok {
		return nil
	}
	supply, delivery := moved, other
	if byDelivery(t.Section) {
		supply, delivery = other, moved
	}
	prep, err := leak.Prepare(t.Section, t.Gas, 0)
	if err != nil {
		return nil
	}
	if f, ok := leak.Locate(prep.BackedOut, supply, delivery); ok {
		return &f
	}
	return nil
}

// byDelivery reports whether a section is tested by the delivery gauge.
func byDelivery(s leak.Section) bool {
	return s == leak.OxygenDelivery || s == leak.FuelDelivery || s == leak.RegulatorCreep
}

// otherMoved is what the gas behind the other gauge did.
func (t LeakTest) otherMoved() (leak.Movement, bool) {
	gaugeOnly := byDelivery(t.Section) && t.Gas.IsFuel() && t.Gas.Storage() != gas.StoredCompressed
	first, ok1 := t.Readings[0].value(leakOther)
	last, ok2 := t.last().value(leakOther)
	switch {
	case !ok1 || !ok2 || t.setting(leakOtherDiv) == 0:
		return leak.Held, false
	case gaugeOnly:
		return leak.MovedByGauge(units.GaugePressure(first), units.GaugePressure(last), units.AbsolutePressure(t.setting(leakOtherDiv)/2), t.steady())
	}
	c, ok := t.calcTest(otherGauge)
	if !ok {
		return leak.Held, false
	}
	r, err := c.Result()
	return r.Movement, err == nil
}

// crossing looks at a test of the other line's delivery side that ran at the same time.
func (a App) crossing(t LeakTest, moved leak.Movement) *leak.Finding {
	for _, u := range a.Leak.tests {
		together := byDelivery(t.Section) && byDelivery(u.Section) && t.Line() != u.Line() && t.Start < u.last().At && u.Start < t.last().At
		if !together || len(u.Readings) < 2 {
			continue
		}
		c, ok := u.calcTest(mainGauge)
		if !ok {
			continue
		}
		r, err := c.Result()
		if err != nil {
			continue
		}
		if f, ok := leak.Crossing(moved, r.Movement); ok {
			return &f
		}
	}
	return nil
}

// meaning adds what the leak loses and what it does to the room's air. A leak that is certain counts as what it is; of a tight section the
// largest one counts that the test cannot exclude. An undecided test means nothing yet.
func (a App) meaning(t LeakTest, o *LeakAnswer) {
	if o.Verdict == leak.Undecided && !o.Certain {
		return
	}
	rate := units.StandardFlow(o.Leak.Value)
	if !o.Certain {
		rate, o.AtMost = units.StandardFlow(o.Leak.High), true
	}
	rate = min(rate, leak.FlowMaximum)
	if t.Section == leak.RegulatorCreep || o.GaugeOnly && t.Section != leak.WholeRig || rate <= 0 {
		return
	}
	if l, err := leak.LossesOf(rate, a.priceOf(t.Gas), a.contentsOf(t.Gas)); err == nil {
		o.Losses = &l
	}
	e := leak.Exposure{Gas: t.Gas, Leak: min(units.StandardFlow(max(o.Leak.High, float64(rate))), leak.FlowMaximum), Room: a.room()}
	if air, err := e.After(24 * units.Hour); err == nil {
		o.Air = &air
	}
}
