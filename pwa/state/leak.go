package state

import (
	"maps"
	"slices"
	"sort"
	"strings"

	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// Leak is what the Leak test page shows.
type Leak struct {
	Stage string // one of the LeakStage constants
	Open  string // id of the test that is open, "" for none

	// The test being prepared.
	Section     leak.Section
	Gas         gas.Gas
	RetestOf    string
	Prep        *leak.Preparation
	Parts       []leak.Part // what the closed volume is reckoned from; none when it is not known
	Volume      units.Volume
	VolumeError units.Volume
	Fields      []FormField
	Needed      units.Duration     // 0 while it cannot be told
	Runs        units.Duration     // how long the timer will run
	Sees        units.StandardFlow // the smallest leak it will see
	NeedProblem string
	Allowed     units.StandardFlow
	Caution     string // about the allowed leak
	Problem     string // why it was not started
	Restored    bool
	Busy        bool

	Running []LeakView // not ended, the oldest first
	Shown   *LeakView  // the open one
	History []LeakHistory
	Prefs   []FormField // the owner's room and rules

	texts    map[string]string
	si       map[string]float64
	units    units.System
	checked  bool
	plans    map[string]plan // tests being prepared, by planKey
	tests    map[string]LeakTest
	sorted   []LeakTest                   // the same, the oldest first
	more     map[string]int               // listed beyond the first, by section and line
	readings map[string]map[string]string // typed and not noted yet, by test
	problems map[string]string            // why a reading was not noted, by test
	// readingUnits are the units those texts were typed under.
	readingUnits map[string]units.System
}

// How many tests of a section are listed at first, and how many more at a time. The plot shows as many as can be told apart on a phone.
const (
	LeakTestsFirst   = 10
	LeakTestsMore    = 50
	LeakTestsPlotted = 40
)

// The stages of a test that has not begun.
const (
	LeakHome     = ""
	LeakPrepare  = "prepare"
	LeakReadings = "readings"
)

// LeakView is one test ready to show.
type LeakView struct {
	Test    LeakTest
	Name    string // "oxygen delivery", with the gas where the section does not say it
	GasName string // JSON name of the gas, for the colour
	Answer  *LeakAnswer
	Fields  []FormField // of the next reading
	Same    map[string]string
	Problem string
	Timer   *Timer
	Joints  []LeakJoint
	Retests []string // ids of the tests that followed it
	Ratio   units.StandardRatio
}

// LeakJoint is one place to put the soap, and what was found there.
type LeakJoint struct {
	Joint leak.Joint
	State string // "", "soaped", "bubbles" or "fixed"
}

// LeakHistory is what is known of one section of one line.
type LeakHistory struct {
	Section leak.Section
	Gas     gas.Gas
	Name    string
	GasName string
	Ratio   units.StandardRatio
	Tests   []LeakTest // the newest that ended, the oldest of them first: as many as are listed or plotted
	Listed  int        // how many of them are listed, the newest
	Total   int        // how many there are in all
	Due     int64      // instant from which it is due, ms; 0 when there is no interval or no test
}

// sectionName names a section, with the gas where the section alone does not tell.
func sectionName(s leak.Section, g gas.Gas) string {
	if s == leak.WholeRig || s == leak.RegulatorCreep {
		return words.S("%s, %s", s.Name(), g.Name())
	}
	return s.Name()
}

// readLeakTests takes the tests from their records; it returns how many cannot be read. A record that has not changed since is not read
// again: there may be thousands, and this is done with every change of anything.
func (a App) readLeakTests() (App, int) {
	damaged, before := 0, a.Leak.tests
	a.Leak.tests = make(map[string]LeakTest, len(before))
	for _, r := range a.records {
		if r.Deleted || r.Kind != KindLeakTest {
			continue
		}
		t, ok := before[string(r.ID)]
		if !ok || !sameVersion(t.record, r) {
			var err error
			if t, err = ReadLeakTest(r); err != nil {
				damaged++
				continue
			}
		}
		a.Leak.tests[t.ID] = t
	}
	a.Leak.sorted = sortTests(a.Leak.tests)
	return a, damaged
}

// sameVersion reports whether two records have the same newest versions.
func sameVersion(a, b storage.Record) bool {
	return slices.EqualFunc(a.Heads, b.Heads, func(x, y storage.Op) bool { return x.ID == y.ID }) && len(a.Heads) > 0
}

// refreshLeak makes everything the page shows anew.
func (a App) refreshLeak() App {
	l := &a.Leak
	l.Allowed = a.allowed()
	l.Running, l.Shown, l.History = nil, nil, a.leakHistory()
	for _, t := range a.sortedTests() {
		if t.Ended == 0 {
			l.Running = append(l.Running, a.leakView(t))
		}
	}
	if t, ok := l.tests[l.Open]; ok {
		v := a.leakView(t)
		l.Shown = &v
	}
	l.Prefs = nil
	for _, s := range leakPrefSpecs {
		field, text := a.prefField(s), a.Prefs.Texts[s.Key]
		l.Prefs = append(l.Prefs, formField(s, field, text, readField(s, field, text)))
	}
	if l.Stage != LeakHome {
		a = a.readPlan()
	}
	return a
}

// sortedTests are all tests, the oldest first. Nobody may change the list.
func (a App) sortedTests() []LeakTest { return a.Leak.sorted }

// sortTests puts tests in order. Sorting by index costs the browser program far less than a sort made for such a large type.
func sortTests(tests map[string]LeakTest) []LeakTest {
	list := make([]LeakTest, 0, len(tests))
	for _, t := range tests {
		list = append(list, t)
	}
	sort.Slice(list, func(i, j int) bool {
		if list[i].Start != list[j].Start {
			return list[i].Start < list[j].Start
		}
		return list[i].ID < list[j].ID
	})
	return list
}

// readPlan reads the form of the test being prepared.
func (a App) readPlan() App {
	l := &a.Leak
	l.Parts = a.partsOf(l.Section, l.Gas)
	if prep, err := leak.Prepare(l.Section, l.Gas, a.barometer()); err == nil {
		l.Prep = &prep
	}
	l.Caution = a.allowedCaution()
	l.si = map[string]float64{}
	// The ends of the scales are limits of other fields, so they are read first.
	for range 2 {
		l.Fields = nil
		for _, s := range a.planSpecs() {
			l.Fields = append(l.Fields, a.readPlanField(s))
		}
	}
	a.crossCheckPlan()
	l.Volume, l.VolumeError = a.volumeOf()
	return a.planned()
}

func (a App) readPlanField(s Spec) FormField {
	l := a.Leak
	text := l.texts[s.Key]
	if s.Type == TypeChoice {
		return FormField{Key: s.Key, Label: s.Label, Type: TypeChoice, Text: text, Options: s.Options}
	}
	s = a.stepped(s)
	field := a.planField(s)
	r := readField(s, field, text)
	if strings.TrimSpace(text) == "" && !l.checked {
		r = reading{} // not filled in yet is no mistake before the first try
	}
	delete(l.si, s.Key)
	if r.given {
		l.si[s.Key] = r.si
	}
	return formField(s, field, text, r)
}

// stepped gives a gauge its steppers: one division of its own.
func (a App) stepped(s Spec) Spec {
	key := map[string]string{leakGauge: leakDivision, leakOther: leakOtherDiv}[s.Key]
	if division, ok := a.Leak.si[key]; ok {
		s.Steps = divisionSteps(division)
	}
	return s
}

// divisionSteps are the steps of a gauge, in every unit of pressure.
func divisionSteps(pa float64) stepTable {
	steps := stepTable{}
	for _, u := range units.UnitsOf(units.QuantityPressure) {
		if v, err := u.FromSI(pa, 0); err == nil {
			steps[u.Symbol()] = v
		}
	}
	return steps
}

// crossCheckPlan finds what no single field shows.
func (a App) crossCheckPlan() {
	l := a.Leak
	if division, ok := l.si[leakDivision]; ok && l.si[leakGauge] > 0 && l.si[leakGauge] <= division {
		mark(l.Fields, leakGauge, words.S("%s: read less than one division; allowed: more, because a leak test needs pressure that can fall.", words.Capital(gaugeOf(l.Section))))
	}
	if _, read := l.si[leakOther]; read && l.si[leakOtherDiv] == 0 && l.checked {
		mark(l.Fields, leakOtherDiv, "Nothing typed; allowed: the step between two lines of that gauge; without it its reading tells nothing.")
	}
}

func gaugeOf(s leak.Section) string {
	main, _ := gaugeNames(s)
	return main
}

// allowedCaution warns when the owner allows more than the room carries.
func (a App) allowedCaution() string {
	carries, err := leak.AllowedIn(a.Leak.Gas, a.room())
	switch {
	case err != nil:
		return a.said(err)
	case carries == nil:
		return "Your room has no fresh air: any leak gathers in it, whatever leak you allow."
	case a.allowed() > *carries:
		return words.S("You allow more than your room carries: it keeps the mixed air below a hundredth of the lower flammable limit, or 23.5 %% oxygen with the same margin, only up to %s.", units.Format(units.QuantityStandardFlow, float64(*carries), a.Prefs.Units.Unit(units.QuantityStandardFlow), a.Leak.Gas.StandardRatio()))
	}
	return ""
}

// moreLeakTests lists older tests of a section.
func (a App) moreLeakTests(m MoreLeakTests) (App, []Effect) {
	more := maps.Clone(a.Leak.more)
	if more == nil {
		more = map[string]int{}
	}
	more[m.Section+m.Line] += LeakTestsMore
	a.Leak.more = more
	return a.refreshLeak(), nil
}

// leakHistory gathers the ended tests by section and line.
func (a App) leakHistory() []LeakHistory {
	type part struct {
		section leak.Section
		line    string
	}
	tests, of := a.sortedTests(), map[part][]int{}
	for i := range tests {
		if t := &tests[i]; t.Ended != 0 && t.Outcome != nil {
			at := part{t.Section, t.Line()}
			of[at] = append(of[at], i)
		}
	}
	var list []LeakHistory
	for _, s := range leak.Sections() {
		for _, line := range []string{LineOxygen, LineFuel} {
			all := of[part{s, line}]
			if len(all) == 0 {
				continue
			}
			h := LeakHistory{Section: s, Total: len(all), Listed: min(len(all), LeakTestsFirst+a.Leak.more[string(s)+line])}
			for _, i := range all[max(0, len(all)-max(h.Listed, LeakTestsPlotted)):] {
				h.Tests = append(h.Tests, tests[i])
			}
			last := h.Tests[len(h.Tests)-1]
			h.Gas = last.Gas
			h.Name, h.GasName, h.Ratio = sectionName(s, h.Gas), string(h.Gas), h.Gas.StandardRatio()
			if days := a.Prefs.given(PrefLeakInterval); days != nil {
				h.Due = last.Start + int64(*days*24*3600*1000)
			}
			list = append(list, h)
		}
	}
	return list
}

// lastLeakTest is the newest ended test of a part of the rig.
func (a App) lastLeakTest(part string) (LeakTest, bool) {
	for _, t := range slices.Backward(a.sortedTests()) {
		if t.Ended != 0 && t.Outcome != nil && slices.Contains(t.Parts, part) {
			return t, true
		}
	}
	return LeakTest{}, false
}
