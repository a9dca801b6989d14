package state

import (
	"maps"
	"sort"
	"strconv"

	"torchside/calc/words"
	"torchside/storage"
)

// Timers are all timers somebody waits for, and what the device can do about them.
type Timers struct {
	Running []Timer // not over, the oldest first
	// Awake is what became of keeping the screen on: one of the Awake constants.
	Awake string
	// Sound is what became of the sound: one of the Sound constants.
	Sound string
	// Form is the timer being set, Ended the newest of the owner's own that are over.
	Form  TimerForm
	Ended []Timer

	list  map[string]Timer
	rung  map[string]bool // rung on this page since it was opened
	armed string          // the timers the device was last told of
}

// What the device says of keeping its screen on, and of sound.
const (
	AwakeUnknown = ""
	AwakeHeld    = "held"
	AwakeRefused = "refused"
	AwakeNone    = "none" // it knows no such thing
	SoundReady   = "ready"
	SoundOff     = "off"     // switched off for this device
	AwakeOff     = "off"     // the same
	SoundBlocked = "blocked" // until somebody touches the page
)

// Messages of timers.
type (
	// TimerPauseToggled stops a timer or lets it go on.
	TimerPauseToggled struct{ ID string }
	// TimerAcknowledged says that somebody has noticed that the time is up.
	TimerAcknowledged struct{ ID string }
	// TimerLonger adds minutes.
	TimerLonger struct {
		ID      string
		Minutes int
	}
	// AwakeTold and SoundTold bring what the device says.
	AwakeTold struct{ State string }
	SoundTold struct{ State string }
	// SpokenToggled switches the spoken marks on or off.
	SpokenToggled struct{}
)

func (TimerPauseToggled) msg() {}
func (TimerAcknowledged) msg() {}
func (TimerLonger) msg()       {}
func (AwakeTold) msg()         {}
func (SoundTold) msg()         {}
func (SpokenToggled) msg()     {}

// Effects of timers.
type (
	// SetAlarms tells the device when to ring, and whether to keep the screen on; an empty list silences it.
	SetAlarms struct{ Alarms []Alarm }
	// Ring rings now: a timer ran out and nobody has said so yet. A short one asks for a round of the room.
	Ring struct {
		Text  string
		Short bool
	}
	// Say speaks a mark.
	Say struct{ Text string }
)

func (SetAlarms) effect() {}
func (Ring) effect()      {}
func (Say) effect()       {}

// Alarm is one instant to ring at.
type Alarm struct {
	ID   string
	In   int64 // ms from now
	Text string
	// Short is a signal that does not go on: a round of the room is due.
	Short bool
}

// lateAfter is how long after the end a timer counts as having run out unseen, in ms.
const lateAfter = 5000

// spokenMarks are the times left that are spoken, in ms; half the time comes besides.
var spokenMarks = []int64{10 * 60000, 5 * 60000, 60000}

func reduceTimer(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case TimerPauseToggled:
		return did(a.timerChanged(m.ID, func(t Timer) Timer {
			if t.State == TimerPaused {
				return t.resumed(a.Clock.Wall)
			}
			return t.paused(a.Clock.Wall)
		}))
	case TimerAcknowledged:
		return did(a.timerChanged(m.ID, func(t Timer) Timer { t.State = TimerHeard; return t }))
	case TimerLonger:
		return did(a.timerChanged(m.ID, func(t Timer) Timer { return t.longer(m.Minutes, a.Clock.Wall) }))
	case AwakeTold:
		a.Timers.Awake = m.State
		return a, nil, true
	case SoundTold:
		a.Timers.Sound = m.State
		return a, nil, true
	case SpokenToggled:
		value := "yes"
		if a.Prefs.Spoken {
			value = "no"
		}
		return did(a.chosen(prefSpoken, value))
	}
	return reduceOwnTimer(a, m)
}

// longer adds minutes to what is left, or to now when the time is up: then it runs again.
func (t Timer) longer(minutes int, now int64) Timer {
	t.Duration += int64(minutes)*60000 + max(0, -t.Left(now))
	if t.State == TimerHeard {
		t.State = TimerRunning
	}
	return t
}

