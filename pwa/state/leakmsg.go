package state

import (
	"maps"
	"slices"
	"strings"

	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

// Messages of the Leak test page.
type (
	// LeakBegun begins to prepare the test of a section, by its code; Line tells which gas where the section does not. Stage goes on at
	// its readings when it was being prepared before.
	LeakBegun struct{ Section, Line, RetestOf, Stage string }
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
	// MoreLeakTests lists older tests of a section and line.
	MoreLeakTests struct{ Section, Line string }
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
func (MoreLeakTests) msg()  {}
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
	case MoreLeakTests:
		return did(a.moreLeakTests(m))
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
	a.Undo = nil // what could be taken back belongs to what was done before
	l := &a.Leak
	l.Stage, l.Section, l.Gas, l.RetestOf = LeakPrepare, s, a.leakGas(sectionLine(s, m.Line)), m.RetestOf
	l.Open, l.Problem, l.checked, l.Restored, l.Busy = "", "", false, false, false
	l.texts, l.units = map[string]string{leakThermometer: "1"}, a.Prefs.Units
	if d, ok := l.plans[l.planKey()]; ok {
		l.texts, l.units, l.Restored = maps.Clone(d.texts), d.units, true
		if m.Stage == LeakReadings {
			l.Stage = LeakReadings
		}
	}
	l.texts = a.leakDefaults(s, l.Gas, l.texts)
	a = a.refreshLeak()
	return a.keepLeak(ShowTop{})
}

// sectionLine is the line of a section: its own, else the one asked for.
func sectionLine(s leak.Section, asked string) string {
	switch {
	case s == leak.OxygenDelivery || s == leak.OxygenSupply:
		return LineOxygen
	case s == leak.FuelDelivery || s == leak.FuelSupply || asked != LineOxygen:
		return LineFuel
	}
	return LineOxygen
}

// Planned reports whether a test of a section and line is being prepared and can be gone on with.
func (a App) Planned(section, line string) bool {
	s, err := leak.ParseSection(section)
	_, ok := a.Leak.plans[Leak{Section: s, Gas: a.leakGas(sectionLine(s, line))}.planKey()]
	return err == nil && ok
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
