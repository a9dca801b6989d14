package state

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
	"torchside/storage"
)

// Messages of the Leak test page.
type (
	// LeakBegun begins to prepare the test of a section, by its code; Line tells which gas where the section does not.
	LeakBegun struct{ Section, Line, RetestOf string }
	// LeakTyped and LeakChosen fill in the form of that test.
	LeakTyped  struct{ Key, Text string }
	LeakChosen struct{ Key, Value string }
	// LeakPrepared says that the steps are done; LeakBack goes one stage back.
	LeakPrepared struct{}
	LeakBack     struct{}
	// LeakStarted notes the start readings and starts the clock.
	LeakStarted struct{}
	// LeakOpened shows a test, LeakClosed the list again.
	LeakOpened struct{ ID string }
	LeakClosed struct{}
	// ReadingTyped is a text typed into the next reading of a test, ReadingTaken notes it, ReadingDropped takes the newest one back.
	ReadingTyped   struct{ ID, Key, Text string }
	ReadingTaken   struct{ ID string }
	ReadingDropped struct{ ID string }
	// LeakEnded ends a test with the verdict it has, LeakDropped deletes it.
	LeakEnded   struct{ ID string }
	LeakDropped struct{ ID string }
	// JointMarked says what was found at a joint: "soaped", "bubbles", "fixed" or "".
	JointMarked struct{ ID, Joint, State string }
)

func (LeakBegun) msg()      {}
func (LeakTyped) msg()      {}
func (LeakChosen) msg()     {}
func (LeakPrepared) msg()   {}
func (LeakBack) msg()       {}
func (LeakStarted) msg()    {}
func (LeakOpened) msg()     {}
func (LeakClosed) msg()     {}
func (ReadingTyped) msg()   {}
func (ReadingTaken) msg()   {}
func (ReadingDropped) msg() {}
func (LeakEnded) msg()      {}
func (LeakDropped) msg()    {}
func (JointMarked) msg()    {}

// Keys of the drafts of leak tests: the one being prepared, and the next reading of each that runs.
const (
	draftLeak    = "leak-plan:"
	draftReading = "leak-reading:"
)

func reduceLeak(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case LeakBegun:
		return did(a.leakBegun(m))
	case LeakTyped:
		return did(a.leakTyped(m.Key, m.Text))
	case LeakChosen:
		return did(a.leakTyped(m.Key, m.Value))
	case LeakPrepared:
		return did(a.leakStage(LeakReadings))
	case LeakBack:
		return did(a.leakBack())
	case LeakStarted:
		return did(a.leakStarted())
	case LeakOpened:
		return did(a.leakOpened(m.ID))
	case LeakClosed:
		a.Leak.Open = ""
		return a.refreshLeak(), []Effect{ShowTop{}}, true
	}
	return reduceReading(a, m)
}

func reduceReading(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case ReadingTyped:
		return did(a.readingTyped(m))
	case ReadingTaken:
		return did(a.readingTaken(m.ID))
	case ReadingDropped:
		return did(a.readingDropped(m.ID))
	case LeakEnded:
		return did(a.leakEnded(m.ID))
	case LeakDropped:
		return did(a.leakDropped(m.ID))
	case JointMarked:
		return did(a.jointMarked(m))
	}
	return a, nil, false
}

// leakBegun opens the preparation of a section. A retest starts with what the first one was told.
func (a App) leakBegun(m LeakBegun) (App, []Effect) {
	s, err := leak.ParseSection(m.Section)
	if err != nil {
		return a, nil
	}
	line := m.Line
	switch s {
	case leak.OxygenDelivery, leak.OxygenSupply:
		line = LineOxygen
	case leak.FuelDelivery, leak.FuelSupply:
		line = LineFuel
	}
	if line != LineOxygen {
		line = LineFuel
	}
	l := &a.Leak
	l.Stage, l.Section, l.Gas, l.RetestOf = LeakPrepare, s, a.leakGas(line), m.RetestOf
	l.Open, l.Problem, l.checked, l.Restored, l.Busy = "", "", false, false, false
	l.texts, l.units = map[string]string{leakThermometer: "1"}, a.Prefs.Units
	if d, ok := l.plans[l.planKey()]; ok {
		l.texts, l.units, l.Restored = maps.Clone(d.texts), d.units, true
	}
	l.texts = a.leakDefaults(s, l.Gas, l.texts)
	a = a.refreshLeak()
	return a.keepLeak(ShowTop{})
}

// plan is what was typed for a test that has not begun.
type plan struct {
	texts map[string]string
	units units.System
}

// planKey tells the plans of different sections and gases apart.
func (l Leak) planKey() string { return draftLeak + string(l.Section) + "/" + string(l.Gas) }

