package present

import (
	"strconv"
	"strings"

	"torchside/calc/words"
)

// PhotoMark is one point picked on a photo, in its pixels.
type PhotoMark struct {
	X, Y float64
	Set  bool
}

// PhotoPointNames are the points of a measuring in their order.
var PhotoPointNames = [4]string{"Known 1", "Known 2", "Bead 1", "Bead 2"}

// NewPhotoMarks draws the points of a measuring over a photo of w by h pixels: the known length as a solid line between rings,
// the bead as a broken line between squares. at is the point in hand.
func NewPhotoMarks(w, h int, marks [4]PhotoMark, at int) Drawing {
	s := &svg{}
	size := float64(max(w, h)) / 60
	for i := 0; i < len(marks); i += 2 {
		if a, b := marks[i], marks[i+1]; a.Set && b.Set {
			d := "M" + at2(a) + "L" + at2(b)
			s.path("mark-under", d)
			s.path([]string{"mark-known", "", "mark-bead mark-dash"}[i], d)
		}
	}
	var said []string
	for i, m := range marks {
		if !m.Set {
			said = append(said, words.S("%s is not set", PhotoPointNames[i]))
			continue
		}
		said = append(said, words.S("%s at %s, %s", PhotoPointNames[i], num(m.X), num(m.Y)))
		shape := ring(m, size)
		if i >= 2 {
			shape = square(m, size)
		}
		s.path("mark-under", shape)
		s.path([]string{"mark-known", "mark-bead"}[i/2], shape)
		if i == at {
			s.path("mark-hand", ring(m, 1.8*size))
		}
	}
	return s.wrap("photo-marks", "Points on the photo", words.Join(said, "; ")+".", max(w, 1), max(h, 1))
}

// PhotoMarkPlaces lists the set points for the page's script, which finds the one under a finger: "0 120 85;2 40 60".
func PhotoMarkPlaces(marks [4]PhotoMark) string {
	var list []string
	for i, m := range marks {
		if m.Set {
			list = append(list, strconv.Itoa(i)+" "+num(m.X)+" "+num(m.Y))
		}
	}
	return strings.Join(list, ";")
}

func at2(m PhotoMark) string { return at(m.X, m.Y) }

// ring is a circle that leaves its middle free to be seen.
func ring(m PhotoMark, r float64) string {
	arc := "a" + num(r) + " " + num(r) + " 0 1 0 "
	return "M" + at(m.X-r, m.Y) + arc + num(2*r) + " 0" + arc + num(-2*r) + " 0Z"
}

func square(m PhotoMark, r float64) string {
	return "M" + at(m.X-r, m.Y-r) + "h" + num(2*r) + "v" + num(2*r) + "h" + num(-2*r) + "Z"
}
