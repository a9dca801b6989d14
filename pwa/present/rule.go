package present

import (
	"math"
	"strconv"

	"torchside/calc/words"
)

const inch = 0.0254 // m, exact: NIST SP 811 (2008), appendix B.8

// rule is a piece of a measuring rule, from zero.
type rule struct {
	length float64  // m
	small  float64  // m between the fine marks
	every  int      // fine marks between two labels
	labels []string // at every label after zero
	unit   string
}

// Inch rules: whole lengths a person would cut a rule to.
var inchRules = []struct {
	inches float64
	parts  int // fine marks in an inch
	every  int
	labels []string
}{
	{0.25, 32, 2, []string{"1/16", "1/8", "3/16", "1/4"}},
	{0.5, 16, 2, []string{"1/8", "1/4", "3/8", "1/2"}},
	{1, 16, 4, []string{"1/4", "1/2", "3/4", "1"}},
	{2, 8, 4, []string{"1/2", "1", "1 1/2", "2"}},
	{4, 4, 4, []string{"1", "2", "3", "4"}},
}

// newRule returns the shortest rule that is at least as long as needed.
func newRule(need float64, us bool) rule {
	if us {
		for _, r := range inchRules {
			if r.inches*inch >= need || r.inches == 4 {
				return rule{r.inches * inch, inch / float64(r.parts), r.every, r.labels, "in"}
			}
		}
	}
	return metricRule(need)
}

// metricRule is as long as needed, rounded up to a labelled mark.
func metricRule(need float64) rule {
	t := newTicks(need*1000, 5)
	n := int(math.Ceil(need*1000/t.step - 1e-9))
	r := rule{length: float64(n) * t.step / 1000, small: t.step / 5000, every: 5, unit: "mm"}
	for i := 1; i <= n; i++ {
		r.labels = append(r.labels, words.Number(strconv.FormatFloat(float64(i)*t.step, 'f', t.decimals, 64)))
	}
	return r
}

// draw puts the rule below the flame with its zero at the tip.
func (r rule) draw(s *svg, px float64) {
	s.path("rule-edge", "M"+at(flameOrigin, ruleY)+"H"+num(flameOrigin+r.length*px))
	path := ""
	for i := 0; i <= len(r.labels)*r.every; i++ {
		size := 8.0
		if i%r.every == 0 {
			size = 16
		}
		path += "M" + at(flameOrigin+float64(i)*r.small*px, ruleY) + "v-" + num(size)
	}
	s.path("rule-tick", path)
	s.text("rule-label", flameOrigin, ruleY+26, "0")
	s.text("rule-label", flameOrigin-32, ruleY+26, r.unit)
	for i, l := range r.labels {
		s.text("rule-label", flameOrigin+float64((i+1)*r.every)*r.small*px, ruleY+26, l)
	}
}
