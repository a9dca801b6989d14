package state

import (
	"strconv"

	"torchside/calc/leak"
	"torchside/calc/words"
	"torchside/storage"
)

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
		a.Leak.Problem = words.S("Not started: %s.", a.Leak.NeedProblem)
		return a, nil
	}
	a.Leak.Busy = true
	t := a.leakTest()
	timer := Timer{For: t.Key, Label: words.S("Leak test, %s", sectionName(t.Section, t.Gas)), State: TimerRunning, Start: t.Start,
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
