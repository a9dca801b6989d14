package state

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"sort"
	"strings"

	"torchside/calc/cylinder"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// KindCylinderLog is the kind of one entry of a cylinder's log.
const KindCylinderLog = "cylinder_log"

// What an entry tells.
const (
	LogReading = "reading"
	LogLaid    = "laid"    // it was laid down
	LogUpright = "upright" // it was stood up
)

// CylinderEntry is one entry, schema 1:
//
//	{"cylinder": "0190…", "at_ms": 1920000000000, "event": "reading", "value": {"si": 12000000, "typed": "120", "unit": "bar"}, "note": "gate hinge"}
//
// value is the cylinder gauge of a compressed gas, the weight on the scale of any other. Fields this build does not know are kept.
type CylinderEntry struct {
	ID       string
	Cylinder string
	At       int64
	Event    string
	Value    *Value
	Note     string

	extra  map[string]json.RawMessage
	record storage.Record
}

func (e *CylinderEntry) targets() map[string]any {
	return map[string]any{"cylinder": &e.Cylinder, "at_ms": &e.At, "event": &e.Event, "value": &e.Value, "note": &e.Note}
}

// ReadCylinderEntry reads an entry's record.
func ReadCylinderEntry(r storage.Record) (CylinderEntry, error) {
	e := CylinderEntry{ID: string(r.ID), record: r}
	extra, err := readKnown(r.Body, e.targets())
	if err != nil {
		return CylinderEntry{}, fmt.Errorf("cylinder log %s: %w", r.ID, err)
	}
	e.extra = extra
	return e, nil
}

// Body returns the entry as it is stored.
func (e CylinderEntry) Body() ([]byte, error) { return writeKnown(e.extra, e.targets()) }

// CylinderLog is the log of all cylinders of the rig.
type CylinderLog struct {
	Cylinders []CylinderView
	entries   map[string][]CylinderEntry   // by cylinder, the oldest first
	texts     map[string]map[string]string // typed and not noted, by cylinder
	units     units.System
	problems  map[string]string
}

// CylinderView is one cylinder ready to show.
type CylinderView struct {
	ID, Name, GasName string
	Sample            bool
	Fields            []FormField // of the next reading
	Problem           string
	Lines             []CylinderLine // the newest first
	Left              string         // contents by the last reading
	Forecast          string         // until when it lasts; or why that cannot be told
	Cost              []string
	Settle            Settle
}

// CylinderLine is one reading with what was used since the one before.
type CylinderLine struct {
	ID, Used, Read, Note string
	At                   int64
	Event                string
}

// Settle is how a cylinder of dissolved gas stands.
type Settle struct {
	State string // "", "lying", "settling" or "settled"
	Until int64  // instant it may be used, ms
	Why   string
}

// Keys of the form of a reading, and of its drafts.
const (
	logValue = "value"
	logNote  = "note"
	draftLog = "cylinder-log:"
)

const dayMs = 24 * 3600 * 1000

// readCylinderLog takes the entries from their records, and works out everything shown; it returns how many cannot be read.
func (a App) readCylinderLog() (App, int) {
	damaged := 0
	l := &a.Cylinders
	l.entries = map[string][]CylinderEntry{}
	for _, r := range a.records {
		if r.Deleted || r.Kind != KindCylinderLog {
			continue
		}
		e, err := ReadCylinderEntry(r)
		if err != nil {
			damaged++
			continue
		}
		l.entries[e.Cylinder] = append(l.entries[e.Cylinder], e)
	}
	for _, list := range l.entries {
		sort.SliceStable(list, func(i, j int) bool {
			return list[i].At < list[j].At || list[i].At == list[j].At && list[i].ID < list[j].ID
		})
	}
	return a.cylinderViews(), damaged
}

func (a App) cylinderViews() App {
	l := &a.Cylinders
	if len(l.texts) == 0 {
		l.texts, l.units = map[string]map[string]string{}, a.Prefs.Units
	}
	l.Cylinders = nil
	for _, p := range a.parts(KindCylinder) {
		if !p.Retired {
			l.Cylinders = append(l.Cylinders, a.cylinderView(p))
		}
	}
	return a
}

func (a App) cylinderView(p Part) CylinderView {
	v := CylinderView{ID: p.ID, Name: a.partName(p), GasName: p.Choices["gas"], Sample: p.Sample, Problem: a.Cylinders.problems[p.ID]}
	for _, s := range a.logSpecs(p) {
		text := a.Cylinders.texts[p.ID][s.Key]
		if s.Type == TypeText {
			v.Fields = append(v.Fields, FormField{Key: s.Key, Label: s.Label, Help: s.Help, Type: TypeText, Text: text, Error: textError(s, text, false)})
			continue
		}
		v.Fields = append(v.Fields, formField(s, a.logField(s), text, a.readLogValue(p, s, text)))
	}
	list := a.Cylinders.entries[p.ID]
	v.Settle = settleOf(p, list, a.Clock.Wall)
	a.logLines(p, list, &v)
	return v
}

