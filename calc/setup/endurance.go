package setup

import (
	"math"
	"strconv"

	"torchside/calc/cylinder"
	"torchside/calc/gas"
	"torchside/calc/words"
)

// Ending is what ends the drawing of a gas at one flow.
type Ending string

// At AtReserve the cylinders are down to the owner's reserve; at AtWithdrawal the flow becomes more than acetylene may be drawn
// at of what is left, which comes first for most flames.
const (
	AtReserve    Ending = "reserve"
	AtWithdrawal Ending = "withdrawal"
)

// drawn is what the withdrawal rule needs to tell how long a flow may be drawn.
type drawn struct {
	held       estimate // all the gas in the cylinders together, reserve included, as the limits count it
	rule       cylinder.Withdrawal
	coldFactor float64
}

// secondsOfContents is how many seconds of a flow must be left in the cylinders for the flow to be within a share of it an hour:
// 15 hours of it at 1/15, more in the cold.
func (d *drawn) secondsOfContents(share float64) float64 { return 3600 / (share * d.coldFactor) }

// shareText is a share as people say it, with what the cold leaves of it.
func (d *drawn) shareText(share float64) string {
	s := words.S("1/%s of what is left an hour", strconv.FormatFloat(1/share, 'f', 0, 64))
	if d.coldFactor < 1 {
		s += words.S(", cut to %s %% for the cold", number(math.Floor(100*d.coldFactor)))
	}
	return s
}

// lasts is the time until a flow is more than the share of what is left; none when it already is.
func (d *drawn) lasts(flow estimate, share float64, gasName string) estimate {
	left := d.secondsOfContents(share)
	until := func(held, flow float64) float64 { return max(0, held/flow-left) }
	e := newEstimate(Computed, words.S("contents down to what the withdrawal rule leaves ÷ flow; rule: %s", d.rule.Source), true,
		until(d.held.value, flow.value), until(d.held.prov.Low, flow.prov.High), until(d.held.prov.High, flow.prov.Low),
		words.S("after this the flow is more than %s; band: those of contents and flow", d.shareText(share)))
	inputs := []NamedValue{{Name: "gas in the cylinders", Quantity: "standard_volume", SI: d.held.value, Gas: gasName},
		{Name: "least that must be left", Quantity: "standard_volume", SI: flow.value * left, Gas: gasName},
		{Name: "flow", Quantity: "standard_flow", SI: flow.value, Gas: gasName}}
	return e.withFormula("(gas in the cylinders − least that must be left) ÷ flow; least left = flow × 1 h ÷ (share × cold factor)", inputs...)
}

// downToReserve is the time until the reserve.
func (s stock) downToReserve(flow estimate, gasName string) estimate {
	v := *s.drawable
	return newEstimate(Computed, "contents down to the reserve ÷ flow", v.prov.FromMemory || flow.prov.FromMemory, v.value/flow.value,
		v.prov.Low/flow.prov.High, v.prov.High/flow.prov.Low, "after this the cylinder is down to its reserve; band: those of contents and flow").
		withFormula("contents ÷ flow", NamedValue{Name: "contents", Quantity: "standard_volume", SI: v.value, Gas: gasName},
			NamedValue{Name: "flow", Quantity: "standard_flow", SI: flow.value, Gas: gasName})
}

// lasts is the time until the first of reserve and withdrawal limit. Its band ends at the lower of both bands on either side.
func (s stock) lasts(flow estimate, share func(cylinder.Withdrawal) float64, gasName string) (estimate, Ending) {
	e, ends := s.downToReserve(flow, gasName), AtReserve
	if s.drawn == nil {
		return e, ends
	}
	o := s.drawn.lasts(flow, share(s.drawn.rule), gasName)
	if o.value < e.value {
		e, o, ends = o, e, AtWithdrawal
	}
	e.prov.Low, e.prov.High = min(e.prov.Low, o.prov.Low), min(e.prov.High, o.prov.High)
	return e, ends
}

