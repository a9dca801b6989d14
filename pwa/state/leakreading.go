package state

import (
	"maps"
	"slices"

	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

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
		return words.S("The clock of this device stands %s before the start of this test; allowed: an end after the start. Set the clock right and note the reading then.", spanWords(t.Start-at))
	case at < before:
		return words.S("The clock of this device stands %s before the last reading; allowed: each reading later than the one before. Set the clock right and note the reading then.", spanWords(before-at))
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
