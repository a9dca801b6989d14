package present

import (
	"strconv"

	"torchside/calc/cost"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// money writes an amount in the owner's currency, small ones to the tenth of a cent.
func (b *builder) money(v float64) string {
	digits := 2
	if v < 0.1 && v > 0 {
		digits = 3
	}
	return b.opt.Currency + words.Number(strconv.FormatFloat(v, 'f', digits, 64))
}

func (b *builder) moneyBand(v units.Band) string {
	low, high := b.money(v.Low), b.money(v.High)
	if low == high {
		return ""
	}
	return words.S("%s to %s", low, high)
}

// jobTime is how long the flame burns for the job.
func (b *builder) jobTime(t units.Band) Number {
	s := scale{quantity: units.QuantityDuration}
	label := "Time of the weld"
	if b.card.Joining != nil {
		label = "Time to heat the joint"
	}
	n := b.words(setup.KeyJobTime, label, s.text(t.Value))
	n.Band = s.band(t.Low, t.High)
	return n
}

// jobCost is what the job costs, with its parts: what each is, and what is not in the sum.
func (b *builder) jobCost(j setup.JobCost) Number {
	label, by := "This job costs", 1.0
	if j.For == setup.PerMetre {
		label = "A metre of cut costs"
		if b.opt.Units.IsUS() {
			label, by = "A foot of cut costs", units.Foot
		}
	}
	sum := units.Band{Value: j.Cost.Value * by, Low: j.Cost.Low * by, High: j.Cost.High * by}
	n := b.words(setup.KeyJobCost, label, b.money(sum.Value))
	n.Band = b.moneyBand(sum)
	var parts []string
	for _, p := range j.Parts {
		parts = append(parts, b.partName(p)+" "+b.money(p.Cost.Value*by))
	}
	n.Note = words.Capital(words.Join(parts, ", ")) + "."
	if len(j.Missing) > 0 {
		n.Note += words.S(" Without %s: no price is entered.", words.Join(b.named(j.Missing), " and "))
	}
	if j.RentLeftOut {
		n.Note += words.T(" A rent is left out: enter fills a year and what a full one holds.")
	}
	return n
}

func (b *builder) partName(p cost.Part) string { return b.named([]string{p.Name})[0] }

// named puts the fuel's name for the fuel.
func (b *builder) named(list []string) []string {
	var out []string
	for _, name := range list {
		if name == "fuel" {
			name = gasName(b.card.FuelName)
		}
		out = append(out, name)
	}
	return out
}
