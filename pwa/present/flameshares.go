package present

import (
	"torchside/calc/setup"
	"torchside/calc/words"
)

// stripWidth and stripHeight are the size of the bar; its labels are as tall as those of the rule.
const (
	stripWidth, stripHeight = 400, 48
	stripLabel              = 44.0 // a part narrower than this has no label in the bar
)

// sharePart is one part of the bar.
type sharePart struct {
	class, name string
	share       float64
}

// parts are what is in the flame, what shields the puddle first and what burns it last.
func parts(s setup.Shares) []sharePart {
	return []sharePart{{"soot", "soot", s.Soot}, {"co", "CO", s.CO}, {"h2", "H₂", s.H2}, {"h", "H", s.H}, {"h2o", "H₂O", s.H2O}, {"co2", "CO₂", s.CO2},
		{"other", "other", s.Other}, {"oh", "OH", s.OH}, {"o", "O", s.O}, {"o2", "O₂", s.O2}}
}

// drawShares draws the parts side by side; every part is also in the words.
func drawShares(s setup.Shares) Drawing {
	d := &svg{}
	x := 0.0
	for _, p := range parts(s) {
		w := p.share * stripWidth
		if w < 0.2 {
			continue // thinner than its own edge
		}
		d.rect("share share-"+p.class, x, 0, w, stripHeight)
		if w >= stripLabel {
			d.text("share-label", x+w/2, stripHeight/2, p.name)
		}
		x += w
	}
	return d.wrap("shares", "What is in the flame", sharesText(s), stripWidth, stripHeight)
}

func (s *svg) rect(class string, x, y, w, h float64) {
	s.b.WriteString(`<rect class="` + class + `" x="` + num(x) + `" y="` + num(y) + `" width="` + num(w) + `" height="` + num(h) + `"/>`)
}

// sharesText lists the parts of half a percent and more.
func sharesText(s setup.Shares) string {
	var list []string
	for _, p := range parts(s) {
		if p.share >= 0.005 {
			list = append(list, words.S("%s %s", p.name, inPercent(p.share)))
		}
	}
	return words.Join(list, ", ")
}

// inPercent writes a share in whole percent; what is there but rounds to nothing is "under 1 %".
func inPercent(share float64) string {
	if share > 0 && share < 0.005 {
		return "under 1 %"
	}
	return decimal(100*share, 0) + " %"
}
