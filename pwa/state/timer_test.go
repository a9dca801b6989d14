package state

import (
	"math/rand"
	"strings"
	"testing"
)

// timed starts a test of ten minutes and returns its timer.
func (w *world) timed() Timer {
	w.t.Helper()
	w.plan("oxygen_delivery", "oxygen", "division", "0.02", "gauge", "1.7", "duration", "10")
	w.start()
	return w.app.Timers.Running[0]
}

// seen forgets the effects so far.
func (w *world) seen() { w.effects = nil }

// rings are the rings since seen.
func (w *world) rings() []Ring {
	var list []Ring
	for _, e := range w.effects {
		if r, ok := e.(Ring); ok {
			list = append(list, r)
		}
	}
	return list
}

// What is left follows from the instants alone: however often and whenever it is looked at, pauses only move the end.
func TestTimer_what_is_left_is_worked_out_from_instants(t *testing.T) {
	random := rand.New(rand.NewSource(4))
	for range 100 {
		timer := Timer{State: TimerRunning, Start: began, Duration: 600_000}
		now, ran := int64(began), int64(0)
		for range 20 {
			step := int64(random.Intn(60_000))
			now += step
			if timer.State == TimerRunning {
				ran += step
			}
			if want := timer.Duration - ran; timer.Left(now) != want {
				t.Fatalf("left %d, want %d", timer.Left(now), want)
			}
			switch random.Intn(3) {
			case 0:
				if timer.State == TimerRunning {
					timer = timer.paused(now)
				} else {
					timer = timer.resumed(now)
				}
			case 1:
				timer = roundTrip(t, timer)
			}
		}
	}
}

// roundTrip writes a timer to its record and reads it again.
func roundTrip(t *testing.T, timer Timer) Timer {
	t.Helper()
	body, err := timer.Body()
	if err != nil {
		t.Fatal(err)
	}
	r := timer.record
	r.Body = body
	again, err := ReadTimer(r)
	if err != nil {
		t.Fatal(err)
	}
	return again
}

// A timer rings once when its time is up; one that ran out unseen rings at once on return, and says since when.
func TestTimer_rings_once_and_at_once_on_return(t *testing.T) {
	w := leakWorld(t)
	w.timed()
	w.seen()
	w.at(599)
	if n := len(w.rings()); n != 0 {
		t.Fatalf("%d rings before the end", n)
	}
	w.at(600)
	w.at(601)
	if r := w.rings(); len(r) != 1 || !strings.Contains(r[0].Text, "time is up") {
		t.Errorf("rings %+v", r)
	}
	w.restart()
	w.seen()
	w.at(600 + 7*60)
	if r := w.rings(); len(r) != 1 || !strings.Contains(r[0].Text, "ended 7 min ago") {
		t.Errorf("rings after the return %+v", r)
	}
	timer := w.app.Timers.Running[0]
	w.post(TimerAcknowledged{ID: timer.ID})
	w.restart()
	w.seen()
	w.at(600 + 8*60)
	if len(w.rings()) != 0 || len(w.app.Timers.Running) != 0 {
		t.Error("a timer that was heard rings again")
	}
}

// The device is told of the ends ahead, again after every change and every return, and of nothing when nothing runs.
func TestTimer_tells_the_device_when_to_ring(t *testing.T) {
	alarms := func(w *world) (list []Alarm, told bool) {
		for _, e := range w.effects {
			if s, ok := e.(SetAlarms); ok {
				list, told = s.Alarms, true
			}
		}
		return list, told
	}
	w := leakWorld(t)
	timer := w.timed()
	w.seen()
	w.at(60)
	if list, _ := alarms(w); len(list) != 1 || list[0].In != 540_000 {
		t.Errorf("%+v", list)
	}
	w.seen()
	w.at(61)
	if _, told := alarms(w); told {
		t.Error("told again though nothing changed")
	}
	w.post(PageHidden{})
	w.post(PageShown{})
	w.at(62)
	if list, told := alarms(w); !told || list[0].In != 538_000 {
		t.Errorf("not told again on return: %+v", list)
	}
	w.post(TimerPauseToggled{ID: timer.ID})
	w.seen()
	w.at(120)
	if list, told := alarms(w); !told || len(list) != 0 {
		t.Errorf("a paused timer is to ring: %+v", list)
	}
	w.post(TimerPauseToggled{ID: timer.ID})
	w.post(TimerLonger{ID: timer.ID, Minutes: 5})
	w.seen()
	w.at(121)
	if list, _ := alarms(w); len(list) != 1 || list[0].In != 837_000 {
		t.Errorf("after a pause of 58 s and 5 min more: %+v", list)
	}
}