// leakDefaults fills in what is known of the gauges: from the regulator, else from the last test of the section.
func (a App) leakDefaults(s leak.Section, g gas.Gas, texts map[string]string) map[string]string {
	fill := func(key string, v Value, ok bool) {
		for _, spec := range a.planSpecs() {
			if ok && spec.Key == key && texts[key] == "" {
				texts[key] = said(a.planField(spec), v)
			}
		}
	}
	if r, ok := a.inUse(KindRegulator, lineOf(g)); ok {
		names := [2][2]string{{"delivery_division", "max_gauge"}, {"supply_division", "supply_max_gauge"}}
		if !byDelivery(s) {
			names[0], names[1] = names[1], names[0]
		}
		for i, keys := range [2][2]string{{leakDivision, leakScale}, {leakOtherDiv, leakOtherScale}} {
			for j, key := range keys {
				v, ok := r.Values[names[i][j]]
				fill(key, v, ok)
			}
		}
	}
	for _, t := range slices.Backward(a.sortedTests()) {
		if t.Section != s || t.Gas != g {
			continue
		}
		for _, key := range []string{leakDivision, leakScale, leakOtherDiv, leakOtherScale, leakVolume} {
			v, ok := t.Settings[key]
			fill(key, v, ok && v.Typed != "")
		}
	}
	return texts
}

// leakOpened shows a test. One that was being prepared is kept.
func (a App) leakOpened(id string) (App, []Effect) {
	a.Leak.Open = id
	if a.Leak.Stage == LeakHome {
		return a.refreshLeak(), []Effect{ShowTop{}}
	}
	a.Leak.Stage = LeakHome
	return a.refreshLeak().keepLeak(ShowTop{})
}

func (a App) leakTyped(key, text string) (App, []Effect) {
	if a.Leak.Stage == LeakHome {
		return a, nil
	}
	a.Leak.texts = maps.Clone(a.Leak.texts)
	a.Leak.texts[key] = text
	a.Leak.Problem = ""
	return a.notSavedNow().refreshLeak().keepLeak()
}

// keepLeak keeps the test being prepared, so that a reload, or coming back to it later, goes on with it.
func (a App) keepLeak(more ...Effect) (App, []Effect) {
	l := &a.Leak
	key := l.planKey()
	l.plans = maps.Clone(l.plans)
	if l.plans == nil {
		l.plans = map[string]plan{}
	}
	l.plans[key] = plan{texts: l.texts, units: l.units}
	d := Draft{Texts: maps.Clone(l.texts), Units: textOf(l.units), Choices: map[string]string{
		"stage": l.Stage, "section": string(l.Section), "gas": string(l.Gas), "retest_of": l.RetestOf}}
	return a, append([]Effect{KeepDraft{Key: key, Draft: d}}, more...)
}

// leakRestored goes on with tests that were being prepared, and with typed readings.
func (a App) leakRestored(drafts map[string]Draft) App {
	for key, d := range drafts {
		system := a.Prefs.Units
		if system.UnmarshalText([]byte(d.Units)) != nil {
			continue // written by a newer build: what it meant cannot be told
		}
		if id, ok := strings.CutPrefix(key, draftReading); ok {
			for field, text := range d.Texts {
				a = a.withReadingText(id, field, text, system)
			}
		}
		if strings.HasPrefix(key, draftLeak) {
			a = a.planRestored(d, system)
		}
	}
	return a
}

// planRestored takes one plan back; the one that was open is open again.
func (a App) planRestored(d Draft, system units.System) App {
	s, err := leak.ParseSection(d.Choices["section"])
	g := gas.Gas(d.Choices["gas"])
	if err != nil || !s.Fits(g) || d.Texts == nil {
		return a
	}
	l := &a.Leak
	one := Leak{Section: s, Gas: g}
	l.plans = maps.Clone(l.plans)
	if l.plans == nil {
		l.plans = map[string]plan{}
	}
	l.plans[one.planKey()] = plan{texts: maps.Clone(d.Texts), units: system}
	if stage := d.Choices["stage"]; stage == LeakPrepare || stage == LeakReadings {
		l.Stage, l.Section, l.Gas, l.RetestOf, l.Restored = stage, s, g, d.Choices["retest_of"], true
		l.texts, l.units = maps.Clone(d.Texts), system
	}
	return a
}

func (a App) leakStage(stage string) (App, []Effect) {
	if a.Leak.Stage == LeakHome {
		return a, nil
	}
	a.Leak.Stage, a.Leak.Problem, a.Leak.checked = stage, "", false
	return a.refreshLeak().keepLeak(ShowTop{})
}

// leakBack goes back; from the first stage to the list. What was typed is kept for when the test is begun again.
func (a App) leakBack() (App, []Effect) {
	if a.Leak.Stage == LeakReadings {
		return a.leakStage(LeakPrepare)
	}
	a.Leak.Stage, a.Leak.Restored = LeakHome, false
	return a.refreshLeak().keepLeak(ShowTop{})
}

