package effects

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/state"
)

// Alarms is the part of a browser that can make itself noticed. A Browser that has it is told of timers.
type Alarms interface {
	// SetAlarms replaces all instants to ring at; while there are any, the screen is kept on if the device allows it.
	SetAlarms(list []state.Alarm)
	// Ring rings now, as well as the device can; a short one asks for a round of the room and does not go on.
	Ring(text string, short bool)
	// Say speaks a text.
	Say(text string)
	// Beat beats the pace of travel until another one is set; without seconds it stops.
	Beat(p state.SetPace)
}

var _ Alarms = (*WebBrowser)(nil)

// Reader is the part of a browser that can read a text aloud.
type Reader interface {
	// ReadAloud speaks a text in place of whatever is being spoken; an empty one only ends that.
	ReadAloud(text string)
}

var _ Reader = (*WebBrowser)(nil)

// alarm runs the effects of timers; a browser without alarms stays silent.
func (r *Runner) alarm(e state.Effect) {
	if read, ok := e.(state.ReadAloud); ok {
		if b, ok := r.ports.Browser.(Reader); ok {
			b.ReadAloud(read.Text)
		}
		return
	}
	a, ok := r.ports.Browser.(Alarms)
	if !ok {
		return
	}
	switch e := e.(type) {
	case state.SetAlarms:
		a.SetAlarms(e.Alarms)
	case state.Ring:
		a.Ring(e.Text, e.Short)
	case state.Say:
		a.Say(e.Text)
	case state.SetPace:
		a.Beat(e)
	}
}

// SetAlarms hands the list to the page's script, which rings by the audio clock.
func (b *WebBrowser) SetAlarms(list []state.Alarm) {
	alarms := make([]any, 0, len(list))
	for _, a := range list {
		alarms = append(alarms, map[string]any{"id": a.ID, "in": float64(a.In), "text": a.Text, "short": a.Short})
	}
	app.Window().Call("torchsideAlarms", alarms)
}

// Ring has the page's script ring.
func (b *WebBrowser) Ring(text string, short bool) { app.Window().Call("torchsideRing", text, short) }

// Say has the page's script speak.
func (b *WebBrowser) Say(text string) { app.Window().Call("torchsideSay", text) }

// Beat has the page's script beat by the audio clock.
func (b *WebBrowser) Beat(p state.SetPace) {
	app.Window().Call("torchsidePace", map[string]any{"seconds": p.Seconds, "accent": p.Accent, "step": p.Step, "unit": p.Unit, "places": p.Places,
		"sound": p.Sound, "shake": p.Shake, "flash": p.Flash})
}

// ReadAloud has the page's script read.
func (b *WebBrowser) ReadAloud(text string) { app.Window().Call("torchsideReadAloud", text) }
