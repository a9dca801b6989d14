package state

import (
	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Limits of a gauge's division, in Pa: from the lines of a water column to those of a bundle's gauge.
const (
	leakDivisionMin = 100
	leakDivisionMax = 2e6
)

// whyDivision is the reason of the limits of a division, and why zero is none.
const whyDivision = "every gauge has divisions, and half of one is how far a reading may be off; none at all would be a gauge without an error"

// Keys of the preferences of leak tests.
const (
	PrefAllowedLeak  = "allowed_leak"
	PrefRoomVolume   = "room_volume"
	PrefAirChanges   = "air_changes"
	PrefLeakInterval = "leak_interval"
)

// maxAllowed is the largest allowed leak an owner may set, in std m³/s: 10 L/h, ours. A larger one is heard and smelt.
const maxAllowed = 10 * litresPerHour

// leakPrefSpecs are the typed preferences of leak tests.
var leakPrefSpecs = []Spec{
	numberSpec(PrefRoomVolume, "Your shop's room", "Length times width times height. Empty: a small shop of 15 m³, 530 ft³.", units.QuantityVolume, 1, 1e5,
		"a room one can work in, up to a large hall").in("m³", "ft³"),
	numberSpec(PrefAirChanges, "Fresh air, changes an hour", "A closed garage has about 0.3, with the door open 5 and more (from memory). Empty: shut up, 0.1.", units.QuantityNumber, 0, 100,
		"from a sealed room to a strong fan"),
	numberSpec(PrefAllowedLeak, "Leak you allow", "Empty: 0.2 L/h, 0.0072 ft³/h.", units.QuantityStandardFlow, 1e-5*litresPerHour, maxAllowed,
		"no test can show that nothing leaks at all, and a leak above 10 L/h is one nobody should live with").of(LineOxygen),
	numberSpec(PrefLeakInterval, "Test again after, days", "Empty: no reminder.", units.QuantityNumber, 1, 3660, "from every day to every ten years").whole(),
}

// Options for the thermometer: how far it may be off, in K, as the option's value.
func thermometerOptions(us bool) []Option {
	if us {
		return []Option{{Value: "1", Label: "to 2 °F"}, {Value: "0.5", Label: "to 1 °F"}, {Value: "2", Label: "to 4 °F"}, {Value: "", Label: "None"}}
	}
	return []Option{{Value: "1", Label: "to 1 °C"}, {Value: "0.5", Label: "to 0.5 °C"}, {Value: "2", Label: "to 2 °C"}, {Value: "", Label: "None"}}
}

var thermometerK = map[string]float64{"0.5": 0.5, "1": 1, "2": 2}

// gaugeNames are the names of the gauge a section is tested by and of the other one.
func gaugeNames(s leak.Section) (main, other string) {
	if byDelivery(s) {
		return "delivery gauge", "cylinder gauge"
	}
	return "cylinder gauge", "delivery gauge"
}

// gaugeSpec is the reading of a gauge. limit is the end of its scale, 0 when it is not known; the start of a fuel's test on the
// delivery side ends at 15 psi.
func gaugeSpec(key, name string, g gas.Gas, delivery, start bool, limit float64, ambient units.AbsolutePressure) Spec {
	top, why := float64(maxCylinderPa), "a reading lies on the gauge's scale; cylinders are filled to at most 300 bar"
	if limit > 0 {
		top, why = limit, "the reading cannot lie above the end of the gauge's scale: check the unit and the gauge"
	}
	if lawful := float64(min(leak.AcetyleneMaximum, leak.AcetyleneAbsoluteMaximum.Gauge(ambient))); g.IsFuel() && delivery && start && lawful < top {
		top = lawful
		why = "no test of a fuel needs more than 15 psi (103 kPa), our limit after the rule for acetylene: let it down first, in the open"
		if g == gas.Acetylene {
			why = "acetylene is never used above 15 psi (103 kPa) gauge or 30 psi absolute, not for a test either: 29 CFR 1910.253(a)(2). Back the screw out and let it off in the open"
		}
	}
	return numberSpec(key, words.S("%s now", words.Capital(name)), "", units.QuantityPressure, 0, top, why)
}

var temperatureSpec = numberSpec(leakTemperature, "Thermometer beside the hose", "May stay empty: the answer is then much less sharp, and says so.", units.QuantityTemperature,
	253.15, 323.15, "gas data were checked from −20 to 50 °C").steps(stepsWarmth)

// planSpecs are the fields of a test that has not begun.
func (a App) planSpecs() []Spec {
	l := a.Leak
	main, other := gaugeNames(l.Section)
	delivery := byDelivery(l.Section)
	specs := []Spec{
		numberSpec(leakDivision, words.S("One division of the %s", main), "The step between two of its lines. You read it to half of that.", units.QuantityPressure, leakDivisionMin, leakDivisionMax, whyDivision).need(),
		numberSpec(leakScale, "End of its scale", "May stay empty.", units.QuantityPressure, 1e3, 2*maxCylinderPa, "the last figure on a gauge"),
		{Key: leakThermometer, Label: "How good is your thermometer?", Type: TypeChoice, Options: thermometerOptions(a.Prefs.Units.IsUS()), Default: "1"},
		numberSpec(leakVolume, "Closed volume", a.volumeHelp(), units.QuantityVolume, float64(leak.VolumeMinimum), 1,
			"the closed part of a rig has a volume, from a gauge's tube to a long hose; with none nothing could leak"),
		gaugeSpec(leakGauge, main, l.Gas, delivery, true, l.si[leakScale], a.barometer()).need(),
		temperatureSpec,
		gaugeSpec(leakOther, other, l.Gas, !delivery, true, l.si[leakOtherScale], a.barometer()),
		numberSpec(leakOtherDiv, words.S("One division of the %s", other), "", units.QuantityPressure, leakDivisionMin, leakDivisionMax, whyDivision),
		numberSpec(leakOtherScale, "End of its scale", "May stay empty.", units.QuantityPressure, 1e3, 2*maxCylinderPa, "the last figure on a gauge"),
		numberSpec(leakDurationKey, "Run for", "Empty: as long as it needs.", units.QuantityDuration, 60, 31*24*units.Hour, "from a minute to a month"),
	}
	if len(l.Parts) == 0 {
		specs[3] = specs[3].need()
	}
	if l.Section == leak.WholeRig {
		specs[6], specs[7] = specs[6].need(), specs[7].need()
	} else {
		specs[6].Help = "May stay empty: it helps to tell which side leaks."
	}
	return specs
}

// volumeHelp says what an empty volume is taken for.
func (a App) volumeHelp() string {
	if len(a.Leak.Parts) == 0 {
		return "The rig has no hose for this line, so nothing is known of it. Measure it, or add the hose under Rig."
	}
	return "Empty: reckoned from the rig as below."
}

// barometer is the air pressure at the shop's height.
func (a App) barometer() units.AbsolutePressure {
	return ambient(units.Length(a.Prefs.number(PrefAltitude)))
}

// planField is a field of the plan as it is read now.
func (a App) planField(s Spec) units.Field {
	f := s.Field
	f.Unit = s.unit(a.Leak.units)
	return f
}

// partsOf are the parts whose volume a section's gauge stands for; none when the rig lacks the hose.
func (a App) partsOf(s leak.Section, g gas.Gas) []leak.Part {
	line := a.leakLine(lineOf(g))
	parts, err := line.Parts(s)
	if err != nil || byDelivery(s) && len(line.Hoses) == 0 {
		return nil
	}
	return parts
}

// otherParts are those of the other gauge.
func (a App) otherParts(s leak.Section, g gas.Gas) []leak.Part {
	switch {
	case s == leak.WholeRig, s == leak.OxygenSupply, s == leak.FuelSupply:
		return a.partsOf(leak.RegulatorCreep, g) // the delivery side
	case g == gas.Oxygen:
		return a.partsOf(leak.OxygenSupply, g)
	}
	return a.partsOf(leak.FuelSupply, g)
}

// typedVolumeError is the share by which a volume somebody has measured may be off: ours.
const typedVolumeError = 0.1

// volumeOf is the volume of the plan and its error.
func (a App) volumeOf() (v, off units.Volume) {
	if typed, ok := a.Leak.si[leakVolume]; ok {
		return units.Volume(typed), units.Volume(typed * typedVolumeError)
	}
	return leak.Sum(a.Leak.Parts)
}

// planned works out how long the test must run and what it will see.
func (a App) planned() App {
	l := &a.Leak
	l.Needed, l.Sees, l.NeedProblem, l.Runs = 0, 0, "", 0
	gauge, ok := l.si[leakGauge]
	if _, divided := l.si[leakDivision]; !ok || !divided {
		return a
	}
	v, off := a.volumeOf()
	if l.Section.GaugeOnly(l.Gas) {
		l.NeedProblem = noteGaugeOnly.Text
		l.Runs = gaugeOnlyRun
	} else {
		p := leak.Plan{
			Gas: l.Gas, Volume: v, VolumeError: off, Gauge: units.GaugePressure(gauge), PressureError: units.AbsolutePressure(l.si[leakDivision] / 2),
			TemperatureError: units.TemperatureDifference(thermometerK[l.texts[leakThermometer]]), Ambient: a.barometer(),
			BarometerError: barometerDrift * barometerHours,
		}
		if t, ok := l.si[leakTemperature]; ok {
			temperature := units.Temperature(t)
			p.Temperature = &temperature
		}
		a = a.timed(p)
	}
	if d, ok := l.si[leakDurationKey]; ok {
		l.Runs = units.Duration(d)
	}
	return a
}

// gaugeOnlyRun is how long a test without a rate runs: ours, long enough for a gauge to move over a leak worth finding.
const gaugeOnlyRun = 30 * units.Minute

// timed asks the plan. A test longer than the barometer was allowed for is asked once more.
func (a App) timed(p leak.Plan) App {
	l := &a.Leak
	need, err := p.TimeNeeded(a.allowed())
	if hours := float64(need) / units.Hour; err == nil && hours > barometerHours {
		p.BarometerError = units.AbsolutePressure(barometerDrift * min(hours, 30))
		need, err = p.TimeNeeded(a.allowed())
	}
	if err != nil {
		l.NeedProblem = a.said(err)
		return a
	}
	l.Needed, l.Runs = need, max(need, leakShortest)
	if d, ok := l.si[leakDurationKey]; ok {
		l.Runs = units.Duration(d)
	}
	if sees, err := p.SmallestDetectable(l.Runs); err == nil {
		l.Sees = sees
	}
	return a
}

// leakShortest is the shortest test that is proposed: ours, time for a needle to settle.
const leakShortest = 5 * units.Minute
