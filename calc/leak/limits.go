package leak

import (
	"errors"

	"torchside/calc/gas"
	"torchside/calc/units"
)

const litre = units.Litre

// Limits of the inputs, inclusive. They mark where an answer stops making sense, not where a rig stops being safe.
const (
	// VolumeMinimum and VolumeMaximum run from a gauge's tube to a bundle of cylinders.
	VolumeMinimum units.Volume = 1e-6
	VolumeMaximum units.Volume = 10
	// VolumeErrorShare is the largest error of a volume that still leaves a volume, as a share of it.
	VolumeErrorShare = 0.9
	// PressureErrorMinimum is far below any shop gauge: it refuses a division of zero.
	PressureErrorMinimum units.AbsolutePressure = 0.1
	PressureErrorMaximum units.AbsolutePressure = 5e6
	// TemperatureErrorMaximum is that of no thermometer at all.
	TemperatureErrorMaximum units.TemperatureDifference = 30
	// DurationMinimum and DurationMaximum run from the shortest that can be timed by hand to a year.
	DurationMinimum units.Duration = 1
	DurationMaximum units.Duration = 366 * 24 * 3600
	// AmbientMinimum and AmbientMaximum run from the air at 5500 m to the highest barometer with room to spare.
	AmbientMinimum units.AbsolutePressure = 50e3
	AmbientMaximum units.AbsolutePressure = 120e3
	// FlowMinimum is 1e-5 cm³/s, the least that a bubble test by the standard shows (ASTM E515-11); FlowMaximum empties a cylinder in seconds.
	FlowMinimum units.StandardFlow = 1e-11
	FlowMaximum units.StandardFlow = 1

	// AcetyleneMaximum is 15 psi gauge and AcetyleneAbsoluteMaximum 30 psi absolute, whichever is lower: 29 CFR 1910.253(a)(2).
	AcetyleneMaximum         units.GaugePressure    = 15 * units.PSI
	AcetyleneAbsoluteMaximum units.AbsolutePressure = 30 * units.PSI
)

const (
	whyVolume        = "the closed part of a rig has a volume, from a gauge's tube to a bundle of cylinders"
	whyVolumeError   = "an error of nearly the whole volume leaves nothing to reckon with: measure the hoses"
	whyPressureError = "every gauge has divisions: half of one is how far a reading may be off, and it is never zero"
	whyTemperature   = "gas data were checked from -20 to 50 °C (-4 to 122 °F)"
	whyThermometer   = "a thermometer is off by some degrees at most"
	whyDuration      = "the end comes after the start: a leak shows only over time, from a second to a year"
	whyLater         = "each reading comes later than the one before, by a second at least"
	whyReadings      = "a leak shows only between two readings or more"
	whyStart         = "a leak test needs pressure: at the start the section stands above the air around it by more than the reading error"
	whyGauge         = "the reading cannot lie above the gauge's scale: check the unit and the gauge"
	whyAmbient       = "the air pressure around the gauge: 101 kPa (14.7 psi) at sea level, 50 kPa (7.3 psi) at 5500 m (18\u00a0000 ft)"
	whyBarometer     = "the weather moves the barometer by a few hundredths at most"
	whyAllowed       = "the leak to look for is above zero: no test can show that nothing leaks at all, and the lower limit here is the least that any soap shows"
	whyPressure      = "absolute pressures: the gauge reading plus about 101 kPa (14.7 psi) of air"
	whyAcetylene     = "acetylene is never used above 15 psi (1.03 bar) gauge or 30 psi (2.06 bar) absolute, not for a test either: 29 CFR 1910.253(a)(2); " +
		"the cylinder side is judged by its gauge alone"
)

// inRange is gas.InRange for any quantity.
func inRange[T ~float64](field string, value, low, high T, unit, why string) error {
	return gas.InRange(field, float64(value), float64(low), float64(high), unit, why)
}

// firstError returns the first error there is.
func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// renamed makes a range error of the gas data name the field that the caller knows.
func renamed(err error, pressure, temperature string) error {
	var limit *gas.RangeError
	if !errors.As(err, &limit) {
		return err
	}
	named := *limit
	switch limit.Unit {
	case "Pa":
		named.Field = pressure
	case "K":
		named.Field = temperature
	}
	return &named
}
