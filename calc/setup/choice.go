package setup

import (
	"slices"
	"strings"

	"torchside/calc/flame"
	"torchside/calc/units"
	"torchside/calc/words"
)

// TipVerdict is what the computation makes of one tip of the rig for the question.
type TipVerdict struct {
	Label  string `json:"label"`
	Fits   bool   `json:"fits"`
	Best   bool   `json:"best"`   // the one that Compute takes by itself
	Chosen bool   `json:"chosen"` // the one the card is for
	// MakersRow tells that a row of the maker's chart holds for the question.
	MakersRow   bool    `json:"makers_row"`
	FuelFlowStd float64 `json:"fuel_flow_std_m3_s,omitempty"` // 0 for a tip that does not fit
	ExitClass   string  `json:"exit_class,omitempty"`         // empty when the hole is not known
	// Code and Why say why a tip does not fit, as its Refusal would.
	Code string `json:"code,omitempty"`
	Why  string `json:"why,omitempty"`
}

// judged is one tip worked out; no is nil when it fits.
type judged struct {
	c  candidate
	no *Refusal
}

// judgement is every tip of the rig, in the rig's order.
type judgement []judged

// judgeTips works out every tip of the rig, whichever is asked for: what the others would do is told as well.
func judgeTips(in Input, need, ratio estimate, fuel stock) judgement {
	var list judgement
	for i := range in.Rig.Tips {
		t := &in.Rig.Tips[i]
		c, err := newCandidate(in, t, need, ratio)
		c.cylinders = &fuel
		no := c.advised(in)
		if err != nil {
			no = refusalOf(words.S("tip %s", t.Label), err)
		}
		if no == nil {
			no = overdrawn(in, &c, fuel)
		}
		list = append(list, judged{c, no})
	}
	return list
}

// choose takes the tip asked for, or else the best one: one with the maker's own row before any other, then the one whose flow
// and exit velocity come nearest to what is wanted.
func (l judgement) choose(in Input) (*candidate, *Refusal) {
	asked := l
	if in.TipLabel != "" {
		asked = slices.DeleteFunc(slices.Clone(l), func(j judged) bool { return j.c.tip.Label != in.TipLabel })
	}
	if c := asked.best(); c != nil {
		return c, nil
	}
	no := asked.refusal(in)
	no.Tips = l.verdicts(nil)
	if best := l.best(); best != nil && in.TipLabel != "" {
		no.WaysOut = append([]string{words.S("take tip %s, which fits", best.tip.Label)}, no.WaysOut...)
	}
	return nil, no
}

// best is the best tip that fits, nil when none does.
func (l judgement) best() *candidate {
	var best *candidate
	for i := range l {
		if l[i].no == nil && (best == nil || l[i].c.better(best)) {
			best = &l[i].c
		}
	}
	return best
}

func (c *candidate) better(o *candidate) bool {
	if (c.row != nil) != (o.row != nil) {
		return c.row != nil
	}
	return c.score < o.score
}

// verdicts tells of every tip; chosen is the card's, nil without a card.
func (l judgement) verdicts(chosen *candidate) []TipVerdict {
	best := l.best()
	out := make([]TipVerdict, len(l))
	for i := range l {
		c, no := &l[i].c, l[i].no
		v := TipVerdict{Label: c.tip.Label, Fits: no == nil, Best: c == best, MakersRow: c.row != nil}
		v.Chosen = chosen != nil && c.tip == chosen.tip
		if no != nil {
			v.Code, v.Why = no.Code, no.Why
		} else {
			v.FuelFlowStd = c.fuelFlow.value
			if c.exit != nil {
				v.ExitClass = string(flame.ClassifyExit(units.Speed(*c.exit)))
			}
		}
		out[i] = v
	}
	return out
}

// refusal sums up why none of the tips will do. A single reason, and a draw that is too fast, are given as they are.
func (l judgement) refusal(in Input) *Refusal {
	switch {
	case len(l) == 0:
		return &Refusal{Code: "unknown_tip", Field: "tip_label", Read: quote(in.TipLabel), Allowed: tipLabels(in.Rig), Why: "the rig has no such tip"}
	case len(l) == 1:
		return l[0].no
	}
	r := &Refusal{Code: "no_tip_fits", Field: "rig.tips", Read: tipLabels(in.Rig), Allowed: "a tip that suits work, thickness, fuel and cylinders"}
	var why []string
	against := ""
	for _, j := range l {
		if j.no.Code == "withdrawal" || j.no.Code == codeSpent {
			return j.no // fit in everything but the draw: then the cylinders decide
		}
		own, all, _ := strings.Cut(j.no.Why, neitherWould)
		why = append(why, words.S("%s: %s", j.no.Field, own))
		if all != "" {
			against = neitherWould + all // the same for every tip: the hole that would do does not hang on the one there is
		}
		for _, w := range j.no.WaysOut {
			if !slices.Contains(r.WaysOut, w) {
				r.WaysOut = append(r.WaysOut, w)
			}
		}
	}
	r.Why = words.S("none of them fits. %s%s", words.Join(why, "; "), against)
	return r
}

func tipLabels(r *Rig) string {
	labels := make([]string, len(r.Tips))
	for i, t := range r.Tips {
		labels[i] = t.Label
	}
	return words.Join(labels, ", ")
}

// ofChoice tells when the card is for another tip than the best one.
func ofChoice(tips []TipVerdict) []Warning {
	for _, v := range tips {
		if v.Best && !v.Chosen {
			return []Warning{{"tip_by_hand", Note, words.S("You chose this tip. By the numbers tip %s fits best.", v.Label), "Torchside", "tip"}}
		}
	}
	return nil
}
