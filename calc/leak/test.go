package leak

import (
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Reading is one look at the gauge and the thermometer.
type Reading struct {
	At          units.Duration         // since any fixed instant; only differences count
	Pressure    units.AbsolutePressure // gauge reading plus the barometer at that time
	Temperature *units.Temperature     // of the gas, which is that of the room once the hose has settled; nil when not read
}

// Test is a pressure-decay test of a closed volume. A gauge shows pressure above the air, so each absolute pressure is the gauge
// reading plus the barometer: a barometer that falls by 10 hPa lifts the gauge by 10 mbar. Use the barometer of each reading
// when it is known, or one figure for all and its possible movement as BarometerError.
type Test struct {
	Gas              gas.Gas
	Volume           units.Volume                // of the closed section
	VolumeError      units.Volume                // it may be this much larger or smaller
	Readings         []Reading                   // two or more, in order of time
	PressureError    units.AbsolutePressure      // of each reading: half a division of the gauge, or more
	TemperatureError units.TemperatureDifference // of each reading
	Allowed          *units.StandardFlow         // the owner's allowed leak; nil means DefaultAllowed
	Ambient          units.AbsolutePressure      // barometer; 0 means units.StandardAtmosphere
	BarometerError   units.AbsolutePressure      // of each absolute pressure, when the barometer was not read each time
	GaugeMaximum     units.GaugePressure         // end of the gauge's scale; 0 means not known
}

// Between returns the two readings of the plain form: at the start and after a duration.
func Between(p1 units.AbsolutePressure, t1 units.Temperature, p2 units.AbsolutePressure, t2 units.Temperature, after units.Duration) []Reading {
	return []Reading{{Pressure: p1, Temperature: &t1}, {At: after, Pressure: p2, Temperature: &t2}}
}

// duration is the time from the first to the last reading.
func (t Test) duration() units.Duration {
	return t.Readings[len(t.Readings)-1].At - t.Readings[0].At
}

// ambient returns the barometer, or that of sea level.
func (t Test) ambient() units.AbsolutePressure {
	if t.Ambient == 0 {
		return units.StandardAtmosphere
	}
	return t.Ambient
}

// allowed returns the allowed leak, or the default.
func (t Test) allowed() units.StandardFlow {
	if t.Allowed == nil {
		return DefaultAllowed
	}
	return *t.Allowed
}

// pressureError is how far one absolute pressure may be off.
func (t Test) pressureError() units.AbsolutePressure { return t.PressureError + t.BarometerError }

// check refuses what is no test; the densities check pressure and temperature against the gas data.
func (t Test) check() error {
	if _, err := gas.Parse(string(t.Gas)); err != nil {
		return err
	}
	err := firstError(
		inRange("volume_m3", t.Volume, VolumeMinimum, VolumeMaximum, "m³", whyVolume),
		inRange("volume_error_m3", t.VolumeError, 0, VolumeErrorShare*t.Volume, "m³", whyVolumeError),
		inRange("pressure_reading_error_pa", t.PressureError, PressureErrorMinimum, PressureErrorMaximum, "Pa", whyPressureError),
		inRange("temperature_reading_error_k", t.TemperatureError, 0, TemperatureErrorMaximum, "kelvin", whyThermometer),
		inRange("ambient_abs_pa", t.ambient(), AmbientMinimum, AmbientMaximum, "Pa", whyAmbient),
		inRange("barometer_error_pa", t.BarometerError, 0, 20e3, "Pa", whyBarometer),
		inRange("allowed_leak_std_m3_s", t.allowed(), FlowMinimum, FlowMaximum, "m³/s", whyAllowed),
		gas.InRange("readings", float64(len(t.Readings)), 2, 100000, "", whyReadings),
	)
	if err != nil {
		return err
	}
	return firstError(t.checkTimes(), t.checkPressures())
}

// checkTimes refuses an end before the start and two readings at one instant.
func (t Test) checkTimes() error {
	if len(t.Readings) == 2 {
		return inRange("duration_s", t.duration(), DurationMinimum, DurationMaximum, "s", whyDuration)
	}
	for i := 1; i < len(t.Readings); i++ {
		before := t.Readings[i-1].At
		if err := inRange(t.field(i, "at_s"), t.Readings[i].At, before+DurationMinimum, before+DurationMaximum, "s", whyLater); err != nil {
			return err
		}
	}
	return nil
}

// checkPressures refuses a start without pressure, acetylene above its limit at the start, and readings above the gauge's scale.
func (t Test) checkPressures() error {
	first, start := t.Readings[0].Pressure, t.field(0, "abs_pa")
	if t.Gas == gas.Acetylene {
		highest := min(AcetyleneMaximum.Absolute(t.ambient()), AcetyleneAbsoluteMaximum)
		if err := inRange(start, first, t.ambient(), highest, "Pa", whyAcetylene); err != nil {
			return err
		}
	}
	if err := inRange(start, first, t.ambient()+t.pressureError(), gas.CompressedMaximum+t.ambient(), "Pa", whyStart); err != nil {
		return err
	}
	for i, r := range t.Readings {
		if t.GaugeMaximum == 0 {
			break
		}
		if err := inRange(t.field(i, "abs_pa"), r.Pressure, 0, t.GaugeMaximum.Absolute(t.ambient()), "Pa", whyGauge); err != nil {
			return err
		}
	}
	return nil
}

// field names a value of a reading as the command line does: start_ and end_ when there are two readings.
func (t Test) field(i int, what string) string {
	switch {
	case len(t.Readings) == 2 && i == 0:
		return "start_" + what
	case len(t.Readings) == 2:
		return "end_" + what
	}
	return words.F("readings[%d].%s", i, what)
}
