package main

import (
	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

type leakQuestion struct {
	Gas                      gas.Gas            `json:"gas"`
	VolumeM3                 float64            `json:"volume_m3"`
	StartAbsPa               float64            `json:"start_abs_pa"`
	StartTemperatureK        *units.Temperature `json:"start_temperature_k,omitempty"`
	EndAbsPa                 float64            `json:"end_abs_pa"`
	EndTemperatureK          *units.Temperature `json:"end_temperature_k,omitempty"`
	DurationS                float64            `json:"duration_s"`
	PressureReadingErrorPa   float64            `json:"pressure_reading_error_pa"`
	TemperatureReadingErrorK float64            `json:"temperature_reading_error_k"`
	VolumeErrorM3            float64            `json:"volume_error_m3,omitempty"`
	AllowedLeakStdM3S        float64            `json:"allowed_leak_std_m3_s,omitempty"`
	AmbientAbsPa             float64            `json:"ambient_abs_pa,omitempty"`
	BarometerErrorPa         float64            `json:"barometer_error_pa,omitempty"`
	GaugeMaximumPa           *float64           `json:"gauge_maximum_pa,omitempty"`
}

// leakDefaults are the fields of a leak question that may be missing.
var leakDefaults = leakQuestion{AllowedLeakStdM3S: float64(leak.DefaultAllowed), AmbientAbsPa: float64(units.StandardAtmosphere)}

type leakAnswer struct {
	LeakStdM3S               units.Band `json:"leak_std_m3_s"`
	SmallestDetectableStdM3S float64    `json:"smallest_detectable_std_m3_s"`
	Verdict                  string     `json:"verdict"`
	CertainLeak              bool       `json:"certain_leak"`
	GasCameIn                bool       `json:"gas_came_in"`
	Emptied                  bool       `json:"emptied"`
	AllowedLeakStdM3S        float64    `json:"allowed_leak_std_m3_s"`
	AllowedLeakReason        string     `json:"allowed_leak_reason"`
	TimeNeededS              float64    `json:"time_needed_s"`
	MoreTimeS                float64    `json:"more_time_s"`
	TightEndAbsPa            *float64   `json:"tight_end_abs_pa"`
	Notes                    []noteOut  `json:"notes"`
}

func answerLeak(q leakQuestion) (any, error) {
	allowed := units.StandardFlow(q.AllowedLeakStdM3S)
	scale, err := q.scale()
	if err != nil {
		return nil, err
	}
	t := leak.Test{
		Gas: q.Gas, Volume: units.Volume(q.VolumeM3), VolumeError: units.Volume(q.VolumeErrorM3),
		PressureError:    units.AbsolutePressure(q.PressureReadingErrorPa),
		TemperatureError: units.TemperatureDifference(q.TemperatureReadingErrorK),
		Readings: []leak.Reading{
			{Pressure: units.AbsolutePressure(q.StartAbsPa), Temperature: q.StartTemperatureK},
			{At: units.Duration(q.DurationS), Pressure: units.AbsolutePressure(q.EndAbsPa), Temperature: q.EndTemperatureK},
		},
		Allowed: &allowed, Ambient: units.AbsolutePressure(q.AmbientAbsPa), BarometerError: units.AbsolutePressure(q.BarometerErrorPa),
		GaugeMaximum: scale,
	}
	r, err := t.Result()
	if err != nil {
		return nil, err
	}
	out := leakAnswer{
		r.Leak, float64(r.SmallestDetectable), string(r.Verdict), r.CertainLeak, r.GasCameIn, r.Emptied, float64(r.Allowed),
		reasonOf(allowed), float64(r.TimeNeeded), float64(r.MoreTime), nil, leakNotes(r.Notes),
	}
	if r.TightPressure != nil {
		p := float64(*r.TightPressure)
		out.TightEndAbsPa = &p
	}
	return out, nil
}

// scale is the end of the gauge's scale, 0 when it was not told. What package leak takes for "not told" is refused when it was.
func (q leakQuestion) scale() (units.GaugePressure, error) {
	if err := ambientGiven(q.AmbientAbsPa); err != nil || q.GaugeMaximumPa == nil {
		return 0, err
	}
	g := *q.GaugeMaximumPa
	return units.GaugePressure(g), gas.InRange("gauge_maximum_pa", g, 1000, 1e8, "Pa", "the end of the gauge's scale; leave it out when it is not known")
}

// ambientGiven refuses a barometer of 0, which package leak takes for one that was not told.
func ambientGiven(p float64) error {
	return gas.InRange("ambient_abs_pa", p, float64(leak.AmbientMinimum), float64(leak.AmbientMaximum), "Pa", "the air pressure: 101 kPa at sea level, 50 kPa at 5500 m")
}

// reasonOf says why the allowed leak is what it is.
func reasonOf(allowed units.StandardFlow) string {
	if allowed == leak.DefaultAllowed {
		return leak.DefaultAllowedReason
	}
	return "as asked"
}

// leakNotes writes notes out, cautions first as they come; an empty list rather than null.
func leakNotes(notes []leak.Note) []noteOut {
	out := make([]noteOut, len(notes))
	for i, n := range notes {
		out[i] = noteOut{n.Code, n.Text, n.Source}
	}
	return out
}

type roomQuestion struct {
	Gas               gas.Gas `json:"gas"`
	LeakStdM3S        float64 `json:"leak_std_m3_s"`
	RoomVolumeM3      float64 `json:"room_volume_m3"`
	AirChangesPerHour float64 `json:"air_changes_per_hour"`
	Hours             float64 `json:"hours"`
	TemperatureK      float64 `json:"temperature_k,omitempty"`
	MixingFactor      float64 `json:"mixing_factor,omitempty"`
	AmbientAbsPa      float64 `json:"ambient_abs_pa,omitempty"`
}

// roomDefaults are the fields of a room question that may be missing.
var roomDefaults = roomQuestion{TemperatureK: roomTemperature, MixingFactor: 1, AmbientAbsPa: float64(units.StandardAtmosphere)}

type roomAnswer struct {
	Concentration              float64   `json:"concentration"`
	SteadyConcentration        float64   `json:"steady_concentration"`
	LowerLimit                 *float64  `json:"lower_limit"`
	LowerLimitSource           *string   `json:"lower_limit_source"`
	SecondsToTenthOfLowerLimit *float64  `json:"seconds_to_tenth_of_lower_limit"`
	SecondsToLowerLimit        *float64  `json:"seconds_to_lower_limit"`
	SecondsTo23p5Oxygen        *float64  `json:"seconds_to_23p5_oxygen"`
	Oxygen                     float64   `json:"oxygen"`
	SteadyOxygen               float64   `json:"steady_oxygen"`
	Notes                      []noteOut `json:"notes"`
}

func answerRoom(q roomQuestion) (any, error) {
	if err := q.given(); err != nil {
		return nil, err
	}
	e := leak.Exposure{Gas: q.Gas, Leak: units.StandardFlow(q.LeakStdM3S), Room: leak.Room{
		Volume: units.Volume(q.RoomVolumeM3), AirChanges: q.AirChangesPerHour, MixingFactor: q.MixingFactor,
		Temperature: units.Temperature(q.TemperatureK), Ambient: units.AbsolutePressure(q.AmbientAbsPa),
	}}
	a, err := e.After(units.Duration(q.Hours * units.Hour))
	if err != nil {
		return nil, err
	}
	out := roomAnswer{
		Concentration: a.Concentration, SteadyConcentration: a.Steady, Oxygen: a.Oxygen, SteadyOxygen: a.SteadyOxygen,
		SecondsToTenthOfLowerLimit: seconds(a.ToTenth), SecondsToLowerLimit: seconds(a.ToLimit), SecondsTo23p5Oxygen: seconds(a.ToOxygen),
		Notes: leakNotes(a.Notes),
	}
	if a.Limit != nil {
		out.LowerLimit, out.LowerLimitSource = &a.Limit.Fraction, &a.Limit.Source
	}
	return out, nil
}

// given refuses a temperature and a mixing factor of 0, which package leak takes for ones that were not told.
func (q roomQuestion) given() error {
	if err := ambientGiven(q.AmbientAbsPa); err != nil {
		return err
	}
	if err := gas.InRange("temperature_k", q.TemperatureK, float64(gas.TemperatureMinimum), float64(gas.TemperatureMaximum), "K", "the temperature of a room, -20 to 50 °C"); err != nil {
		return err
	}
	return gas.InRange("mixing_factor", q.MixingFactor, leak.MixingFactorMinimum, 1, "", "the share of the fresh air that mixes in")
}

// seconds writes a time out; never stays null.
func seconds(d *units.Duration) *float64 {
	if d == nil {
		return nil
	}
	s := float64(*d)
	return &s
}

const helpLeak = `leak: leak rate of a closed section from two pressure readings, real gas, and a verdict

in   gas                          acetylene is refused above 15 psi gauge or 30 psi absolute at the start (29 CFR 1910.253(a)(2))
     volume_m3                    closed volume, 1e-6 to 10
     start_abs_pa, end_abs_pa     absolute: gauge plus barometer
     start_temperature_k, end_temperature_k   of the gas, 253.15 to 323.15; a missing one widens the band
     duration_s                   1 to 366 days
     pressure_reading_error_pa    of each reading: half a division of the gauge, never 0
     temperature_reading_error_k  of each reading
     volume_error_m3              optional, 0 when missing; at most 0.9 of the volume
     allowed_leak_std_m3_s        optional, 5.56e-8 (0.2 L/h) when missing; the answer says why
     ambient_abs_pa               optional, 101325 when missing: the barometer at the start
     barometer_error_pa           optional, 0 when missing: how far it may have moved
     gauge_maximum_pa             optional: end of the gauge's scale; a reading above it is refused
out  leak_std_m3_s {value, low, high, reason}   positive is gas lost; errors added, each in the worse direction
     smallest_detectable_std_m3_s a smaller leak would have passed for none
     verdict                      tight: the high end is below the allowed leak; leaking: the low end is above zero and the
                                  high end above the allowed leak; else undecided. Also undecided: a certain gain of gas
                                  larger than the allowed leak, behind which one of that size could hide
     certain_leak                 the low end is above zero; beside tight it is a small but certain leak
     gas_came_in, emptied         a certain gain of gas; nothing left at the end, so that the leak is at least the value
     allowed_leak_std_m3_s, allowed_leak_reason
     time_needed_s                for a test like this to see the allowed leak
     more_time_s                  undecided: how much longer to go on; else 0
     tight_end_abs_pa             end pressure of a section that loses nothing, or null
     notes [ {code, text, source} ]   cautions first

A rounded example, a tight cylinder that cools: {"gas":"oxygen","volume_m3":0.05,"start_abs_pa":151e5,"start_temperature_k":298.15,
"end_abs_pa":136.8e5,"end_temperature_k":278.15,"duration_s":43200,"pressure_reading_error_pa":2e5,"temperature_reading_error_k":1}
`

const helpRoom = `room: what a steady leak does to the air of a room, taken as well mixed

in   gas
     leak_std_m3_s         at 15 °C and 101.325 kPa
     room_volume_m3        0.05 to 1e6
     air_changes_per_hour  0 to 1000
     hours                 from clean air on
     temperature_k         optional, 293.15 when missing
     mixing_factor         optional, 1 when missing: the share of the fresh air that mixes in
     ambient_abs_pa        optional, 101325 when missing
out  concentration         of added gas after the hours, a fraction by volume
     steady_concentration  in the end; 1 in a sealed room
     lower_limit, lower_limit_source   flammable in air, the lower of the published ones; null when it does not burn
     seconds_to_tenth_of_lower_limit, seconds_to_lower_limit   or null: never
     seconds_to_23p5_oxygen            or null: never, or the gas is not oxygen
     oxygen, steady_oxygen fraction of oxygen after the hours and in the end
     notes [ {code, text, source} ]    cautions first
`
