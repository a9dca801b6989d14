package widgets

import "time"

// doubleTap is how long after one tap a second one on the same control is taken for a bounce of the glove.
const doubleTap = 400 * time.Millisecond

// pressGuard lets the first of two quick taps through. The zero value is ready.
type pressGuard struct{ last time.Time }

// allow reports whether a tap at now counts, and remembers it if so.
func (g *pressGuard) allow(now time.Time) bool {
	if !g.last.IsZero() && now.Sub(g.last) < doubleTap {
		return false
	}
	g.last = now
	return true
}