// timerChanged writes a changed timer, and shows the change at once.
func (a App) timerChanged(id string, change func(Timer) Timer) (App, []Effect) {
	t, ok := a.Timers.list[id]
	if !ok || t.State == TimerStopped {
		return a, nil
	}
	t = change(t)
	if t.State == TimerRunning && t.Left(a.Clock.Wall) > 0 {
		a.Timers.rung = without(a.Timers.rung, id)
	}
	return a.write(pending{drafts: []storage.Draft{t.draft()}})
}

// readTimers takes the timers from their records; it returns how many cannot be read.
func (a App) readTimers() (App, int) {
	damaged := 0
	a.Timers.list, a.Timers.Running = map[string]Timer{}, nil
	for _, r := range a.records {
		if r.Deleted || r.Kind != KindTimer {
			continue
		}
		t, err := ReadTimer(r)
		if err != nil {
			damaged++
			continue
		}
		a.Timers.list[t.ID] = t
		if !t.Over() {
			a.Timers.Running = append(a.Timers.Running, t)
		}
	}
	running := a.Timers.Running
	sort.SliceStable(running, func(i, j int) bool { return running[i].ID < running[j].ID })
	a.Timers.Ended = a.endedTimers()
	return a.readTimerForm(), damaged
}

// timerFor finds the timer of something.
func (a App) timerFor(key string) (Timer, bool) {
	for _, t := range a.Timers.list {
		if t.For == key && key != "" {
			return t, true
		}
	}
	return Timer{}, false
}

// ring rings what is due and not rung yet, speaks the marks passed since the last reading, and tells the device of changes.
func (a App) ring(before int64) (App, []Effect) {
	var effects []Effect
	for _, t := range a.Timers.Running {
		left := t.Left(a.Clock.Wall)
		switch {
		case left <= 0 && t.State == TimerRunning && !a.Timers.rung[t.ID]:
			a.Timers.rung = maps.Clone(a.Timers.rung)
			if a.Timers.rung == nil {
				a.Timers.rung = map[string]bool{}
			}
			a.Timers.rung[t.ID] = true
			effects = append(effects, Ring{Text: words.S("%s: %s", t.Label, endedWords(left))})
			effects = append(effects, a.say(words.S("%s: time is up.", t.Label))...)
		case t.State == TimerRunning && before > 0 && t.roundBetween(before, a.Clock.Wall):
			effects = append(effects, Ring{Text: t.roundText(), Short: true})
			effects = append(effects, a.say(t.roundText())...)
		case t.State == TimerRunning && before > 0:
			effects = append(effects, a.say(t.mark(before, a.Clock.Wall))...)
		}
	}
	if now := a.alarmsWanted(); now != a.Timers.armed {
		a.Timers.armed = now
		effects = append(effects, SetAlarms{Alarms: a.alarms()})
	}
	return a, effects
}

// endedWords say how long ago a timer ran out.
func endedWords(left int64) string {
	if -left <= lateAfter {
		return "time is up"
	}
	return words.S("ended %s ago", spanWords(-left))
}

func (a App) say(text string) []Effect {
	if text == "" || !a.Prefs.Spoken {
		return nil
	}
	return []Effect{Say{Text: text}}
}

// mark is what to say when a mark was passed between two instants; "" when none was.
func (t Timer) mark(before, now int64) string {
	for _, m := range append([]int64{t.Duration / 2}, spokenMarks...) {
		if m < t.Duration && t.Left(before) > m && t.Left(now) <= m {
			return words.S("%s: %s left.", t.Label, spanWords(m))
		}
	}
	return ""
}

// alarms are the instants to ring at; a timer that has run out rings until somebody has said so.
func (a App) alarms() []Alarm {
	var list []Alarm
	for _, t := range a.Timers.Running {
		if t.State == TimerRunning {
			list = append(list, Alarm{ID: t.ID, In: max(0, t.Left(a.Clock.Wall)), Text: words.S("%s: time is up", t.Label)})
			list = append(list, t.roundAlarms(a.Clock.Wall)...)
		}
	}
	return list
}

// alarmsWanted names the timers and their ends, to see whether the device must be told anew.
func (a App) alarmsWanted() string {
	if len(a.Timers.Running) == 0 {
		return "none"
	}
	text := ""
	for _, t := range a.Timers.Running {
		text += t.ID + t.State + strconv.FormatInt(t.Start+t.PausedFor+t.Duration, 10) + " "
	}
	return text
}
