package pwa

import (
	"reflect"
	"time"

	"torchside/pwa/state"
)

// doubleTap is how long after one tap the same one again is taken for a bounce of the glove.
const doubleTap = 400 * time.Millisecond

// tapGuard lets the first of two equal messages through. The zero value is ready.
type tapGuard struct {
	last state.Msg
	at   time.Time
}

// allow reports whether a message counts. Typed texts, steps and answers always do.
func (g *tapGuard) allow(m state.Msg, now time.Time) bool {
	if !state.Tapped(m) {
		return true
	}
	if g.last != nil && now.Sub(g.at) < doubleTap && reflect.DeepEqual(g.last, m) {
		return false
	}
	g.last, g.at = m, now
	return true
}
