package present

import (
	"html"
	"math"
	"strconv"
	"strings"

	"torchside/calc/words"
)

// Drawing is an SVG image with the same in words.
type Drawing struct {
	SVG  string // one svg element; empty when there is nothing to draw
	Over string // a second one that lies over it and stays when the first changes; mostly empty
	Text string // what the drawing shows
}

// svg gathers the elements of one drawing.
type svg struct{ b strings.Builder }

// wrap closes the drawing. The text stands in it as a description, so that it is found by whoever cannot see it.
func (s *svg) wrap(class, title, text string, width, height int) Drawing {
	head := `<svg class="` + class + `" viewBox="0 0 ` + strconv.Itoa(width) + " " + strconv.Itoa(height) + `" role="img" focusable="false">` +
		`<title>` + html.EscapeString(words.T(title)) + `</title><desc>` + html.EscapeString(words.T(text)) + `</desc><g aria-hidden="true">` // its letters and numbers stand in the description
	return Drawing{SVG: head + s.b.String() + `</g></svg>`, Text: text}
}

// over closes a drawing that lies over another, and is none for who cannot see.
func (s *svg) over(class string, width, height int) string {
	return `<svg class="` + class + `" viewBox="0 0 ` + strconv.Itoa(width) + " " + strconv.Itoa(height) + `" aria-hidden="true" focusable="false">` + s.b.String() + `</svg>`
}

func (s *svg) path(class, d string) {
	s.b.WriteString(`<path class="` + class + `" d="` + d + `"/>`)
}

func (s *svg) circle(class string, x, y, r float64) {
	s.b.WriteString(`<circle class="` + class + `" cx="` + num(x) + `" cy="` + num(y) + `" r="` + num(r) + `"/>`)
}

func (s *svg) text(class string, x, y float64, said string) {
	s.b.WriteString(`<text class="` + class + `" x="` + num(x) + `" y="` + num(y) + `">` + html.EscapeString(words.T(said)) + `</text>`)
}

// num writes a coordinate: two decimals are finer than any screen shows.
func num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// at writes one point of a path.
func at(x, y float64) string { return num(x) + " " + num(y) }
