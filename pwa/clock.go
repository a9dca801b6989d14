package pwa

import (
	"sync/atomic"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/state"
)

// tick is how often the time is read while a timer runs: the least step its figures show.
const tick = time.Second

// clock reads both clocks of the device.
type clock struct {
	began  time.Time
	wanted atomic.Bool // a timer runs
}

// read returns the time of day, and the time since the page was opened by the steady clock, which nobody sets.
func (c *clock) read() state.ClockRead {
	now := time.Now()
	return state.ClockRead{Wall: now.UnixMilli(), Steady: now.Sub(c.began).Milliseconds()}
}

// listenTime posts the time every second while a timer runs, and whenever the page comes back; and what the device says of sound
// and screen. The returned function ends it.
func (s *Shell) listenTime(post func(state.Msg), on func(target app.Value, event string, f func())) func() {
	w := app.Window()
	now := func() { post(s.clock.read()) }
	on(w, "pageshow", now)
	on(w, "focus", now)
	on(w, "torchside-timer", func() {
		post(state.AwakeTold{State: text(w.Get("torchsideAwake"))})
		post(state.SoundTold{State: text(w.Get("torchsideSound"))})
	})
	ticker := time.NewTicker(tick)
	ended := make(chan struct{})
	go func() {
		for {
			select {
			case <-ticker.C:
				if s.clock.wanted.Load() {
					now()
				}
			case <-ended:
				return
			}
		}
	}()
	return func() { ticker.Stop(); close(ended) }
}

// text is a word the page's script has left, "" when there is none.
func text(v app.Value) string {
	if !v.Truthy() {
		return ""
	}
	return v.String()
}
