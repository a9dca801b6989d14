package leak

import (
	"fmt"
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// notes collects what there is to know beside a result, cautions first.
func (t Test) notes(r Result) []Note {
	var notes []Note
	add := func(when bool, n Note) {
		if when {
			notes = append(notes, n)
		}
	}
	add(t.acetyleneRose(), noteAcetyleneRose)
	add(r.Verdict == Leaking, noteLeaking(t.Gas))
	add(r.GasCameIn, noteGasCameIn)
	add(r.Emptied, noteEmptied)
	add(r.SmallLeak(), noteSmallLeak(r, t.Gas))
	add(r.MoreTime > 0, noteMoreTime(r, t.Gas))
	add(t.missing() > 0, t.noteTemperature())
	add(t.BarometerError == 0 && t.duration() > barometerMatters && t.PressureError < barometerSmall, noteBarometer)
	add(t.Allowed == nil, noteDefault)
	return notes
}

// barometerMatters is how long a barometer may be left unread: ours; the weather moves it by about 1 hPa an hour (from memory).
const barometerMatters units.Duration = 2 * units.Hour

// barometerSmall is the reading error beside which the weather is nothing: ten times the 10 hPa a front brings in a day (from memory).
const barometerSmall units.AbsolutePressure = 10e3

// hopeless is a wait that is no advice any more: ours.
const hopeless units.Duration = 24 * units.Hour

var (
	noteAcetyleneRose = Note{
		Code: "acetylene_above_limit", Source: sourceAcetylene, Trust: TrustRead, Stop: true,
		Text: "The acetylene now stands above 15 psi (1.03 bar): back the regulator screw out and let it off in the open, away from any flame.",
	}
	noteGasCameIn = Note{
		Code: "gas_came_in", Source: commonPractice, Trust: TrustMemory, Stop: true,
		Text: "The section gained gas, so a valve or the regulator seat let some in, or a temperature is wrong. A leak can hide behind it: find out before trusting the verdict.",
	}
	noteEmptied = Note{
		Code: "emptied", Source: "arithmetic", Trust: TrustOwn,
		Text: "Nothing was left at the end: the leak is at least the figure shown and may be far larger. Read sooner next time.",
	}
	noteBarometer = Note{
		Code: "barometer_not_read", Source: "a gauge shows pressure above the air", Trust: TrustOwn,
		Text: "In a long test the weather moves the gauge: a barometer falling by 10 mbar (0.15 psi) lifts it by as much. Enter the barometer with each reading.",
	}
	noteDefault = Note{Code: "default_allowed", Source: "29 CFR 1910.146(b) and assumptions of ours", Trust: TrustOwn, Text: DefaultAllowedReason + "."}
)

// acetyleneRose reports whether acetylene ended above its limit: it started below, so it warmed or the regulator creeps.
func (t Test) acetyleneRose() bool {
	last := t.Readings[len(t.Readings)-1].Pressure
	return t.Gas == gas.Acetylene && last > min(AcetyleneMaximum.Absolute(t.ambient()), AcetyleneAbsoluteMaximum)
}

// noteLeaking says what to do first about a leak.
func noteLeaking(g gas.Gas) Note {
	text := "Close the cylinder valve and keep it closed. No flame, no sparks, doors open. Then look for the joint with soap, never with a flame."
	if g == gas.Oxygen {
		text = "Close the cylinder valve and keep it closed. Air out the place and your clothes: in air rich in oxygen cloth, hair and oil burn fiercely. " +
			"Then look for the joint with soap made for oxygen service, never with a flame."
	}
	return Note{Code: "leaking", Text: text, Source: sourceSoap, Trust: TrustRead, Stop: true}
}

// noteSmallLeak says that a tight section leaks all the same.
func noteSmallLeak(r Result, g gas.Gas) Note {
	return Note{
		Code: "small_certain_leak", Source: "the readings", Trust: TrustOwn,
		Text: words.F("Small but certain: it does lose gas, %s or so, less than the %s allowed. Soap the joints when there is time, and test again.",
			flowText(r.Leak.Value, g), flowText(float64(r.Allowed), g)),
	}
}

// noteMoreTime says how much longer an undecided test must run, or what to change when waiting is no use.
func noteMoreTime(r Result, g gas.Gas) Note {
	way := words.F("Leave it for about %s more and read again.", minutes(r.MoreTime))
	if r.MoreTime > hopeless {
		way = words.F("It would take %s more: test a smaller volume, or with a finer gauge and a steady temperature.", minutes(r.MoreTime))
	}
	return Note{
		Code: "too_short", Source: "the reading errors, which weigh by one over the time", Trust: TrustOwn,
		Text: words.F("Too short to tell: this test could not see less than %s. ", flowText(float64(r.SmallestDetectable), g)) + way,
	}
}

// noteTemperature says what was taken for a temperature that was not read.
func (t Test) noteTemperature() Note {
	mean, read := t.meanTemperature()
	taken := fmt.Sprintf("%.0f °C (%.0f °F)", float64(mean)-273.15, (float64(mean)-273.15)*1.8+32)
	off := func(d units.TemperatureDifference) string {
		return fmt.Sprintf("%.0f °C (%.0f °F)", float64(d), float64(d)*1.8)
	}
	text := words.F("%d of %d temperatures were not read: taken as %s, each off by up to %s, so the band is wider.",
		t.missing(), len(t.Readings), taken, off(assumedDrift))
	if !read {
		text = fmt.Sprintf("No temperature was read: taken as %s off by up to %s, with a drift of up to %s in each reading, so the band is much wider. "+
			"A thermometer beside the hose makes the test sharper.", taken, off(assumedLevel), off(assumedDrift))
	}
	return Note{Code: "temperature_not_read", Text: text, Source: "assumption of ours about a garage", Trust: TrustOwn}
}

// flowText writes a standard flow in both systems, as units.System.Say takes them.
func flowText(flow float64, g gas.Gas) string {
	ft3 := units.CubicFoot / units.Hour
	if r := g.StandardRatio(); r > 0 {
		ft3 *= float64(r)
	}
	return fmt.Sprintf("%s L/h (%s ft³/h)", twoDigits(flow*units.Hour/litre), twoDigits(flow/ft3))
}

// twoDigits writes a number with two significant digits, or with all its whole ones.
func twoDigits(v float64) string {
	if math.Abs(v) >= 100 {
		return fmt.Sprintf("%.0f", v)
	}
	return fmt.Sprintf("%.2g", v)
}

// minutes writes a waiting time for a person, rounded up.
func minutes(d units.Duration) string {
	if d > 3*units.Hour {
		return fmt.Sprintf("%.0f h", math.Ceil(float64(d)/units.Hour))
	}
	return fmt.Sprintf("%.0f min", math.Ceil(float64(d)/units.Minute))
}
