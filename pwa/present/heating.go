package present

import (
	"slices"

	"torchside/calc/heat"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// heating is what a card for heating or bending says of the piece; none where it was not asked.
func (b *builder) heating() []Number {
	h := b.card.Heating
	if h == nil {
		return nil
	}
	list := []Number{b.heatTime(h), b.heatTarget(h)}
	if h.Point != nil {
		list = append(list, b.heatPoint(*h.Point))
	}
	list = append(list, b.heatGas(setup.KeyHeatingOxygen, "Oxygen for it", h.Oxygen), b.heatGas(setup.KeyHeatingFuel, words.S("%s for it", words.Capital(gasName(b.card.FuelName))), h.Fuel))
	return append(list, b.bend(h)...)
}

// heatTarget is the heat aimed at, with the words for its colour.
func (b *builder) heatTarget(h *setup.Heating) Number {
	s := b.short(units.QuantityTemperature)
	n := b.words(setup.KeyHeatingTarget, words.S("Heat %s to", b.size(h.ZoneM)), "")
	n.Value, n.Unit = s.number(h.TargetK)
	n.Note = b.look(h)
	return n
}

// look says how steel looks at the target: sources differ, and all that do are named with theirs.
func (b *builder) look(h *setup.Heating) string {
	if !steel(b.card.Metal) {
		return ""
	}
	switch {
	case len(h.Glow) > 0:
		return words.S("Glow: %s. %s", colours(h.Glow), b.firstGlow())
	case len(h.Temper) > 0:
		return words.S("No glow. Bright steel turns: %s.", colours(h.Temper))
	}
	return "Steel shows no colour at this heat."
}

func steel(m setup.Metal) bool { return m == setup.MildSteel || m == setup.GalvanisedSteel }

// colours names every word once, with how many sources say it.
func colours(rows []heat.Colour) string {
	var names []string
	for _, r := range rows {
		if !slices.Contains(names, r.Name) {
			names = append(names, r.Name)
		}
	}
	return words.S("%s (%s)", words.Join(names, " or "), words.Count(len(rows), "source"))
}

// firstGlow says from what heat steel is seen to glow, indoors and out.
func (b *builder) firstGlow() string {
	s := b.short(units.QuantityTemperature)
	dim, _ := heat.FirstGlow(heat.Dark)
	sun, _ := heat.FirstGlow(heat.Sunlight)
	return words.S("In dim light it looks brighter: red shows from %s in the dark, only from %s in sunlight.", s.text(float64(dim)), s.text(float64(sun)))
}

// heatTime is how long the flame is held.
func (b *builder) heatTime(h *setup.Heating) Number {
	s := scale{quantity: units.QuantityDuration}
	n := b.words(setup.KeyHeatingTime, "Heating time", s.text(h.TimeS.Value))
	n.Band = s.band(h.TimeS.Low, h.TimeS.High)
	if h.Never {
		n.Note = words.S("At best %s; with the least heat of this flame it never gets there.", s.text(h.TimeS.Low))
	}
	return n
}

// heatPoint is the highest temperature at the distance asked for: what a seal must stand.
func (b *builder) heatPoint(p heat.Point) Number {
	s := b.short(units.QuantityTemperature)
	n := b.words(setup.KeyHeatingPoint, words.S("Gets as hot as, %s away", b.size(float64(p.At))), "")
	n.Value, n.Unit = s.number(float64(p.Peak))
	n.Note = words.S("%s when the zone is hot.", s.text(float64(p.Temperature)))
	if p.PeakAfter >= 1 {
		n.Note += words.S(" The highest comes %s after the flame is out, in still air.", scale{quantity: units.QuantityDuration}.text(float64(p.PeakAfter)))
	}
	return n
}

func (b *builder) heatGas(key, label string, v units.Band) Number {
	n := b.words(key, label, "")
	s := b.scaler.of(key)
	n.Value, n.Unit = s.number(v.Value)
	n.Band = s.band(v.Low, v.High)
	return n
}

// bend is how the bend is laid out.
func (b *builder) bend(h *setup.Heating) []Number {
	if h.Bent == nil {
		return nil
	}
	arc := b.length(setup.KeyBendAllowance, "Length in the bend", h.Bent.Allowance)
	arc.Note = "Along the neutral line, taken in the middle of the bar."
	list := []Number{arc}
	if h.Bent.Developed.Value > h.Bent.Allowance.Value {
		list = append(list, b.length(setup.KeyBendCut, "Cut the bar to", h.Bent.Developed))
	}
	return list
}

func (b *builder) length(key, label string, v units.Band) Number {
	n := b.words(key, label, "")
	s := b.short(units.QuantityThickness)
	n.Value, n.Unit = s.number(v.Value)
	n.Band = s.band(v.Low, v.High)
	return n
}

// size writes a length of the piece.
func (b *builder) size(m float64) string { return b.short(units.QuantityThickness).text(m) }