// leakStarted notes the start and starts the clock, unless something is wrong.
func (a App) leakStarted() (App, []Effect) {
	if a.Leak.Stage != LeakReadings || a.Leak.Busy {
		return a, nil
	}
	a.Leak.checked = true
	a = a.refreshLeak()
	if key := firstError(a.Leak.Fields); key != "" {
		a.Leak.Problem = "Not started yet: see the marked fields."
		return a.notSavedNow(), []Effect{ShowTop{Act: "leak-" + key}}
	}
	if a.Leak.NeedProblem != "" && !a.Leak.Section.GaugeOnly(a.Leak.Gas) {
		a.Leak.Problem = "Not started: " + a.Leak.NeedProblem + "."
		return a, nil
	}
	a.Leak.Busy = true
	t := a.leakTest()
	timer := Timer{For: t.Key, Label: "Leak test, " + sectionName(t.Section, t.Gas), State: TimerRunning, Start: t.Start,
		Duration: int64(float64(a.Leak.Runs) * 1000)}
	return a.write(pending{drafts: []storage.Draft{t.draft(), timer.draft()}, then: leakIsRunning})
}

// leakIsRunning opens the test that has just been written.
func leakIsRunning(a App, records []storage.Record) (App, []Effect) {
	l := &a.Leak
	l.Busy, l.Stage, l.Open, l.Restored = false, LeakHome, string(records[0].ID), false
	key := l.planKey()
	l.plans = without(l.plans, key)
	return a.refreshLeak(), []Effect{KeepDraft{Key: key}, ShowTop{}}
}

// leakTest is the test as planned, begun now.
func (a App) leakTest() LeakTest {
	l := a.Leak
	now := a.Clock.Wall
	t := LeakTest{
		Key:     "leak/" + string(l.Section) + "/" + lineOf(l.Gas) + "/" + strconv.FormatInt(now, 10),
		Section: l.Section, Gas: l.Gas, Start: now, Parts: a.leakParts(l.Section, lineOf(l.Gas)), RetestOf: l.RetestOf,
		Settings: map[string]Value{}, Joints: map[string]string{},
		Readings: []LeakReading{{At: now, Values: map[string]Value{}}},
	}
	for _, s := range a.planSpecs() {
		si, ok := l.si[s.Key]
		if !ok {
			continue
		}
		v := Value{SI: si, Typed: l.texts[s.Key]}
		if r, err := a.planField(s).Parse(v.Typed); err == nil {
			v.Unit = r.Unit.Symbol()
		}
		switch s.Key {
		case leakGauge, leakOther, leakTemperature:
			t.Readings[0].Values[s.Key] = v
		case leakDurationKey:
		default:
			t.Settings[s.Key] = v
		}
	}
	return a.withReckoned(t)
}

// withReckoned adds the settings nobody typed.
func (a App) withReckoned(t LeakTest) LeakTest {
	v, off := a.volumeOf()
	volume := t.Settings[leakVolume]
	volume.SI = float64(v)
	t.Settings[leakVolume], t.Settings[leakVolumeError] = volume, Value{SI: float64(off)}
	if v, off := leak.Sum(a.otherParts(t.Section, t.Gas)); v > 0 {
		t.Settings[leakOtherVolume], t.Settings[leakOtherError] = Value{SI: float64(v)}, Value{SI: float64(off)}
	}
	if k, ok := thermometerK[a.Leak.texts[leakThermometer]]; ok {
		t.Settings[leakThermometer] = Value{SI: k}
	}
	t.Settings[leakBarometer] = Value{SI: float64(a.barometer())}
	t.Settings[leakAllowed] = Value{SI: float64(a.allowed())}
	return t
}

func (a App) readingTyped(m ReadingTyped) (App, []Effect) {
	if t, ok := a.Leak.tests[m.ID]; !ok || t.Ended != 0 {
		return a, nil
	}
	a = a.withReadingText(m.ID, m.Key, m.Text, a.readingUnits(m.ID))
	a.Leak.problems = without(a.Leak.problems, m.ID)
	a = a.notSavedNow().refreshLeak()
	return a, []Effect{KeepDraft{Key: draftReading + m.ID, Draft: Draft{Texts: maps.Clone(a.Leak.readings[m.ID]), Units: textOf(a.readingUnits(m.ID))}}}
}

