package present

import (
	"math"
	"strconv"
	"strings"

	"torchside/calc/flame"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Flame is what the flame looks like and whether it stays on the tip.
type Flame struct {
	Class    string // "neutral"
	Look     string // what to look for
	Ratio    Number
	Exit     Number // how hard the gas comes out
	HoldOn   Number // the pop-back estimate
	Power    Number // of all the fuel
	Primary  Number // what the torch oxygen can release of it; not the inner cone of handbooks
	Envelope Number // what the air adds
	Net      Number // what reaches the work, from memory
	Hot      Number // temperature by equilibrium
	Printed  string // what handbooks print; empty without a figure
	Cone     Number // length of the inner cone
	Drawing  Drawing
	Warnings []Warning // about the flame as a whole
}

func (b *builder) flame() Flame {
	c := b.card
	who := burner{b.fuel, c.Work}
	v := Flame{Class: ClassName(c.FlameClass, b.fuel), Look: words.S("%s %s", who.look(c.FlameClass), who.effect(c.FlameClass)), Warnings: b.warn.take(keyClass)}
	v.Ratio = b.ratio()
	v.Exit = b.exit()
	v.HoldOn = b.holdOn()
	v.Power = b.value(keyPower, "Heat of the fuel", c.PowerW)
	v.Power.Note = "Envelope included; most of it passes the work by."
	v.Primary = b.value(keyPrimary, "Released by the torch oxygen", c.PrimaryPowerW)
	v.Primary.Note = b.opt.Units.Say(c.PrintedHeatSplit)
	v.Envelope = b.value(keyEnvelope, "Added by the air", c.EnvelopePowerW)
	v.Envelope.Note = "In the envelope."
	v.Net, v.Hot, v.Printed = b.net(), b.hot(), b.opt.Units.Say(c.PrintedTemperature)
	v.Drawing = drawFlame(b.flameInput())
	v.Cone = b.cone()
	return v
}

// Numbers are the numbers of the flame in the order they are shown.
func (f Flame) Numbers() []Number {
	return []Number{f.Ratio, f.Hot, f.Cone, f.Exit, f.HoldOn, f.Power, f.Primary, f.Envelope, f.Net}
}

// hot is the temperature of equilibrium.
func (b *builder) hot() Number {
	if b.card.FlameTemperatureK == nil {
		return b.words(keyHot, "Flame at most", "not known")
	}
	n := b.words(keyHot, "Flame at most", temperatureText(*b.card.FlameTemperatureK, b.opt))
	n.Note = boundText(b.card.FlameClass)
	return n
}

// net is the band of heat that reaches the work; it has no middle worth a number.
func (b *builder) net() Number {
	s := b.scaler.of(keyNet)
	n := b.words(keyNet, "Into the work", s.band(b.card.NetHeatW.Low, b.card.NetHeatW.High))
	if p, ok := b.card.Provenance[keyNet]; ok {
		n.Note = finished(b.opt.Units.Say(p.Reason))
	}
	return n
}

// cone is the length of the inner cone, the number the drawing is made from.
func (b *builder) cone() Number {
	if b.card.ConeLengthM == nil {
		n := b.words(keyCone, "Inner cone", "not known")
		n.Note = "Enter the hole of the tip to see it."
		return n
	}
	n := b.words(keyCone, "Inner cone", coneText(*b.card.ConeLengthM, b.opt))
	if p, ok := b.card.Provenance[keyCone]; ok && p.Low < p.High {
		n.Band = words.S("%s to %s", coneText(p.Low, b.opt), coneText(p.High, b.opt))
	}
	return n
}

// coneText writes the length of a cone: inches with decimals, because nobody holds a rule to a flame.
func coneText(m float64, o Options) string {
	if o.Units.Unit(units.QuantityThickness).Symbol() == "in" {
		return decimal(m/inch, 2) + " in"
	}
	return decimal(m*1000, 1) + " mm"
}

func (b *builder) ratio() Number {
	n := b.value(keyRatio, words.S("Oxygen to %s", gasName(b.card.FuelName)), b.card.Ratio)
	n.Value = words.S("%s to 1", decimal(b.card.Ratio, 2))
	if p, ok := b.card.Provenance[keyRatio]; ok && n.Band != "" {
		n.Band = words.S("%s to %s", decimal(p.Low, 2), decimal(p.High, 2)) // as fine as the ratio itself
	}
	n.Note = words.S("In molecules: %s flame.%s", article(ClassName(b.card.FlameClass, b.fuel)), b.byVolume(n.Value))
	return n
}

// byVolume is the ratio of the two flows as they stand on the card, where it reads otherwise: they are volumes of real gases, rounded.
func (b *builder) byVolume(molar string) string {
	burns := b.card.Oxygen.FlowStdM3S
	if c := b.card.Cutting; c != nil {
		burns = c.PreheatOxygenStdM3S // the rest is the cutting oxygen
	}
	oxygen, fuel := b.shown("oxygen.flow_std_m3_s", burns), b.shown("fuel.flow_std_m3_s", b.card.Fuel.FlowStdM3S)
	if !(oxygen > 0) || !(fuel > 0) {
		return ""
	}
	if text := words.S("%s to 1", decimal(oxygen/fuel, 2)); text != molar {
		return words.S(" By volume, as the flows stand here: %s.", text)
	}
	return ""
}

// shown is a number as it is read off the card, rounding and all; 0 for what is no number.
func (b *builder) shown(key string, si float64) float64 {
	text, _ := b.scaler.of(key).number(si)
	v, err := strconv.ParseFloat(strings.NewReplacer("\u00a0", "", ",", ".").Replace(text), 64)
	if err != nil {
		return 0
	}
	return v
}

// article puts "a" or "an" before a word.
func article(word string) string {
	if word != "" && strings.ContainsRune("aeiou", rune(word[0])) {
		return words.S("an %s", word)
	}
	return words.S("a %s", word)
}

func (b *builder) exit() Number {
	if b.card.ExitVelocityMS == nil {
		n := b.words(keyVelocity, "Out of the tip", "not known")
		n.Note = "Enter the hole of the tip to see it."
		return n
	}
	n := b.value(keyVelocity, "Out of the tip", *b.card.ExitVelocityMS)
	if b.card.ExitClass != "" {
		n.Note = exitWords[flame.ExitClass(b.card.ExitClass)]
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
	n := b.words(keyHoldOn, "Pop-back estimate", words.S("about %s ×", oneDigit(*b.card.HoldOnMargin)))
	if p, ok := b.card.Provenance[keyHoldOn]; ok && p.Low < p.High {
		n.Band = words.S("%s to %s ×", oneDigit(p.Low), oneDigit(p.High))
	}
	n.Note = "Times the flow at which the flame could walk back into the tip. An order of magnitude only: the maker's smallest flow comes first."
	return n
}

// oneDigit rounds down to one significant digit: an estimate of safety is not rounded up.
func oneDigit(v float64) string {
	if !(v > 0) || math.IsInf(v, 0) {
		return "0"
	}
	power := math.Pow(10, math.Floor(math.Log10(v)))
	// The slack keeps 0.3 from becoming 0.2 by the last bit of the division.
	return words.Number(strconv.FormatFloat(math.Floor(v/power+1e-9)*power, 'f', max(0, -int(math.Floor(math.Log10(v)))), 64))
}

// decimal writes a number with at most so many decimals.
func decimal(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return words.Number(s)
}

// flameInput gathers what the drawing needs; without a hole or a burning velocity there is no cone to draw.
func (b *builder) flameInput() flameInput {
	c := b.card
	in := flameInput{class: drawnClass(c.FlameClass, b.fuel), us: b.opt.Units.Unit(units.QuantityThickness).Symbol() == "in", count: c.TipDetail.OrificeCount}
	if c.TipDetail.OrificeDiameterM == nil || c.ConeLengthM == nil {
		return in
	}
	in.hole, in.cone = *c.TipDetail.OrificeDiameterM, *c.ConeLengthM
	if p, ok := c.Provenance[keyCone]; ok {
		in.shortest, in.longest = p.Low, p.High
	}
	return in
}
