package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
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
	return app.Section().Class("timers").Aria("label", "Timers").Body(
		app.Range(b.Timers.Running).Slice(func(i int) app.UI {
			return &timerLine{Timer: b.Timers.Running[i], Href: b.href(b.Timers.Running[i]), Now: b.Now}
		}),
		app.If(b.due(), func() app.UI { return app.Div().Class("alarm-frame").Aria("hidden", "true") }),
	)
}

// href leads to what a timer is for.
func (b *TimerBar) href(t state.Timer) string {
	for _, v := range b.Tests {
		if v.Test.Key == t.For {
			return "/leak?test=" + v.Test.ID
		}
	}
	return "/leak"
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
	}
	return line.Body(
		app.A().Class("timer-link").Href(l.Href).DataSet("act", "timer-open-"+t.ID).Body(
			app.Span().Class("timer-label").Text(t.Label),
			app.Span().Class("timer-left").DataSet("val", "timer.bar").Text(timerWords(t, l.Now))),
		app.If(due(t, l.Now), func() app.UI {
			return &widgets.SmallButton{Act: "timer-heard-" + t.ID, Label: "I heard it", OnPress: post(state.TimerAcknowledged{ID: t.ID})}
		}),
	)
}

// timerWords say how a timer stands.
func timerWords(t state.Timer, now int64) string {
	left := t.Left(now)
	switch {
	case t.Before(now):
		return "the clock stands before its start"
	case t.State == state.TimerPaused:
		return present.CountDown(left) + " left, paused"
	case left > 0:
		return present.CountDown(left) + " left"
	case -left < 5000:
		return "time is up"
	}
	return "ended " + present.Ago(-left)
}
