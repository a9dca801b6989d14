package present

import (
	"strconv"

	"torchside/calc/journal"
	"torchside/calc/words"
)

// Size of a drawn photo; calc/journal gives all lengths as shares of the width.
const (
	beadW = 1000
	beadH = 700
)

// BeadDrawing draws a bead on plate from its parameters, as a photo of it would look.
func BeadDrawing(d journal.Drawing, title string) Drawing {
	s := &svg{}
	s.b.WriteString(`<rect class="bead-plate" width="` + strconv.Itoa(beadW) + `" height="` + strconv.Itoa(beadH) + `"/>`)
	upper, lower := d.Outline(60)
	s.path("bead-heat", heated(upper, lower))
	s.path("bead-body", outline(upper, lower, 0))
	if n := int(d.Under * float64(len(lower))); n > 1 {
		s.path("bead-under", line(lower[len(lower)-n:]))
	}
	s.path("bead-ripples", ripples(d, upper, lower))
	for _, p := range d.Spots() {
		s.circle("bead-pore", p.X*beadW, p.Y*beadW, 6)
	}
	return s.wrap("bead-svg", title, beadWords(d), beadW, beadH)
}

// beadWords say what the drawing shows.
func beadWords(d journal.Drawing) string {
	text := "Drawn, not taken: a bead on plate"
	if d.Back {
		text = "Drawn, not taken: the back of a bead"
	}
	if d.Uneven > 0.2 {
		text += words.T(", uneven in width")
	}
	if d.Under > 0.2 {
		text += words.T(", with undercut")
	}
	if n := d.Pores; n > 0 {
		text += words.S(", pores: %s", strconv.Itoa(n))
	}
	return text + "."
}

func line(points []journal.Point) string {
	text := ""
	for i, p := range points {
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		text += letter + at(p.X*beadW, p.Y*beadW)
	}
	return text
}

// outline goes along the upper edge and back along the lower one, wider by so many units.
func outline(upper, lower []journal.Point, wider float64) string {
	text := ""
	for i, p := range upper {
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		text += letter + at(p.X*beadW, p.Y*beadW-wider)
	}
	for i := len(lower) - 1; i >= 0; i-- {
		text += "L" + at(lower[i].X*beadW, lower[i].Y*beadW+wider)
	}
	return text + "Z"
}

// heated is the band beside the bead that the flame has coloured.
func heated(upper, lower []journal.Point) string { return outline(upper, lower, 60) }

// ripples are the arcs the puddle left, rounder for a hotter puddle.
func ripples(d journal.Drawing, upper, lower []journal.Point) string {
	text := ""
	last := len(upper) - 1
	for i := 1; i < d.Ripples && last > 0; i++ {
		k := i * last / d.Ripples
		top, bottom := upper[k], lower[k]
		bow := (bottom.Y - top.Y) * 0.6 * d.Round
		x := upper[0].X + (upper[last].X-upper[0].X-bow)*float64(i)/float64(d.Ripples) // the last one ends with the bead
		text += "M" + at(x*beadW, top.Y*beadW) + "Q" + at((x+2*bow)*beadW, (top.Y+bottom.Y)/2*beadW) + " " + at(x*beadW, bottom.Y*beadW)
	}
	return text
}
