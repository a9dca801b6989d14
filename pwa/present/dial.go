package present

import (
	"math"

	"torchside/calc/words"
)

// dialInput is what a gauge face shows; all numbers are in the unit on the dial.
type dialInput struct {
	name, class string
	value, unit string // the set pressure in words
	max, set    float64
	limit       float64 // start of the red sector; 0 means none
	limitText   string
	assumed     bool // the end of the dial is not the owner's
}

// The face: a circle cut off below, with the scale on two thirds of it; flat, so that the number beneath stays in sight.
const (
	dialWidth  = 240
	dialHeight = 204
	dialCenter = dialWidth / 2.0
	dialRadius = 100.0
	dialStart  = 150.0 // degrees clockwise from east, at zero
	dialSweep  = 240.0
)

// drawDial draws a gauge face with its needle at the set pressure.
func drawDial(d dialInput) Drawing {
	s := &svg{}
	s.path("dial-face", face())
	s.path("dial-ring "+d.class, arc(dialRadius+8, 0, 1))
	if d.limit > 0 && d.limit < d.max {
		s.path("dial-limit", arc(dialRadius-6, d.limit/d.max, 1))
	}
	d.needle(s) // below the digits: none may be covered
	drawing := s.wrap("dial", words.S("%s gauge", words.Capital(d.name)), d.words(), dialWidth, dialHeight)
	drawing.Over = d.scale()
	return drawing
}

// scale is all that stays where it is while the needle moves: the browser need not draw it anew.
func (d dialInput) scale() string {
	s := &svg{}
	d.marks(s)
	if d.limit > 0 && d.limit < d.max {
		d.limitWord(s)
	}
	s.text("dial-unit", dialCenter, dialCenter+34, d.unit)
	return s.over("dial dial-scale", dialWidth, dialHeight)
}

func (d dialInput) marks(s *svg) {
	t := newTicks(d.max, 6)
	path := ""
	for i := 0; i <= t.count(d.max, t.small); i++ {
		path += spoke(dialRadius-8, dialRadius, float64(i)*t.small/d.max)
	}
	s.path("dial-small", path)
	path = ""
	for i := 0; i <= t.count(d.max, t.step); i++ {
		share := float64(i) * t.step / d.max
		path += spoke(dialRadius-16, dialRadius, share)
		x, y := polar(dialRadius-37, share)
		s.text("dial-label", x, y, t.label(float64(i)*t.step))
	}
	s.path("dial-tick", path)
}

// limitWord writes LIMIT beside the start of the red sector: colour alone says nothing.
func (d dialInput) limitWord(s *svg) {
	s.path("dial-stop", spoke(dialRadius-24, dialRadius+8, d.limit/d.max))
	s.text("dial-word", dialCenter, dialCenter+66, words.S("LIMIT %s", d.limitText))
}

func (d dialInput) needle(s *svg) {
	share := math.Min(math.Max(d.set/d.max, 0), 1)
	tx, ty := polar(dialRadius-20, share)
	ax, ay := polar(9, share+90/dialSweep)
	bx, by := polar(9, share-90/dialSweep)
	cx, cy := polar(-20, share)
	s.path("dial-needle", "M"+at(tx, ty)+"L"+at(ax, ay)+"L"+at(cx, cy)+"L"+at(bx, by)+"Z")
	s.circle("dial-hub", dialCenter, dialCenter, 6)
}

// words says what the face shows.
func (d dialInput) words() string {
	t := newTicks(d.max, 6)
	end := t.label(math.Round(d.max/t.small)*t.small) + " " + d.unit
	text := words.S("%s gauge from 0 to %s, needle at %s.", words.Capital(d.name), end, d.value)
	if d.set > d.max {
		text = words.S("%s gauge from 0 to %s: %s is beyond its end.", words.Capital(d.name), end, d.value)
	}
	if d.limit > 0 {
		text += words.S(" Limit: %s.", d.limitText)
	}
	if d.assumed {
		text += words.T(" The range of your regulator is not entered; the dial is drawn to a usual one.")
	}
	return text
}

// face is the outline: the circle, closed by a straight line below.
func face() string {
	const drop = 82.0 // of the straight line below the middle
	r := dialRadius + 16
	half := math.Sqrt(r*r - drop*drop)
	return "M" + at(dialCenter-half, dialCenter+drop) + "A" + num(r) + " " + num(r) + " 0 1 1 " + at(dialCenter+half, dialCenter+drop) + "Z"
}

// polar gives the point at a distance from the middle and a share of the scale.
func polar(r, share float64) (x, y float64) {
	a := (dialStart + dialSweep*share) * math.Pi / 180
	return dialCenter + r*math.Cos(a), dialCenter + r*math.Sin(a)
}

// arc is the path along the scale from one share to another.
func arc(r, from, to float64) string {
	x0, y0 := polar(r, from)
	x1, y1 := polar(r, to)
	large := "0"
	if (to-from)*dialSweep > 180 {
		large = "1"
	}
	return "M" + at(x0, y0) + "A" + num(r) + " " + num(r) + " 0 " + large + " 1 " + at(x1, y1)
}

// spoke is a line across the scale.
func spoke(inner, outer, share float64) string {
	x0, y0 := polar(inner, share)
	x1, y1 := polar(outer, share)
	return "M" + at(x0, y0) + "L" + at(x1, y1)
}
