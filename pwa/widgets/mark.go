package widgets

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// Mark names the shape that stands beside a word of state, so that colour is never the only signal.
type Mark string

// The marks, each with its own outline.
const (
	MarkCaution Mark = "caution" // triangle
	MarkCheck   Mark = "check"   // diamond
	MarkNote    Mark = "note"    // circle
	MarkStop    Mark = "stop"    // octagon
	MarkDone    Mark = "done"    // tick
)

// markPaths are drawn on a 24 × 24 grid: the outline, then the sign in it.
var markPaths = map[Mark]string{
	MarkCaution: `<path d="M12 2.5 22.5 21h-21z"/><path d="M12 9v5.5M12 17.4v.6"/>`,
	MarkCheck:   `<path d="M12 1.5 22.5 12 12 22.5 1.5 12z"/><path d="M8 12.2l2.8 2.8L16 9.5"/>`,
	MarkNote:    `<circle cx="12" cy="12" r="10"/><path d="M12 6v.6M12 10.5V18"/>`,
	MarkStop:    `<path d="M8 2h8l6 6v8l-6 6H8l-6-6V8z"/><path d="M7 12h10"/>`,
	MarkDone:    `<path d="M3 12.5 9.5 19 21 5"/>`,
}

// MarkShape draws a mark; the word beside it carries the meaning, so screen readers skip it.
func MarkShape(m Mark) app.UI {
	paths, ok := markPaths[m]
	if !ok {
		paths = markPaths[MarkNote]
	}
	return app.Span().Class("mark", "mark-"+string(m)).Aria("hidden", "true").Body(
		app.Raw(`<svg viewBox="0 0 24 24" class="mark-svg" focusable="false">` + paths + `</svg>`))
}