// More minutes after the end begin now, also when somebody has heard it already.
func TestTimer_runs_again_when_more_minutes_are_wanted(t *testing.T) {
	w := leakWorld(t)
	timer := w.timed()
	w.at(700)
	w.post(TimerAcknowledged{ID: timer.ID})
	w.post(TimerLonger{ID: timer.ID, Minutes: 12})
	if left := w.app.Timers.Running[0].Left(w.app.Clock.Wall); left != 12*60_000 {
		t.Errorf("left %d ms", left)
	}
	w.seen()
	w.at(700 + 12*60)
	if len(w.rings()) != 1 {
		t.Error("it does not ring the second time")
	}
}

// A jump of the wall clock while the page is awake is allowed for, said, and can be taken back; sleep out of sight is no jump.
func TestClock_jump_is_allowed_for_and_said(t *testing.T) {
	w := leakWorld(t)
	w.timed()
	w.at(60)
	w.post(ClockRead{Wall: began + 3661_000, Steady: 61_000})
	timer := w.app.Timers.Running[0]
	if left := timer.Left(w.app.Clock.Wall); left != 539_000 {
		t.Errorf("left %d ms after a jump of an hour", left)
	}
	if n := w.app.Notices; len(n) != 1 || n[0].Code != NoticeClock || !strings.Contains(n[0].Text, "forward by 1 h") || n[0].Action != ActionTrustClock {
		t.Errorf("%+v", n)
	}
	if len(w.rings()) != 0 {
		t.Error("the jump rang the timer")
	}
	w.post(WallClockTrusted{})
	if left := w.app.Timers.Running[0].Left(w.app.Clock.Wall); left != 539_000-3600_000 || len(w.app.Notices) != 0 {
		t.Errorf("left %d ms when the clock is trusted", left)
	}
}

func TestClock_that_went_on_while_the_page_slept_is_no_jump(t *testing.T) {
	w := leakWorld(t)
	w.timed()
	w.at(60)
	w.post(PageHidden{})
	w.post(ClockRead{Wall: began + 61_000, Steady: 61_000})
	w.post(ClockRead{Wall: began + 900_000, Steady: 62_000}) // the shell reads the time before it tells that the page is back
	w.post(PageShown{})
	w.post(ClockRead{Wall: began + 901_000, Steady: 63_000})
	if len(w.app.Notices) != 0 || w.app.Timers.Running[0].Left(w.app.Clock.Wall) >= 0 {
		t.Errorf("%+v", w.app.Notices)
	}
}

// Marks are spoken only when that is switched on, each once.
func TestTimer_speaks_marks_when_switched_on(t *testing.T) {
	said := func(w *world) (list []string) {
		for _, e := range w.effects {
			if s, ok := e.(Say); ok {
				list = append(list, s.Text)
			}
		}
		return list
	}
	for _, on := range []bool{false, true} {
		w := leakWorld(t)
		if on {
			w.post(SpokenToggled{})
			w.restart()
			w.at(0)
		}
		w.timed()
		w.seen()
		for s := int64(1); s <= 601; s++ {
			w.at(s)
		}
		got := said(w)
		if !on && len(got) != 0 || on && (len(got) != 3 || !strings.Contains(got[0], "5 min left") || !strings.Contains(got[1], "1 min left") || !strings.Contains(got[2], "time is up")) {
			t.Errorf("on %v: %q", on, got)
		}
	}
}
