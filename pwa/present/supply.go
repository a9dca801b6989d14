package present

import (
	"strconv"

	"torchside/calc/words"
)

// supply tells how long the gas lasts and what it costs.
func (b *builder) supply() []Number {
	list := []Number{b.endurance()}
	if b.card.CostPerH != nil {
		n := b.words(keyCost, "Gas costs", b.opt.Currency+words.Number(strconv.FormatFloat(*b.card.CostPerH, 'f', 2, 64)))
		n.Unit = "an hour"
		if p, ok := b.card.Provenance[keyCost]; ok && p.Low < p.High {
			n.Band = words.S("%s%s to %s%s", b.opt.Currency, words.Number(strconv.FormatFloat(p.Low, 'f', 2, 64)), b.opt.Currency, words.Number(strconv.FormatFloat(p.High, 'f', 2, 64)))
		}
		list = append(list, n)
	}
	if b.card.JobTimeS != nil {
		list = append(list, b.jobTime(*b.card.JobTimeS))
	}
	if b.card.Job != nil {
		list = append(list, b.jobCost(*b.card.Job))
	}
	return list
}

// endurance is how long both gases last; it is known only when the contents of both are.
func (b *builder) endurance() Number {
	if b.card.EnduranceS == nil {
		n := b.words(keyEndurance, "Gas lasts", "not known")
		n.Note = b.unknownSide()
		return n
	}
	n := b.value(keyEndurance, "Gas lasts", *b.card.EnduranceS)
	who, line := gasName("oxygen"), b.card.Oxygen
	if b.card.LimitedBy == "fuel" {
		who, line = gasName(b.card.FuelName), b.card.Fuel
	}
	n.Note = words.S("%s ends first.", words.Capital(who))
	if line.End != "" {
		n.Note = words.S("%s%s ends first: %s.", b.pauses(), words.Capital(who), line.End)
	}
	return n
}

// pauses says what of the time holds without a pause, the safer first; empty where it makes no difference.
func (b *builder) pauses() string {
	switch w := b.card.WithoutPauseS; {
	case w == nil || *w >= *b.card.EnduranceS:
		return ""
	case *w <= 0:
		return "With pauses only. "
	default:
		return words.S("Without a pause %s. ", b.scaler.of(keyEndurance).text(*w))
	}
}

// unknownSide says whose contents are missing, and how long the other gas lasts alone.
func (b *builder) unknownSide() string {
	oxygen, fuel := b.card.Oxygen.EnduranceS, b.card.Fuel.EnduranceS
	missing, known, t := "oxygen", b.card.FuelName, fuel
	switch {
	case oxygen == nil && fuel == nil:
		return "Enter what the cylinders hold to see it."
	case oxygen != nil:
		missing, known, t = b.card.FuelName, "oxygen", oxygen
	}
	return words.S("What the %s cylinder holds is not known. %s alone lasts %s.", gasName(missing), words.Capital(gasName(known)), b.scaler.of(keyEndurance).text(*t))
}
