package present

import (
	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Keys of a card's numbers: data-val, provenance and the place a warning concerns.
const (
	keyTip       = "tip"
	keyRatio     = "ratio"
	keyClass     = "flame_class"
	keyVelocity  = "exit_velocity_m_s"
	keyHoldOn    = "hold_on_margin"
	keyEndurance = "endurance_s"
	keyCost      = "cost_per_h"
	keyShade     = "shade"
	keyFiller    = "filler"
	keyFlux      = "flux"
	keySpeed     = "speed_m_s"
	keyPower     = "power_w"
	keyCone      = "cone_length_m"
	keyHot       = "flame_temperature_k"
	keyPrimary   = "primary_power_w"
	keyEnvelope  = "envelope_power_w"
	keyNet       = "net_heat_w"
)

// Card is a settings card ready to show, in the order it is read: what to know first, tip and pressures, flame, gas, eyes and
// rod. In each part the warnings stand before the number they concern.
type Card struct {
	Standing []Warning // cautions that hold for every card of this kind
	General  []Warning // other warnings about the work as a whole
	Tip      Tip
	Gases    [2]Gas      // oxygen, fuel
	Heating  []Number    // target, time, what gets hot, gas, bend; of heating and bending
	Cutting  []Number    // speed, start, kerf, gas, heat; of cutting
	Joint    []Number    // filler, flux, gap, heat, rod; of brazing
	Steps    []JointStep // the order of work at the joint
	Flame    Flame
	Supply   []Number // endurance, cost
	Work     []Number // shade, filler, flux, travel speed
	Summary  string   // one sentence that is read out when the card changes
}

// builder carries what the parts of a card need.
type builder struct {
	card   setup.Card
	fuel   gas.Gas
	scaler scaler
	opt    Options
	warn   *warnings
}

// NewCard writes a settings card for a person.
func NewCard(c setup.Card, o Options) Card {
	b := newBuilder(c, o)
	v := Card{
		Standing: b.warn.takeStanding(b.limitText()),
		Tip:      b.tip(),
		Gases:    [2]Gas{b.gas("oxygen", gas.Oxygen, c.Oxygen), b.gas("fuel", b.fuel, c.Fuel)},
		Heating:  b.heating(),
		Cutting:  b.cutting(),
		Joint:    b.joint(),
		Steps:    b.steps(),
		Flame:    b.flame(),
		Supply:   b.supply(),
		Work:     b.work(),
	}
	v.General = b.warn.rest()
	v.Summary = v.summary()
	return v
}

func newBuilder(c setup.Card, o Options) *builder {
	fuel, err := gas.Parse(c.FuelName)
	if err != nil {
		fuel = ""
	}
	return &builder{card: c, fuel: fuel, scaler: newScaler(o, fuel), opt: o, warn: newWarnings(c.Warnings, o)}
}

// limitText is the limit of acetylene in the owner's unit.
func (b *builder) limitText() string {
	return scale{quantity: units.QuantityPressure, unit: b.opt.Units.Unit(units.QuantityPressure), limit: acetyleneLimit}.text(acetyleneLimit)
}

func (c Card) summary() string {
	s := words.S("Tip %s", c.Tip.Label)
	for _, g := range c.Gases {
		s += words.S(", %s %s", g.Name, g.Regulator.Text())
	}
	return s + "."
}

// value builds a number that is written by its key's scale.
func (b *builder) value(key, label string, si float64) Number {
	s := b.scaler.of(key)
	n := b.words(key, label, "")
	n.Value, n.Unit = s.number(si)
	if p, ok := b.card.Provenance[key]; ok {
		n.Band = s.band(p.Low, p.High)
	}
	return n
}

// words builds a number that is words; it has no band.
func (b *builder) words(key, label, text string) Number {
	n := Number{Key: key, Label: label, Value: text, Warnings: b.warn.take(key)}
	if p, ok := b.card.Provenance[key]; ok {
		n.Kind, n.Memory = string(p.Kind), p.FromMemory
	}
	return n
}