// continuousShare and intermittentShare pick the share of a rule. The time of a card ends where the card itself would be refused, by
// the intermittent share: work with a torch has pauses. The time without a pause, by the continuous share, is the low end of its
// band and stands in a caution before it: nobody knows beforehand how long the pauses will be.
func continuousShare(w cylinder.Withdrawal) float64   { return w.Continuous }
func intermittentShare(w cylinder.Withdrawal) float64 { return w.Intermittent }

// lasting fills contents and time of one gas.
func (b *builder) lasting(name string, l *GasLine, flow estimate, s stock) {
	if s.drawable == nil {
		return
	}
	v := b.put(name+".contents_std_m3", *s.drawable)
	l.ContentsStdM3 = &v
	e, ends := s.lasts(flow, intermittentShare, b.gasName(name))
	if s.drawn != nil && s.drawn.rule.Continuous < s.drawn.rule.Intermittent {
		strict, _ := s.lasts(flow, continuousShare, b.gasName(name))
		pauseless := b.put(name+".without_pause_s", strict)
		l.WithoutPauseS, e.prov.Low = &pauseless, strict.prov.Low
		e.prov.Reason += words.S("; the low end is without a pause, at most %s", s.drawn.shareText(s.drawn.rule.Continuous))
	}
	t := b.put(name+".endurance_s", e)
	l.EnduranceS, l.EndedBy, l.End = &t, ends, s.endText(t, ends)
}

// endText says what ends the drawing.
func (s stock) endText(t float64, ends Ending) string {
	switch {
	case ends == AtWithdrawal && t > 0:
		return words.S("after this the flow is more than %s", s.drawn.shareText(s.drawn.rule.Intermittent))
	case ends == AtWithdrawal:
		return words.S("the flow is already all that may be drawn, %s", s.drawn.shareText(s.drawn.rule.Intermittent))
	case t > 0:
		return "after this it is down to its reserve"
	}
	return "it is already down to its reserve"
}

// ofPauses tells how long a flow may be drawn without a pause, where that is shorter. A flow that may not be drawn so at all has
// its own caution.
func (b *builder) ofPauses(s stock) []Warning {
	l := b.card.Fuel
	if l.WithoutPauseS == nil || *l.WithoutPauseS <= 0 || *l.WithoutPauseS >= *l.EnduranceS {
		return nil
	}
	return []Warning{{"withdrawal_without_pause", Caution, words.S("Without a pause only %s: then the flow is more than %s.", timeText(*l.WithoutPauseS), s.drawn.shareText(s.drawn.rule.Continuous)),
		s.drawn.rule.Source, "fuel.endurance_s"}}
}

func (b *builder) gasName(line string) string {
	if line == "oxygen" {
		return string(gas.Oxygen)
	}
	return b.card.FuelName
}

// endurance names the gas that runs out first; without the contents of both nobody knows which.
func (b *builder) endurance() {
	o, f := &b.card.Oxygen, &b.card.Fuel
	if o.EnduranceS == nil || f.EnduranceS == nil {
		return
	}
	b.card.EnduranceS, b.card.LimitedBy = b.sooner("endurance_s", o.EnduranceS, f.EnduranceS, "fuel.endurance_s")
	if f.WithoutPauseS != nil {
		b.card.WithoutPauseS, _ = b.sooner("without_pause_s", o.EnduranceS, f.WithoutPauseS, "fuel.without_pause_s")
	}
}

// sooner picks the shorter time and its provenance, whose band is cut at that of the other gas.
func (b *builder) sooner(field string, oxygen, fuel *float64, fuelField string) (t *float64, who string) {
	t, who = fuel, "fuel"
	first, other := b.card.Provenance[fuelField], b.card.Provenance["oxygen.endurance_s"]
	if *oxygen <= *fuel {
		t, who, first, other = oxygen, "oxygen", other, first
	}
	first.Low, first.High = min(first.Low, other.Low), min(first.High, other.High)
	b.card.Provenance[field] = first
	return t, who
}
