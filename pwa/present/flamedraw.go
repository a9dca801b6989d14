package present

import (
	"math"
	"strconv"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/words"
)

// flameInput is what the drawing of a flame needs; lengths in m.
type flameInput struct {
	class             flame.Class
	hole              float64
	count             int
	cone              float64 // length of the inner cone; 0 or NaN: no drawing to scale
	shortest, longest float64 // band of the cone's length; 0 when not known
	us                bool    // rule in inches
	span              float64 // length of the rule, the same for every ratio; 0 takes one that suits the cone
	feather           float64 // length of the feather; 0 sketches one where the class has it
}

// The picture: the tip comes in from the left, the flame points right, the rule lies below.
const (
	flameWidth, flameHeight = 400, 190
	flameAxis               = 78.0  // y of the middle of the flame
	flameOrigin             = 60.0  // x of the tip's end
	flameSpan               = 320.0 // from there to the end of the rule
	ruleY                   = 150.0
	// The cone takes about half of the picture; the envelope leaves it.
	conePart = 0.55
	// On a rule that stays while the ratio moves, the longest cone may take a little more.
	spanPart = 0.6
)

// drawFlame draws the inner cone to scale with a rule beside it. Feather and envelope are sketched; nothing is known to
// compute their length from.
func drawFlame(in flameInput) Drawing {
	if !(in.cone > 0) {
		return Drawing{Text: "No drawing: the length of the inner cone needs the hole of the tip and the burning velocity of the gas."}
	}
	r := newRule(in.ruleLength(), in.us)
	px := flameSpan / r.length // picture units in a metre
	half := math.Max(in.hole/2*px, 1.5)
	s := &svg{}
	s.path("flame-envelope", leaf(half*3.2+10, flameSpan*1.5))
	if in.class == flame.Carburizing {
		s.path("flame-feather", leaf(half*1.5+1, in.featherLength()*px))
	}
	s.path("flame-cone", coneShape(half, in.cone*px))
	s.path("flame-tip", tipShape(half))
	r.draw(s, px)
	return s.wrap("flame", "The flame to scale", in.words(), flameWidth, flameHeight)
}

// drawnClass is the class a flame is drawn by: without carbon nothing makes a feather.
func drawnClass(c flame.Class, fuel gas.Gas) flame.Class {
	if fuel == gas.Hydrogen && c == flame.Carburizing {
		return flame.Neutral
	}
	return c
}

// ruleLength is the one given, or what suits the cone.
func (in flameInput) ruleLength() float64 {
	if in.span > 0 {
		return in.span
	}
	return in.cone / conePart
}

// featherLength is the one given, or a sketch.
func (in flameInput) featherLength() float64 {
	if in.feather > 0 {
		return in.feather
	}
	return 1.6 * in.cone
}

// flameSpans are the lengths of the rule, metric in m and in inches: few, so that two tips are mostly drawn to the same scale
// and the longer cone looks longer. On the shortest a cone may be 30 mm, more than that of most welding tips.
var (
	flameSpans     = []float64{0.05, 0.1}
	flameSpansInch = []float64{2 * inch, 4 * inch}
)

// flameSpanFor is the shortest rule on which a cone of this length leaves room for the rest of the flame.
func flameSpanFor(cone float64, us bool) float64 {
	spans := flameSpans
	if us {
		spans = flameSpansInch
	}
	for _, l := range spans {
		if cone <= l*spanPart {
			return l
		}
	}
	return cone / spanPart
}

// coneShape is a straight cone with a slightly rounded end, as the burning gas shows it.
func coneShape(half, length float64) string {
	end, top, bottom := flameOrigin+length, flameAxis-half, flameAxis+half
	r := math.Min(half*0.35, length*0.1)
	return "M" + at(flameOrigin, top) + "L" + at(end-2*r, flameAxis-r*0.6) + "Q" + at(end, flameAxis) + " " + at(end-2*r, flameAxis+r*0.6) + "L" + at(flameOrigin, bottom) + "Z"
}

// leaf is the soft outline of feather and envelope.
func leaf(half, length float64) string {
	x := func(part float64) float64 { return flameOrigin + length*part }
	return "M" + at(x(0), flameAxis-half*0.4) + "C" + at(x(0.15), flameAxis-half*1.2) + " " + at(x(0.6), flameAxis-half) + " " + at(x(1), flameAxis) + "C" + at(x(0.6), flameAxis+half) + " " + at(x(0.15), flameAxis+half*1.2) + " " + at(x(0), flameAxis+half*0.4) + "Z"
}

// tipShape is the end of the tip, with its wall drawn about as thick as the hole.
func tipShape(half float64) string {
	wall := half + math.Max(6, half)
	back := flameOrigin - 58
	return "M" + at(flameOrigin, flameAxis-half) + "V" + num(flameAxis-wall*0.8) + "L" + at(back, flameAxis-wall*1.5-6) + "V" + num(flameAxis-half) + "Z" +
		"M" + at(flameOrigin, flameAxis+half) + "V" + num(flameAxis+wall*0.8) + "L" + at(back, flameAxis+wall*1.5+6) + "V" + num(flameAxis+half) + "Z"
}

// words says what the drawing shows; the length itself stands beside it as a number.
func (in flameInput) words() string {
	if in.span > 0 {
		return in.shortWords()
	}
	text := "The inner cone is drawn to scale beside a rule"
	if in.shortest > 0 && in.longest > in.shortest {
		text += words.T(", at the middle of a wide band, as the burning velocity is not well known")
	}
	if in.count > 1 {
		text += words.S("; it is one of %s alike", strconv.Itoa(in.count))
	}
	if in.class == flame.Carburizing {
		return words.S("%s. Feather and envelope are sketched; the envelope is longer than the picture.", text)
	}
	return words.S("%s. The envelope is sketched, and longer than the picture.", text)
}

// shortWords leave room for the slider below the picture.
func (in flameInput) shortWords() string {
	text := "The inner cone is to scale, at the middle of a wide band"
	if in.count > 1 {
		text += words.S(", one of %s alike", strconv.Itoa(in.count))
	}
	if in.class == flame.Carburizing {
		return words.S("%s; feather and envelope are sketched.", text)
	}
	return words.S("%s; the envelope is sketched.", text)
}
