package present

import (
	"math"
	"strconv"
	"strings"

	"torchside/calc/flame"
	"torchside/calc/units"
)

// Flame is what the flame looks like and whether it stays on the tip.
type Flame struct {
	Class    string // "neutral"
	Look     string // what to look for
	Ratio    Number
	Exit     Number // how hard the gas comes out
	HoldOn   Number // the pop-back estimate
	Power    Number
	Drawing  Drawing
	Warnings []Warning // about the flame as a whole
}

// looks say how a flame of each class looks (common practice, no source).
var looks = map[flame.Class]string{
	flame.Carburizing: "A feather stands beyond the inner cone: fuel is left over, and carbon goes into the puddle.",
	flame.Neutral:     "The feather has just gone into the inner cone: CO and H2 shield the puddle.",
	flame.Oxidizing:   "The inner cone is short and pointed, and it hisses: free oxygen burns the puddle.",
}

func (b *builder) flame() Flame {
	c := b.card
	v := Flame{Class: string(c.FlameClass), Look: looks[c.FlameClass], Warnings: b.warn.take(keyClass)}
	v.Ratio = b.ratio()
	v.Exit = b.exit()
	v.HoldOn = b.holdOn()
	v.Power = b.value(keyPower, "Heat of the fuel", c.PowerW)
	v.Power.Note = "Envelope included; most of it passes the work by."
	v.Drawing = drawFlame(b.flameInput())
	return v
}

func (b *builder) ratio() Number {
	n := b.value(keyRatio, "Oxygen to "+gasName(b.card.FuelName), b.card.Ratio)
	n.Value = decimal(b.card.Ratio, 2) + " to 1"
	n.Note = "By volume: a " + string(b.card.FlameClass) + " flame."
	return n
}

func (b *builder) exit() Number {
	if b.card.ExitVelocityMS == nil {
		n := b.words(keyVelocity, "Out of the tip", "not known")
		n.Note = "Enter the hole of the tip to see it."
		return n
	}
	n := b.value(keyVelocity, "Out of the tip", *b.card.ExitVelocityMS)
	if b.card.ExitClass != "" {
		n.Note = capital(plain(b.card.ExitClass)) + " flame."
	}
	return n
}

// holdOn says the pop-back estimate as the order of magnitude it is: one digit.
func (b *builder) holdOn() Number {
	if b.card.HoldOnMargin == nil {
		n := b.words(keyHoldOn, "Pop-back estimate", "not known")
		n.Note = "Enter the hole of the tip to see it."
		return n
	}
	n := b.words(keyHoldOn, "Pop-back estimate", "about "+oneDigit(*b.card.HoldOnMargin)+" ×")
	if p, ok := b.card.Provenance[keyHoldOn]; ok && p.Low < p.High {
		n.Band = oneDigit(p.Low) + " to " + oneDigit(p.High) + " ×"
	}
	n.Note = "the flow at which the flame could walk back into the tip. An order of magnitude only: the maker's smallest flow comes first."
	return n
}

// oneDigit rounds down to one significant digit: an estimate of safety is not rounded up.
func oneDigit(v float64) string {
	if !(v > 0) || math.IsInf(v, 0) {
		return "0"
	}
	power := math.Pow(10, math.Floor(math.Log10(v)))
	// The slack keeps 0.3 from becoming 0.2 by the last bit of the division.
	return strconv.FormatFloat(math.Floor(v/power+1e-9)*power, 'f', max(0, -int(math.Floor(math.Log10(v)))), 64)
}

// decimal writes a number with at most so many decimals.
func decimal(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// flameInput gathers what the drawing needs; without a hole or a burning velocity there is no cone to draw.
func (b *builder) flameInput() flameInput {
	c := b.card
	in := flameInput{class: c.FlameClass, us: b.opt.Units.Unit(units.QuantityThickness).Symbol() == "in", count: c.TipDetail.OrificeCount}
	in.scale = b.short(units.QuantityThickness)
	if c.TipDetail.OrificeDiameterM == nil || c.ExitVelocityMS == nil {
		return in
	}
	in.hole = *c.TipDetail.OrificeDiameterM
	speed, err := flame.BurningVelocity(b.fuel, c.Ratio)
	if err != nil {
		return in
	}
	in.cone = coneLength(in.hole, *c.ExitVelocityMS, speed.Value)
	in.shortest = coneLength(in.hole, *c.ExitVelocityMS, speed.High)
	in.longest = coneLength(in.hole, *c.ExitVelocityMS, speed.Low)
	return in
}

// coneLength is the length of the inner cone over a hole: the flame stands where the gas comes towards it as fast as it burns,
// so the half-angle α of the cone has sin α = burning velocity / exit velocity. NaN when the gas is too slow for a cone.
func coneLength(hole, exit, burning float64) float64 {
	s := burning / exit
	if !(s > 0 && s < 1) {
		return math.NaN()
	}
	return hole / 2 * math.Sqrt(1-s*s) / s
}