// readingTaken notes what is typed as a reading of now.
func (a App) readingTaken(id string) (App, []Effect) {
	t, ok := a.Leak.tests[id]
	if !ok || t.Ended != 0 {
		return a, nil
	}
	r, problem := a.typedReading(t)
	if problem == "" {
		problem = tooSoon(t, r.At)
	}
	if problem != "" {
		return a.withProblem(id, problem), []Effect{ShowTop{Act: "leak-reading-" + leakGauge}}
	}
	t.Readings = append(slices.Clone(t.Readings), r)
	drafts := append([]storage.Draft{t.draft()}, a.acknowledged(t)...)
	return a.write(pending{drafts: drafts, then: func(a App, _ []storage.Record) (App, []Effect) {
		a.Leak.readings, a.Leak.readingUnits, a.Leak.problems = without(a.Leak.readings, id), without(a.Leak.readingUnits, id), without(a.Leak.problems, id)
		return a.refreshLeak(), []Effect{KeepDraft{Key: draftReading + id}, ShowTop{Act: "leak-verdict"}}
	}})
}

func (a App) withProblem(id, text string) App {
	a.Leak.problems = maps.Clone(a.Leak.problems)
	if a.Leak.problems == nil {
		a.Leak.problems = map[string]string{}
	}
	a.Leak.problems[id] = text
	return a.refreshLeak()
}

// tooSoon refuses a reading that does not come after the one before.
func tooSoon(t LeakTest, at int64) string {
	before := t.last().At
	switch {
	case at < t.Start:
		return "The clock of this device stands " + spanWords(t.Start-at) + " before the start of this test; allowed: an end after the start. Set the clock right and note the reading then."
	case at < before:
		return "The clock of this device stands " + spanWords(before-at) + " before the last reading; allowed: each reading later than the one before. Set the clock right and note the reading then."
	case at-before < 1000:
		return "This is the same instant as the last reading; allowed: a second later at least, because a leak shows only over time."
	}
	return ""
}

// acknowledged silences the timer of a test that has run out: whoever notes a reading has heard it.
func (a App) acknowledged(t LeakTest) []storage.Draft {
	timer, ok := a.timerFor(t.Key)
	if !ok || timer.Over() || timer.Left(a.Clock.Wall) > 0 {
		return nil
	}
	timer.State = TimerHeard
	return []storage.Draft{timer.draft()}
}

// readingDropped takes the newest reading back; the start stays. What it said can be typed again.
func (a App) readingDropped(id string) (App, []Effect) {
	t, ok := a.Leak.tests[id]
	if !ok || len(t.Readings) < 2 || t.Ended != 0 {
		return a, nil
	}
	before := t.record
	t.Readings = slices.Clone(t.Readings)[:len(t.Readings)-1]
	return a.write(pending{drafts: []storage.Draft{t.draft()}, undo: &Undo{Text: "The last reading is taken back.", before: []storage.Record{before}}})
}

// leakEnded ends a test: its timer stops, and what it showed is kept with it.
func (a App) leakEnded(id string) (App, []Effect) {
	t, ok := a.Leak.tests[id]
	if !ok || t.Ended != 0 {
		return a, nil
	}
	answer := a.answer(t)
	if answer == nil || answer.Problem != "" {
		return a.withProblem(id, "There is no verdict yet: note a second reading first, or give the test up."), nil
	}
	before := []storage.Record{t.record}
	t.Ended = max(a.Clock.Wall, t.last().At)
	t.Outcome = &LeakOutcome{Verdict: answer.Verdict, Leak: answer.Leak, Smallest: float64(answer.Smallest), Certain: answer.Certain,
		GaugeOnly: answer.GaugeOnly && answer.Leak == units.Band{}}
	drafts := []storage.Draft{t.draft()}
	if timer, ok := a.timerFor(t.Key); ok && !timer.Over() {
		before = append(before, timer.record)
		timer.State = TimerStopped
		drafts = append(drafts, timer.draft())
	}
	a, effects := a.write(pending{drafts: drafts, undo: &Undo{Text: "The test is ended.", before: before}})
	return a, append(effects, ShowTop{})
}

// leakDropped deletes a test and its timer.
func (a App) leakDropped(id string) (App, []Effect) {
	t, ok := a.Leak.tests[id]
	if !ok {
		return a, nil
	}
	p := pending{drafts: []storage.Draft{{Seen: t.record, Del: true}}, undo: &Undo{Text: "The leak test is deleted.", before: []storage.Record{t.record}}}
	if timer, ok := a.timerFor(t.Key); ok {
		p.drafts = append(p.drafts, storage.Draft{Seen: timer.record, Del: true})
		p.undo.before = append(p.undo.before, timer.record)
	}
	a.Leak.Open = ""
	a, effects := a.write(p)
	return a, append(effects, ShowTop{})
}

func (a App) jointMarked(m JointMarked) (App, []Effect) {
	t, ok := a.Leak.tests[m.ID]
	if !ok {
		return a, nil
	}
	t.Joints = maps.Clone(t.Joints)
	if t.Joints == nil {
		t.Joints = map[string]string{}
	}
	t.Joints[m.Joint] = m.State
	return a.write(pending{drafts: []storage.Draft{t.draft()}})
}
