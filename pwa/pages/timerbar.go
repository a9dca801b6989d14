package pages

import (
	"slices"
	"sort"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
	"torchside/pwa/site"
	"torchside/pwa/state"
)

// TimerBar shows every running timer above every page, and rings for the eye while one has run out and nobody has said so.
type TimerBar struct {
	app.Compo

	Timers state.Timers
	Tests  []state.LeakView // that run
	Now    int64
}

// Render shows one line each. The frame of a due timer flashes once a second, which is below what may cause seizures (WCAG 2.3.1: three).
func (b *TimerBar) Render() app.UI {
	list := b.inOrder()
	return app.Section().Class("timers").Aria("label", words.Text("Timers")).Body(
		app.Range(list).Slice(func(i int) app.UI {
			return &timerLine{Timer: list[i], Href: timerHref(list[i], b.Tests), Now: b.Now}
		}),
		app.If(b.due(), func() app.UI { return app.Div().Class("alarm-frame").Aria("hidden", "true") }),
	)
}

// inOrder are the timers as the bar shows them: what asks for something first, then what ends first, because a small screen shows two.
func (b *TimerBar) inOrder() []state.Timer {
	list := slices.Clone(b.Timers.Running)
	rank := func(t state.Timer) int64 {
		if t.RoundDue(b.Now) {
			return 0
		}
		return max(0, t.Left(b.Now))
	}
	sort.SliceStable(list, func(i, j int) bool { return rank(list[i]) < rank(list[j]) })
	return list
}

// timersPath is the page of timers.
const timersPath = "/bench/timers"

// timerHref leads to what a timer is for: its leak test, else the page of timers.
func timerHref(t state.Timer, tests []state.LeakView) string {
	for _, v := range tests {
		if v.Test.Key == t.For {
			return "/leak?test=" + v.Test.ID
		}
	}
	if t.For != "" {
		return "/leak"
	}
	return timersPath
}

func (b *TimerBar) due() bool {
	for _, t := range b.Timers.Running {
		if due(t, b.Now) {
			return true
		}
	}
	return false
}

func due(t state.Timer, now int64) bool { return t.State == state.TimerRunning && t.Left(now) <= 0 }

// timerLine is one timer.
type timerLine struct {
	app.Compo

	Timer state.Timer
	Href  string
	Now   int64
}

// CompoID keeps the handlers of one timer from passing to another.
func (l *timerLine) CompoID() string { return "timer-" + l.Timer.ID }

// Render shows what is left, or how long ago it ended with the way to silence it.
func (l *timerLine) Render() app.UI {
	t := l.Timer
	line := app.Div().Class("timer").DataSet("val", "timer")
	if due(t, l.Now) {
		line = line.Class("timer-due").Role("alert")
	} else if t.RoundDue(l.Now) {
		line = line.Class("timer-round").Role("status")
	}
	return line.Body(
		app.A().Class("timer-link").Href(site.At(l.Href)).DataSet("act", "timer-open-"+t.ID).Body(
			app.Span().Class("timer-label").Text(words.Text(t.Label)),
			app.Span().Class("timer-left").DataSet("val", "timer.bar").Text(words.Text(timerWords(t, l.Now)))),
		timerAsks(t, l.Now),
	)
}

// timerWords say how a timer stands.
func timerWords(t state.Timer, now int64) string {
	left := t.Left(now)
	switch {
	case t.Before(now):
		return "the clock stands before its start"
	case t.RoundDue(now):
		return words.S("Go round the room now, %s left", present.CountDown(left))
	case t.Purpose == state.PurposeLit && left <= 0:
		return "Is it still lit?"
	case t.State == state.TimerPaused:
		return words.S("%s left, paused", present.CountDown(left))
	case left > 0:
		return words.S("%s left", present.CountDown(left))
	case -left < 5000:
		return "time is up"
	}
	return words.S("ended %s", present.Ago(-left))
}
