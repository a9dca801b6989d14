package state

import (
	"encoding/json"
	"fmt"

	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// KindLeakTest is the kind of a leak test's record.
const KindLeakTest = "leak_test"

// Keys of a test's settings and of its readings.
const (
	leakVolume       = "volume"
	leakVolumeError  = "volume_error"
	leakDivision     = "division"
	leakScale        = "scale"
	leakOtherDiv     = "other_division"
	leakOtherScale   = "other_scale"
	leakOtherVolume  = "other_volume"
	leakOtherError   = "other_volume_error"
	leakThermometer  = "thermometer"
	leakBarometer    = "barometer"
	leakAllowed      = "allowed"
	leakGauge        = "gauge"
	leakOther        = "other"
	leakTemperature  = "temperature"
	leakDurationKey  = "duration"
	outcomeVerdict   = "verdict"
	outcomeCertain   = "certain_leak"
	outcomeLeak      = "leak_std_m3_s"
	outcomeSmallest  = "smallest_detectable_std_m3_s"
	outcomeGaugeOnly = "gauge_only"
)

// LeakTest is one leak test as its record holds it, schema 1:
//
//	{"key": "leak/oxygen_delivery/oxygen/1920000000000", "section": "oxygen_delivery", "gas": "oxygen",
//	 "start_ms": 1920000000000, "ended_ms": 0, "parts": ["<id of the hose>", "…"],
//	 "settings": {"volume": {"si": 0.00023, "typed": "0.23", "unit": "L"}, "division": {…}, "allowed": {…}, …},
//	 "readings": [{"at_ms": 1920000000000, "values": {"gauge": {"si": 172000, "typed": "25", "unit": "psi"}, "temperature": {…}}}],
//	 "outcome": {"verdict": "tight", "leak_std_m3_s": {"value": 0, "low": 0, "high": 0}, "smallest_detectable_std_m3_s": 0,
//	  "certain_leak": false, "gauge_only": false},
//	 "retest_of": "", "joints": {"hose_torch": "fixed"}}
//
// Instants are wall-clock times in milliseconds (Unix time); ended_ms is 0 while it runs. Pressures are those of the gauge in Pa,
// volumes in m³, temperatures in K, the thermometer's error in K (missing without one), the barometer in Pa, the allowed leak in
// std m³/s. The outcome is there once the test has ended. Fields this build does not know are kept.
type LeakTest struct {
	ID       string
	Key      string
	Section  leak.Section
	Gas      gas.Gas
	Start    int64
	Ended    int64
	Parts    []string
	Settings map[string]Value
	Readings []LeakReading
	Outcome  *LeakOutcome
	RetestOf string
	Joints   map[string]string

	extra  map[string]json.RawMessage
	record storage.Record
}

func (t *LeakTest) targets() map[string]any {
	return map[string]any{
		"key": &t.Key, "section": &t.Section, "gas": &t.Gas, "start_ms": &t.Start, "ended_ms": &t.Ended, "parts": &t.Parts,
		"settings": &t.Settings, "readings": &t.Readings, "outcome": &t.Outcome, "retest_of": &t.RetestOf, "joints": &t.Joints,
	}
}

// LeakReading is one look at the gauges.
type LeakReading struct {
	At     int64
	Values map[string]Value

	extra map[string]json.RawMessage
}

func (r *LeakReading) targets() map[string]any {
	return map[string]any{"at_ms": &r.At, "values": &r.Values}
}

// UnmarshalJSON reads a reading and keeps what it does not know.
func (r *LeakReading) UnmarshalJSON(text []byte) error {
	extra, err := readKnown(text, r.targets())
	r.extra = extra
	return err
}

// MarshalJSON writes a reading with what it does not know.
func (r LeakReading) MarshalJSON() ([]byte, error) { return writeKnown(r.extra, r.targets()) }

// LeakOutcome is what an ended test showed, as it was worked out then.
type LeakOutcome struct {
	Verdict   leak.Verdict
	Leak      units.Band // std m³/s
	Smallest  float64    // std m³/s
	Certain   bool
	GaugeOnly bool // the gauge was judged alone: there is no rate

	extra map[string]json.RawMessage
}

func (o *LeakOutcome) targets() map[string]any {
	return map[string]any{outcomeVerdict: &o.Verdict, outcomeLeak: &o.Leak, outcomeSmallest: &o.Smallest, outcomeCertain: &o.Certain,
		outcomeGaugeOnly: &o.GaugeOnly}
}

// UnmarshalJSON reads an outcome and keeps what it does not know.
func (o *LeakOutcome) UnmarshalJSON(text []byte) error {
	extra, err := readKnown(text, o.targets())
	o.extra = extra
	return err
}

// MarshalJSON writes an outcome with what it does not know.
func (o LeakOutcome) MarshalJSON() ([]byte, error) { return writeKnown(o.extra, o.targets()) }

// ReadLeakTest reads a leak test's record. One without a section, a gas or a first reading is none.
func ReadLeakTest(r storage.Record) (LeakTest, error) {
	t := LeakTest{ID: string(r.ID), record: r}
	extra, err := readKnown(r.Body, t.targets())
	if err != nil {
		return LeakTest{}, fmt.Errorf("leak test %s: %w", r.ID, err)
	}
	if _, err := leak.ParseSection(string(t.Section)); err != nil {
		return LeakTest{}, fmt.Errorf("leak test %s: %w", r.ID, err)
	}
	if !t.Section.Fits(t.Gas) || len(t.Readings) == 0 {
		return LeakTest{}, fmt.Errorf(words.T("leak test %s: gas %q and %d readings in %s"), r.ID, t.Gas, len(t.Readings), t.Section)
	}
	t.extra = extra
	return t, nil
}

// Body returns the test as it is stored.
func (t LeakTest) Body() ([]byte, error) { return writeKnown(t.extra, t.targets()) }

// draft is the test as a change of its record. Its numbers were checked when they were read, so it always can be written.
func (t LeakTest) draft() storage.Draft {
	body, err := t.Body()
	if err != nil {
		panic("writing a leak test: " + err.Error())
	}
	return storage.Draft{Seen: t.record, Kind: KindLeakTest, Schema: max(Schema, t.record.Schema), Body: body}
}

// Line is the line of the rig the test is of.
func (t LeakTest) Line() string { return lineOf(t.Gas) }

func lineOf(g gas.Gas) string {
	if g == gas.Oxygen {
		return LineOxygen
	}
	return LineFuel
}

// setting is a setting's SI number, 0 when it was not given.
func (t LeakTest) setting(key string) float64 { return t.Settings[key].SI }

// value is a reading's SI number; ok is false when it was not taken.
func (r LeakReading) value(key string) (si float64, ok bool) {
	v, ok := r.Values[key]
	return v.SI, ok
}

// last is the newest reading.
func (t LeakTest) last() LeakReading { return t.Readings[len(t.Readings)-1] }
