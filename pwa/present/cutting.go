package present

import (
	"math"
	"strconv"

	"torchside/calc/cut"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// cutting is what a card for cutting says of the cut; none for other works.
func (b *builder) cutting() []Number {
	c := b.card.Cutting
	if c == nil {
		return nil
	}
	return []Number{b.handSpeed(c), b.preheatTime(c), b.cutWidth(setup.KeyKerf, "Kerf", c.KerfM, "Keep the torch half of it off the line, on the side that is waste."),
		b.cutWidth(setup.KeyDrag, "Drag", c.DragM, "How far the bottom of the cut lags behind the top."),
		b.cutOxygen(c), b.perLength(setup.KeyOxygenPerM, "Oxygen", c.OxygenPerLength), b.perLength(setup.KeyFuelPerM, words.Capital(gasName(b.card.FuelName)), c.FuelPerLength),
		b.ironShare(c), b.heatRatio(c)}
}

func (b *builder) handSpeed(c *setup.Cutting) Number {
	n := b.words(setup.KeyCutHand, "Speed by hand", "")
	sc := b.short(units.QuantitySpeed)
	n.Value, n.Unit = cutUnit(sc.rangeText(c.HandSpeedMS), sc.unit.Symbol()), sc.unit.Symbol()
	n.Note = words.S("Right when the sparks leave the bottom straight down. A machine goes %s.", sc.rangeText(c.MachineSpeedMS))
	return n
}

// cutUnit takes the unit off a text, to be shown apart.
func cutUnit(text, unit string) string {
	if n := len(text) - len(" "+unit); n > 0 && text[n:] == " "+unit {
		return text[:n]
	}
	return text
}

// preheatTime is how long the flame is held before the cutting oxygen is opened.
func (b *builder) preheatTime(c *setup.Cutting) Number {
	s := scale{quantity: units.QuantityDuration}
	n := b.words(setup.KeyCutStart, "Preheat the edge", s.text(c.StartTimeS))
	if c.Start == cut.Pierce {
		n.Label = "Preheat the spot to pierce"
	}
	p := b.card.Provenance[setup.KeyCutStart]
	n.Band = s.band(p.Low, p.High)
	n.Note = "Until it is bright cherry red; then open the cutting oxygen."
	return n
}

func (b *builder) cutWidth(key, label string, m float64, note string) Number {
	p := b.card.Provenance[key]
	n := b.length(key, label, units.Band{Value: m, Low: p.Low, High: p.High})
	n.Note = note
	return n
}

// cutOxygen shares the oxygen of the line between the cut and its flame.
func (b *builder) cutOxygen(c *setup.Cutting) Number {
	n := b.value(setup.KeyCuttingOxygen, "Cutting oxygen", c.CuttingOxygenStdM3S)
	n.Note = words.S("Its flame takes %s more.", b.scaler.of(setup.KeyPreheatOxygen).text(c.PreheatOxygenStdM3S))
	return n
}

// perLength is the gas for a metre of cut, or for a foot.
func (b *builder) perLength(key, gas string, perMetre float64) Number {
	s := b.scaler.of(key)
	length, name := 1.0, "a metre"
	if b.opt.Units.IsUS() {
		length, name = units.Foot, "a foot"
	}
	n := b.words(key, words.S("%s for %s of cut", gas, name), "")
	n.Value, n.Unit = s.number(perMetre * length)
	p := b.card.Provenance[key]
	n.Band = s.band(p.Low*length, p.High*length)
	return n
}

func (b *builder) ironShare(c *setup.Cutting) Number {
	percent := func(v float64) string { return strconv.Itoa(int(math.Round(100 * v))) }
	n := b.words(setup.KeyIronShare, "Of the heat, from the burning iron", percent(c.IronHeatShare))
	n.Unit = "%"
	p := b.card.Provenance[setup.KeyIronShare]
	n.Band = words.S("%s to %s %%", percent(p.Low), percent(p.High))
	n.Note = "The cone of the preheat gives the rest."
	return n
}

// heatRatio says whether a started cut goes on with the fuel shut, and at which thickness.
func (b *builder) heatRatio(c *setup.Cutting) Number {
	text := func(v float64) string { return words.Number(strconv.FormatFloat(v, 'f', 2, 64)) }
	n := b.words(setup.KeyHeatRatio, "With the fuel shut: heat freed over heat needed", text(c.HeatRatio))
	p := b.card.Provenance[setup.KeyHeatRatio]
	n.Band = words.S("%s to %s", text(p.Low), text(p.High))
	n.Note = map[cut.Verdict]string{
		cut.Sustains:  "The iron frees more than the cut takes: once started it can go on without the flame.",
		cut.Fails:     "The iron frees less than the cut takes: without the flame it goes out.",
		cut.Undecided: "Above 1 the burning iron alone keeps a started cut going. The band reaches to either side, so that cannot be told here.",
	}[c.Sustains]
	if r := c.SustainedM; r != nil {
		n.Note += words.S(" By the middle of the numbers it does from %s.", b.short(units.QuantityThickness).rangeText(*r))
	}
	return n
}
