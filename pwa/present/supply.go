package present

import "strconv"

// supply tells how long the gas lasts and what it costs.
func (b *builder) supply() []Number {
	list := []Number{b.endurance()}
	if b.card.CostPerH != nil {
		n := b.words(keyCost, "Gas costs", b.opt.Currency+strconv.FormatFloat(*b.card.CostPerH, 'f', 2, 64))
		n.Unit = "an hour"
		if p, ok := b.card.Provenance[keyCost]; ok && p.Low < p.High {
			n.Band = b.opt.Currency + strconv.FormatFloat(p.Low, 'f', 2, 64) + " to " + b.opt.Currency + strconv.FormatFloat(p.High, 'f', 2, 64)
		}
		list = append(list, n)
	}
	return list
}

func (b *builder) endurance() Number {
	if b.card.EnduranceS == nil {
		n := b.words(keyEndurance, "Gas lasts", "not known")
		n.Note = "Enter what the cylinders hold to see it."
		return n
	}
	n := b.value(keyEndurance, "Gas lasts", *b.card.EnduranceS)
	if who := b.limitedBy(); who != "" {
		n.Note = capital(who) + " runs out first, down to its reserve."
	}
	return n
}

func (b *builder) limitedBy() string {
	switch b.card.LimitedBy {
	case "fuel":
		return gasName(b.card.FuelName)
	case "":
		return ""
	}
	return gasName(b.card.LimitedBy)
}
