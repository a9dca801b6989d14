package state

import (
	"slices"
	"sort"
	"strconv"

	"torchside/calc/leak"
	"torchside/calc/order"
	"torchside/calc/words"
	"torchside/storage"
)

// Messages of timers that run, besides those of the leak test.
type (
	// TimerEnded stops a timer before its time, TimerRestarted begins it again from now, TimerRound says that somebody went round.
	TimerEnded     struct{ ID string }
	TimerRestarted struct{ ID string }
	TimerRound     struct{ ID string }
	// TimersCleared deletes the owner's timers that are over.
	TimersCleared struct{}
	// TorchChosen sets how often to ask whether the torch still burns, in minutes; 0 never. TorchLit and TorchOut say what it does.
	TorchChosen struct{ Minutes string }
	TorchLit    struct{}
	TorchOut    struct{}
)

func (TimerEnded) msg()     {}
func (TimerRestarted) msg() {}
func (TimerRound) msg()     {}
func (TimersCleared) msg()  {}
func (TorchChosen) msg()    {}
func (TorchLit) msg()       {}
func (TorchOut) msg()       {}

// endedShown is how many timers that are over the page lists.
const endedShown = 6

func reduceOwnTimer(a App, m Msg) (App, []Effect, bool) {
	switch m := m.(type) {
	case TimerTyped:
		return did(a.timerTyped(m.Key, m.Text))
	case TimerPurposeChosen:
		return did(a.purposeChosen(m.Purpose))
	case TimersShown:
		return a.readTimerForm(), nil, true
	case TimerStarted:
		return did(a.timerStarted())
	case TimerEnded:
		return did(a.timerEnded(m.ID))
	case TimerRestarted:
		return did(a.timerChanged(m.ID, func(t Timer) Timer { return t.again(a.Clock.Wall) }))
	case TimerRound:
		return did(a.timerChanged(m.ID, func(t Timer) Timer {
			t.Rounds = append(slices.Clone(t.Rounds), t.Ran(a.Clock.Wall))
			return t
		}))
	case TimersCleared:
		return did(a.timersCleared())
	case TorchChosen:
		return did(a.chosen(prefTorch, m.Minutes))
	case TorchLit:
		return did(a.torchLit())
	case TorchOut:
		return did(a.torchOut())
	}
	return a, nil, false
}

// again begins a timer anew at an instant.
func (t Timer) again(now int64) Timer {
	t.State, t.Start, t.PausedFor, t.PausedAt, t.Rounds = TimerRunning, now, 0, 0, nil
	return t
}

// timerEnded stops a timer; it can be taken back, and then has run on meanwhile.
func (a App) timerEnded(id string) (App, []Effect) {
	t, ok := a.Timers.list[id]
	if !ok || t.Over() {
		return a, nil
	}
	before := t.record
	if t.State == TimerRunning {
		t = t.paused(a.Clock.Wall) // how long it ran is kept
	}
	t.State = TimerStopped
	return a.write(pending{drafts: []storage.Draft{t.draft()}, undo: &Undo{Text: words.S("%s is stopped.", t.Label), before: []storage.Record{before}}})
}

// endedTimers are the newest of the owner's own that are over; those of leak tests are told by the tests.
func (a App) endedTimers() []Timer {
	var list []Timer
	for _, t := range a.Timers.list {
		if t.Over() && t.Purpose != "" && t.Purpose != PurposeLit {
			list = append(list, t)
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].ID > list[j].ID })
	return list[:min(len(list), endedShown)]
}

func (a App) timersCleared() (App, []Effect) {
	p := pending{undo: &Undo{Text: "The timers that were over are deleted."}}
	for _, t := range a.Timers.list {
		if t.Over() && t.Purpose != "" {
			p.drafts = append(p.drafts, storage.Draft{Seen: t.record, Del: true})
			p.undo.before = append(p.undo.before, t.record)
		}
	}
	if len(p.drafts) == 0 {
		return a, nil
	}
	return a.write(p)
}

// LitTimer is the reminder that asks whether the torch still burns.
func (t Timers) LitTimer() (Timer, bool) {
	for _, one := range t.Running {
		if one.Purpose == PurposeLit {
			return one, true
		}
	}
	return Timer{}, false
}

// torchLit starts the reminder, or begins it again: somebody has just seen the flame.
func (a App) torchLit() (App, []Effect) {
	if a.Prefs.TorchMinutes == 0 {
		return a, nil
	}
	if t, ok := a.Timers.LitTimer(); ok {
		return a.timerChanged(t.ID, func(t Timer) Timer {
			t.Duration = int64(a.Prefs.TorchMinutes) * 60000
			return t.again(a.Clock.Wall)
		})
	}
	t := Timer{Purpose: PurposeLit, Label: "Torch lit", State: TimerRunning, Start: a.Clock.Wall, Duration: int64(a.Prefs.TorchMinutes) * 60000}
	return a.write(pending{drafts: []storage.Draft{t.draft()}, start: true})
}

// torchOut ends the reminder, and offers the fire watch that begins now.
func (a App) torchOut() (App, []Effect) {
	t, ok := a.Timers.LitTimer()
	if !ok {
		return a, nil
	}
	a, effects := a.timerEnded(t.ID)
	a, more := a.purposeChosen(PurposeFire)
	return a, append(effects, more...)
}

// purgeVolumes is how many times what the line holds is let out, as in the orders of work.
const purgeVolumes = order.PurgeVolumes

// purgeShortest is the shortest purge proposed, in s: ours, what a person can time by hand.
const purgeShortest = 10

// purgeRules are the times for the two lines, the longer first: the high end of the volume at its working pressure, let out five times at
// the flow of the settings card. A line is left out when its hose is not known, and both while there is no card.
func (a App) purgeRules() []TimerRule {
	c := a.Setup.Card
	if c == nil || a.Setup.Stale {
		return nil
	}
	var list []TimerRule
	for _, l := range []struct {
		section     leak.Section
		name        string
		gauge, flow float64
	}{{leak.OxygenDelivery, LineOxygen, c.Oxygen.RegulatorGaugePa, c.Oxygen.FlowStdM3S}, {leak.FuelDelivery, gasName(a.fuelInUse()), c.Fuel.RegulatorGaugePa, c.Fuel.FlowStdM3S}} {
		v, off := leak.Sum(a.partsOf(l.section, a.leakGas(sectionLine(l.section, ""))))
		if v <= 0 || l.flow <= 0 {
			continue
		}
		held := float64(v+off) * (l.gauge + float64(a.barometer())) / standardPa
		s := max(purgeShortest, int64(purgeVolumes*held/l.flow+0.999))
		list = append(list, TimerRule{Seconds: s, Text: words.S("%s line: five times what it holds, at the flow of your settings card", l.name), Source: words.S("computed; five times is %s", commonPractice)})
	}
	if len(list) == 2 && list[0].Seconds < list[1].Seconds {
		list[0], list[1] = list[1], list[0]
	}
	return list
}

// standardPa is the pressure of a standard volume (15 °C, 101.325 kPa); that the gas is not exactly at 15 °C is far below the error of
// the volume.
const standardPa = 101325

// minutesOf reads a number of minutes that is one of our own options; anything else is none.
func minutesOf(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0
	}
	return n
}
