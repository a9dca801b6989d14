package present

import (
	"math"
	"strconv"
	"strings"

	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// work tells what goes before the eyes and into the joint.
func (b *builder) work() []Number {
	list := []Number{b.shade()}
	if b.card.Joining != nil {
		return list // filler and flux stand with the joint
	}
	if b.card.Filler != nil {
		list = append(list, b.filler(*b.card.Filler))
	}
	if b.card.Flux != "" {
		list = append(list, b.words(keyFlux, "Flux", words.Capital(plain(b.card.Flux))))
	}
	if b.card.SpeedMS != nil {
		list = append(list, b.speed(*b.card.SpeedMS))
	}
	return list
}

func (b *builder) shade() Number {
	s := b.card.Shade
	text := strconv.Itoa(s.RecommendedLow)
	if s.RecommendedHigh > s.RecommendedLow {
		text += words.S(" to %s", strconv.Itoa(s.RecommendedHigh))
	}
	n := b.words(keyShade, "Lens shade", text)
	n.Note = words.S("Never below %s.", strconv.Itoa(s.Minimum))
	return n
}

func (b *builder) filler(f setup.Filler) Number {
	text := words.Join(f.Classes, " or ")
	if text == "" {
		text = "none"
	}
	n := b.words(keyFiller, "Filler rod", text)
	var notes []string
	if f.DiameterM != nil {
		notes = append(notes, words.S("Diameter %s", b.rods(*f.DiameterM)))
	}
	if f.MeltsK != nil {
		notes = append(notes, words.S("melts %s", b.short(units.QuantityTemperature).rangeText(*f.MeltsK)))
	}
	if len(notes) > 0 {
		n.Note = words.Capital(words.Join(notes, "; ")) + "."
	}
	return n
}

// rods writes rod diameters as rods are sold: in inches by the nearest 1/32.
func (b *builder) rods(r setup.Range) string {
	sc := b.short(units.QuantityThickness)
	if sc.unit.Symbol() != "in" {
		return sc.rangeText(r)
	}
	sold := func(m float64) float64 { return math.Round(m/units.Inch*32) / 32 * units.Inch }
	return words.S("about %s", sc.rangeText(setup.Range{Low: sold(r.Low), High: sold(r.High)}))
}

func (b *builder) speed(r setup.Range) Number {
	n := b.words(keySpeed, "Travel speed", "")
	sc := b.short(units.QuantitySpeed)
	n.Value = strings.TrimSuffix(sc.rangeText(r), " "+sc.unit.Symbol())
	n.Unit = sc.unit.Symbol()
	return n
}

// short is the scale of a quantity in the owner's unit.
func (b *builder) short(q units.Quantity) scale {
	return scale{quantity: q, unit: b.opt.Units.Unit(q), ratio: b.scaler.fuel}.checked()
}

// rangeText writes a range, or one value where both ends read the same.
func (s scale) rangeText(r setup.Range) string {
	if t := s.band(r.Low, r.High); t != "" {
		return t
	}
	return s.text(r.Low)
}
