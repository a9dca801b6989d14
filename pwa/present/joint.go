package present

import (
	"math"
	"strconv"
	"strings"

	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// JointStep is one thing to do at the joint.
type JointStep struct{ Name, Text, Source string }

// joint is what a card for brazing says of the joint: what makes ill stands before filler and flux.
func (b *builder) joint() []Number {
	j := b.card.Joining
	if j == nil || b.card.Filler == nil {
		return nil
	}
	list := []Number{b.filler(*b.card.Filler), b.flux(), b.jointHeat()}
	if j.Gap.High > 0 {
		list = append(list, b.gap(j))
	}
	if j.Strong > 0 {
		list = append(list, b.overlap(j))
	}
	if j.Leg > 0 {
		list = append(list, b.sized(setup.KeyJointLeg, "Leg of the fillet", float64(j.Leg)))
	}
	list = append(list, b.jointFlame(j))
	if j.Used != nil {
		list = append(list, b.jointRod(j), b.jointFlux(j))
	}
	return list
}

func (b *builder) flux() Number {
	n := b.words(keyFlux, "Flux", words.Capital(plain(b.card.Flux)))
	if a := b.card.Joining.Flux.Active; a.High > 0 {
		n.Note = words.S("Works from %s.", b.short(units.QuantityTemperature).rangeText(setup.Range(a)))
	}
	return n
}

// jointHeat is what the joint is brought to.
func (b *builder) jointHeat() Number {
	s := b.short(units.QuantityTemperature)
	n := b.words(setup.KeyJointHeat, "Heat the joint to", "")
	n.Value = strings.TrimSuffix(s.rangeText(setup.Range(b.card.Joining.HeatTo)), " "+s.unit.Symbol())
	n.Unit = s.unit.Symbol()
	return n
}

func (b *builder) gap(j *setup.Joining) Number {
	n := b.words(setup.KeyJointGap, "Gap the filler wants", words.S("%s to %s", b.thin(j.Gap.Low), b.thin(j.Gap.High)))
	n.Unit = b.short(units.QuantityThickness).unit.Symbol()
	n.Note = "On each side, cold, the same all round."
	return n
}

// thin writes a gap, which is far below what a rule shows, in decimals.
func (b *builder) thin(m float64) string {
	u := b.short(units.QuantityThickness).unit
	if u.Symbol() == "in" {
		return words.Number(strconv.FormatFloat(m/units.Inch, 'f', 3, 64))
	}
	return words.Number(strconv.FormatFloat(m*1000, 'f', 2, 64))
}

// coarse writes a distance that is held by eye: in whole millimetres, or as it is printed.
func (b *builder) coarse(low, high float64) string {
	if b.short(units.QuantityThickness).unit.Symbol() != "in" {
		low, high = math.Round(low*1000)/1000, math.Round(high*1000)/1000
	}
	return b.short(units.QuantityThickness).rangeText(setup.Range{Low: low, High: high})
}

// rodSize writes a diameter as rod is sold: by the tenth of a millimetre, or by the 1/32 in.
func (b *builder) rodSize(m float64) string {
	if b.short(units.QuantityThickness).unit.Symbol() != "in" {
		m = math.Round(m*1e4) / 1e4
	}
	return b.size(m)
}

func (b *builder) overlap(j *setup.Joining) Number {
	n := b.sized(setup.KeyJointOverlap, "Lap the parts by", float64(j.Strong))
	n.Note = "Three times the thinner part: then the joint is as strong as the parts."
	if taken := float64(j.Overlap); taken < float64(j.Strong)*0.999 || taken > float64(j.Strong)*1.001 {
		n.Note = words.S("For a joint as strong as the parts. Reckoned with yours: %s.", b.size(taken))
	}
	return n
}

func (b *builder) sized(key, label string, m float64) Number {
	n := b.words(key, label, "")
	n.Value, n.Unit = b.short(units.QuantityThickness).number(m)
	return n
}

func (b *builder) jointFlame(j *setup.Joining) Number {
	n := b.words(setup.KeyJointFlame, "Flame", words.Capital(j.Flame.Word))
	n.Note = b.opt.Units.Say(j.Flame.Why)
	if c := j.Flame.Cone; c != nil {
		n.Note += words.S(" Hold the cone %s off.", b.coarse(c.Low, c.High))
	}
	return n
}

func (b *builder) jointRod(j *setup.Joining) Number {
	u := j.Used
	n := b.words(setup.KeyJointRod, "Rod for it", "")
	s := b.short(units.QuantityThickness)
	n.Value, n.Unit = s.number(u.Rod.Value)
	n.Band = s.band(u.Rod.Low, u.Rod.High)
	n.Note = words.S("Of rod %s thick; %s to %s.", b.rodSize(float64(u.RodDiameter)), b.grams(u.Mass.Low), b.grams(u.Mass.High))
	return n
}

func (b *builder) jointFlux(j *setup.Joining) Number {
	u := j.Used.Flux
	n := b.words(setup.KeyJointFlux, "Flux for it", "none")
	if u.High > 0 {
		n.Value = b.grams(u.Value)
		n.Band = words.S("%s to %s", b.grams(u.Low), b.grams(u.High))
	}
	return n
}

// ounce is 28.349523125 g, exact (NIST SP 811, appendix B).
const ounce = 0.028349523125

// grams writes a small mass in grams or ounces.
func (b *builder) grams(kg float64) string {
	if b.short(units.QuantityMass).unit.Symbol() == "lb" {
		return words.S("%s oz", significant(kg/ounce))
	}
	return significant(kg*1000) + " g"
}

// significant writes two digits of a number, and all whole ones.
func significant(v float64) string {
	switch {
	case v >= 10:
		return words.Number(strconv.FormatFloat(v, 'f', 0, 64))
	case v >= 1:
		return words.Number(strconv.FormatFloat(v, 'f', 1, 64))
	}
	return words.Number(strconv.FormatFloat(v, 'g', 1, 64))
}

// stepNames head the steps.
var stepNames = map[string]string{"clean": "Clean", "fit": "Fit", "flux": "Flux", "heat": "Heat", "feed": "Feed", "after": "After"}

// steps is the order of work in the owner's units.
func (b *builder) steps() []JointStep {
	if b.card.Joining == nil {
		return nil
	}
	var list []JointStep
	for _, s := range b.card.Joining.Steps {
		source := s.Source
		if s.FromMemory && !words.Says(source, "from memory") {
			source += words.T(" (from memory)")
		}
		list = append(list, JointStep{stepNames[s.Name], b.opt.Units.Say(s.Text), b.opt.Units.Say(source)})
	}
	return list
}