// logSpecs are the fields of the next reading: the gauge of a compressed gas, the scale for any other.
func (a App) logSpecs(p Part) []Spec {
	key := "gross_mass"
	if isCompressed(fill{choices: p.Choices}) {
		key = "gauge_pressure"
	}
	var value Spec
	for _, s := range cylinderSpecs {
		if s.Key == key {
			value = s
		}
	}
	value.Key, value.Field.Optional, value.required = logValue, true, false
	return []Spec{value, textSpec(logNote, "Used for", "The job since the last reading. May stay empty.")}
}

func (a App) logField(s Spec) units.Field {
	f := s.Field
	f.Unit = s.unit(a.Cylinders.units)
	return f
}

// readLogValue reads the next reading; one below the tare is none of a cylinder with gas in it.
func (a App) readLogValue(p Part, s Spec, text string) reading {
	r := readField(s, a.logField(s), text)
	if tare := p.number("tare_mass"); r.given && tare != nil && !isCompressed(fill{choices: p.Choices}) && r.si < *tare {
		return reading{err: words.S("%s: read less than the tare of this cylinder, %s; allowed: the tare or more, weighed without cap, regulator and trolley.", s.Label, a.valueView(p, specOf(cylinderSpecs, "tare_mass"), p.Values["tare_mass"]))}
	}
	return r
}

func specOf(list []Spec, key string) Spec {
	for _, s := range list {
		if s.Key == key {
			return s
		}
	}
	return Spec{}
}

// contentsAt is what a cylinder held at a reading; ok is false where the cylinder's own numbers do not tell.
func (a App) contentsAt(p Part, si float64) (c cylinder.Reading, ok bool) {
	g := gas.Gas(p.Choices["gas"])
	count := p.numberOr("count", 1)
	if !isCompressed(fill{choices: p.Choices}) {
		tare := p.number("tare_mass")
		if tare == nil || si < *tare || !g.Known() {
			return c, false
		}
		std := 1 / float64(g.StandardDensity())
		return cylinder.Reading{Contents: units.StandardVolume((si - *tare) * std * count), Error: units.StandardVolume(scaleError * std * count)}, true
	}
	water := p.number("water_volume")
	if water == nil {
		return c, false
	}
	at := func(gauge float64) float64 {
		full, err := cylinder.Compressed{Gas: g, WaterVolume: units.Volume(*water), Gauge: units.GaugePressure(gauge),
			Temperature: units.Temperature(a.Prefs.number(PrefTemperature)), Ambient: a.barometer()}.Contents()
		if err != nil {
			return math.NaN()
		}
		return float64(full.Deliverable) * count
	}
	held, less := at(si), at(math.Max(0, si-a.gaugeError(p)))
	if math.IsNaN(held) || math.IsNaN(less) {
		return c, false
	}
	return cylinder.Reading{Contents: units.StandardVolume(held), Error: units.StandardVolume(math.Max(held-less, 0))}, true
}

// What a reading may be off by where nothing better is known: common practice, no source.
const (
	scaleError  = 0.1 // kg, of a shop scale
	gaugeErrors = 5e5 // Pa, of a cylinder gauge to 200 or 300 bar
)

// gaugeError is half a division of the cylinder gauge where the regulator in use has one.
func (a App) gaugeError(p Part) float64 {
	if r, ok := a.inUse(KindRegulator, p.Line()); ok && r.number("supply_division") != nil {
		return *r.number("supply_division") / 2
	}
	return gaugeErrors
}

func (a App) volumeText(p Part, v float64) string {
	g := gas.Gas(p.Choices["gas"])
	if !g.Known() {
		return ""
	}
	return words.Number(units.Format(units.QuantityStandardVolume, v, a.Prefs.Units.Unit(units.QuantityStandardVolume), g.StandardRatio()))
}

// cylinderLogTyped keeps what is typed for the next reading.
func (a App) cylinderLogTyped(id, key, text string) (App, []Effect) {
	l := &a.Cylinders
	l.texts = maps.Clone(l.texts)
	one := maps.Clone(l.texts[id])
	if one == nil {
		one = map[string]string{}
	}
	one[key] = text
	l.texts[id], l.problems = one, without(l.problems, id)
	return a.notSavedNow().cylinderViews(), []Effect{KeepDraft{Key: draftLog + id, Draft: Draft{Texts: maps.Clone(one), Units: textOf(l.units)}}}
}

// cylinderLogRestored goes on with what was typed before a reload.
func (a App) cylinderLogRestored(drafts map[string]Draft) App {
	l := &a.Cylinders
	for key, d := range drafts {
		id, ours := strings.CutPrefix(key, draftLog)
		system := a.Prefs.Units
		if !ours || system.UnmarshalText([]byte(d.Units)) != nil {
			continue
		}
		if l.texts == nil {
			l.texts = map[string]map[string]string{}
		}
		l.texts[id], l.units = maps.Clone(d.Texts), system
	}
	return a
}
