package pages

import (
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // the places of the tests, wherever they run

	"torchside/pwa/pwatest"
	"torchside/pwa/state"
)

// The time of day a timer ends is that of the wall: over both changes of the clock, over a leap day and over the end of a year.
func TestEndsAt_byTheClockOnTheWall(t *testing.T) {
	here := time.Local
	t.Cleanup(func() { time.Local = here })
	for _, c := range []struct {
		place, now string // with the offset from UTC then in force
		minutes    int64
		want       string
	}{
		{"America/New_York", "2031-03-09T01:30:00-05:00", 60, "03:30"}, // 02:00 becomes 03:00
		{"America/New_York", "2031-11-02T01:30:00-04:00", 60, "01:30"}, // 02:00 becomes 01:00
		{"Europe/Berlin", "2031-10-25T23:00:00+02:00", 300, "2031-10-26 03:00"},
		{"America/New_York", "2032-02-28T23:30:00-05:00", 60, "2032-02-29 00:30"},
		{"Asia/Tokyo", "2031-12-31T23:30:00+09:00", 60, "2032-01-01 00:30"},
		{"Asia/Tokyo", "2031-12-31T09:30:00+09:00", 60, "10:30"},
	} {
		place, err := time.LoadLocation(c.place)
		if err != nil {
			t.Fatal(err)
		}
		time.Local = place
		at, err := time.Parse(time.RFC3339, c.now)
		if err != nil {
			t.Fatal(err)
		}
		timer := state.Timer{State: state.TimerRunning, Start: at.UnixMilli(), Duration: c.minutes * 60000}
		if got := endsAt(timer, at.UnixMilli()); got != c.want {
			t.Errorf("%s, %d min: ends at %s, want %s", c.now, c.minutes, got, c.want)
		}
	}
}

// The caution stands before the times, the times before the field.
func TestTimers_cautionStandsBeforeTheTimes(t *testing.T) {
	a := after(state.Loaded{})
	html := pwatest.HTML(t, &Timers{Timers: a.Timers, Prefs: a.Prefs})
	inOrder(t, html, "Watch from the last flame", "29 CFR 1910.252(a)(2)", "NFPA 51B", `data-act="timer-run"`, `data-act="timer-start"`)
	pwatest.Lacks(t, html, `data-act="torch-lit"`)
	a = after(state.Loaded{}, state.TimerPurposeChosen{Purpose: state.PurposeSettle}, state.TorchChosen{Minutes: "5"})
	html = pwatest.HTML(t, &Timers{Timers: a.Timers, Prefs: a.Prefs})
	inOrder(t, html, "gives off its solvent", "2:00:00", "NAVEDTRA 14250", "45:00", "TC 9-237", "30:00", `data-act="timer-lain"`)
	pwatest.Wants(t, html, `data-act="torch-lit"`)
}

// A running timer offers what can be done with it, one whose start lies ahead to begin again, one of a leak test the way to it.
func TestTimerCard_offersWhatCanBeDone(t *testing.T) {
	timer := state.Timer{ID: "t", Label: "Shed", Purpose: state.PurposeFire, State: state.TimerRunning, Start: 1_000_000, Duration: 3_600_000, Every: 600_000}
	html := pwatest.HTML(t, &timerCard{Timer: timer, Href: timersPath, Now: 1_600_000 - 1})
	pwatest.Wants(t, html, "50:01", `data-act="timer-pause-t"`, `data-act="timer-stop-t"`, `data-act="timer-more-t"`, "0 rounds")
	html = pwatest.HTML(t, &timerCard{Timer: timer, Href: timersPath, Now: 0})
	pwatest.Wants(t, html, `data-act="timer-again-t"`, "before its start")
	timer.For, timer.Purpose = "leak/x", ""
	html = pwatest.HTML(t, &timerCard{Timer: timer, Href: "/leak?test=x", Now: 1_600_500})
	pwatest.Wants(t, html, `href="/leak?test=x"`)
	pwatest.Lacks(t, html, `data-act="timer-stop-t"`)
}

// The bar asks for the round, for the end and for the torch, each with its own answer.
func TestTimerBar_asks(t *testing.T) {
	for name, c := range map[string]struct {
		purpose string
		now     int64
		want    string
	}{
		"round": {state.PurposeFire, 600_001, `data-act="timer-round-t"`}, "end": {state.PurposeFire, 3_600_001, `data-act="timer-heard-t"`},
		"torch": {state.PurposeLit, 3_600_001, `data-act="torch-still-t"`},
	} {
		timer := state.Timer{ID: "t", Label: "Shed", Purpose: c.purpose, State: state.TimerRunning, Duration: 3_600_000, Every: 600_000}
		html := pwatest.HTML(t, &TimerBar{Timers: state.Timers{Running: []state.Timer{timer}}, Now: c.now})
		t.Run(name, func(t *testing.T) { pwatest.Wants(t, html, c.want, `href="/bench/timers"`) })
	}
}

// inOrder fails the test unless the texts stand in this order.
func inOrder(t *testing.T, html string, texts ...string) {
	t.Helper()
	at := 0
	for _, text := range texts {
		i := strings.Index(html[at:], text)
		if i < 0 {
			t.Fatalf("%q is missing, or stands before the one before it", text)
		}
		at += i
	}
}
