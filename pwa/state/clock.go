package state

import (
	"slices"

	"torchside/calc/words"
	"torchside/storage"
)

// Clock is the time as last read. Wall is the time of day, which people and networks set; Steady only runs, but stops with the page.
type Clock struct {
	Wall   int64 // Unix time in ms
	Steady int64 // ms since the page was opened

	compared bool // the next reading can be compared with this one: the page was in sight
	hidden   bool // out of sight, where it may sleep
	jump     int64
}

// Messages of the clock.
type (
	// ClockRead brings the time. It comes before every other message, and every second while a timer runs.
	ClockRead struct{ Wall, Steady int64 }
	// PageHidden and PageShown say that the page went out of sight and came back: it may have slept between.
	PageHidden struct{}
	PageShown  struct{}
	// WallClockTrusted takes back that a jump of the clock was allowed for: the device had slept.
	WallClockTrusted struct{}
)

func (ClockRead) msg()        {}
func (PageHidden) msg()       {}
func (PageShown) msg()        {}
func (WallClockTrusted) msg() {}

// NoticeClock is the code of the notice that the clock jumped; ActionTrustClock takes the wall clock all the same.
const (
	NoticeClock      = "clock-jumped"
	ActionTrustClock = "trust-clock"
)

// jumpMinimum is how far the two clocks may drift apart between two readings before it counts, in ms: far above the coarse clocks
// of browsers, far below what a leak test notices.
const jumpMinimum = 2000

func reduceClock(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case ClockRead:
		return did(a.clockRead(m))
	case PageHidden:
		a.Clock.compared, a.Clock.hidden = false, true
		return a, nil, true
	case PageShown:
		a.Clock.compared, a.Clock.hidden = false, false
		a.Timers.armed = "" // the lock and the alarms may be gone
		return a, nil, true
	case WallClockTrusted:
		return did(a.clockTrusted())
	}
	return a, nil, false
}

// clockRead takes the time, allows for a jump, and rings what is due.
func (a App) clockRead(m ClockRead) (App, []Effect) {
	before := a.Clock
	a.Clock.Wall, a.Clock.Steady, a.Clock.compared = m.Wall, m.Steady, !before.hidden
	var effects []Effect
	if jump := m.Wall - before.Wall - (m.Steady - before.Steady); before.compared && (jump > jumpMinimum || jump < -jumpMinimum) {
		a, effects = a.jumped(jump)
	}
	a, more := a.ring(before.Wall)
	return a, append(effects, more...)
}

// jumped moves everything under way by a jump of the wall clock, so that it goes by the steady one, and says so.
func (a App) jumped(ms int64) (App, []Effect) {
	a, effects, moved := a.shifted(ms)
	if !moved {
		return a, nil
	}
	a.Clock.jump += ms
	way := "forward"
	if ms < 0 {
		way = "back"
	}
	return a.withNotice(Notice{Code: NoticeClock, Level: LevelCaution, Action: ActionTrustClock,
		Text: words.S("The clock of this device jumped %s by %s while a timer ran. Timers and readings here go by the page's own steady clock, which did not jump. If the device was only asleep, the clock is right after all.", way, spanWords(max(ms, -ms)))}), effects
}

// clockTrusted takes the last jumps back.
func (a App) clockTrusted() (App, []Effect) {
	ms := a.Clock.jump
	a.Clock.jump = 0
	a, effects, _ := a.withoutNotice(NoticeClock).shifted(-ms)
	return a, effects
}

// shifted moves the instants of running timers and tests.
func (a App) shifted(ms int64) (App, []Effect, bool) {
	var drafts []storage.Draft
	a.Timers.Running = slices.Clone(a.Timers.Running)
	for i := range a.Timers.Running {
		a.Timers.Running[i].Start += ms // at once: nothing must ring before it is written
		drafts = append(drafts, a.Timers.Running[i].draft())
	}
	for _, t := range a.sortedTests() {
		if t.Ended != 0 {
			continue
		}
		t.Start += ms
		t.Readings = slices.Clone(t.Readings)
		for i := range t.Readings {
			t.Readings[i].At += ms
		}
		drafts = append(drafts, t.draft())
	}
	if len(drafts) == 0 || ms == 0 {
		return a, nil, false
	}
	a, effects := a.write(pending{drafts: drafts})
	return a, effects, true
}
