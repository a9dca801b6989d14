package setup

import (
	"errors"
	"strings"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// Compute answers one question with a card, or with a *Refusal that says what was read, what is allowed, why, and the ways
// out. The error is always a *Refusal; it never panics on input.
func Compute(in Input) (Card, error) {
	if no := check(in); no != nil {
		return Card{}, no
	}
	need, ratio := fuelNeed(in), usualRatio(in)
	stocks, no := findStocks(in)
	if no != nil {
		return Card{}, no
	}
	best, no := chooseTip(in, need, ratio, stocks.fuel)
	if no != nil {
		return Card{}, no
	}
	return build(in, best, stocks), nil
}

// usualRatio is the ratio of a neutral flame, or the one asked for.
func usualRatio(in Input) estimate {
	r := flame.NeutralRatio(in.Rig.FuelCylinder.Fuel)
	if in.Ratio > 0 {
		return exact(Computed, "chosen by hand", in.Ratio, "")
	}
	return newEstimate(Handbook, r.Source, r.FromMemory, r.Neutral.Value, r.Neutral.Low, r.Neutral.High, r.Neutral.Reason)
}

type stocks struct{ oxygen, fuel stock }

func findStocks(in Input) (stocks, *Refusal) {
	oxygen, err := oxygenStock(in)
	if err != nil {
		return stocks{}, refusalOf("rig.oxygen_cylinder", err)
	}
	fuel, err := fuelStock(in)
	if err != nil {
		return stocks{}, refusalOf("rig.fuel_cylinder", err)
	}
	return stocks{oxygen, fuel}, nil
}

// refusalOf turns an error of another calc package into a refusal that names the field.
func refusalOf(field string, err error) *Refusal {
	var outside *gas.RangeError
	if errors.As(err, &outside) {
		return &Refusal{Code: "out_of_range", Field: field + "." + outside.Field, Read: number(outside.Value) + " " + outside.Unit,
			Allowed: number(outside.Low) + " to " + number(outside.High) + " " + outside.Unit, Why: outside.Why}
	}
	return &Refusal{Code: "impossible", Field: field, Read: "the numbers entered", Allowed: "numbers of a rig that can work", Why: err.Error()}
}

// chooseTip works out every tip and takes the best: one with the maker's own row before any other, then the one whose flow
// and exit velocity come nearest to what is wanted.
func chooseTip(in Input, need, ratio estimate, fuel stock) (*candidate, *Refusal) {
	var best *candidate
	var rejected []*Refusal
	for i := range in.Rig.Tips {
		t := &in.Rig.Tips[i]
		if in.TipLabel != "" && t.Label != in.TipLabel {
			continue
		}
		c, err := newCandidate(in, t, need, ratio)
		no := c.rejected
		if err != nil {
			no = refusalOf("tip "+t.Label, err)
		}
		if no == nil {
			no = overdrawn(in, &c, fuel)
		}
		if no != nil {
			rejected = append(rejected, no)
		} else if best == nil || c.better(best) {
			best = &c
		}
	}
	if best == nil {
		return nil, noTip(in, rejected)
	}
	return best, nil
}

func (c *candidate) better(o *candidate) bool {
	if (c.row != nil) != (o.row != nil) {
		return c.row != nil
	}
	return c.score < o.score
}

// noTip sums up why no tip of the rig will do. A single reason, and a draw that is too fast, are given as they are.
func noTip(in Input, rejected []*Refusal) *Refusal {
	switch {
	case len(rejected) == 0:
		return &Refusal{Code: "unknown_tip", Field: "tip_label", Read: quote(in.TipLabel), Allowed: tipLabels(in.Rig), Why: "the rig has no such tip"}
	case len(rejected) == 1:
		return rejected[0]
	case drawing(rejected) != nil:
		return drawing(rejected)
	}
	r := &Refusal{Code: "no_tip_fits", Field: "rig.tips", Read: tipLabels(in.Rig), Allowed: "a tip that suits work, thickness, fuel and cylinders", Why: "none of them fits"}
	for _, no := range rejected {
		r.WaysOut = append(r.WaysOut, no.Field+": "+no.Why+" — "+no.Allowed)
	}
	return r
}

// drawing returns the refusal of a tip that fits in everything but the draw from the cylinders: then the cylinders decide.
func drawing(rejected []*Refusal) *Refusal {
	for _, r := range rejected {
		if r.Code == "withdrawal" || r.Code == codeSpent {
			return r
		}
	}
	return nil
}

func tipLabels(r *Rig) string {
	labels := make([]string, len(r.Tips))
	for i, t := range r.Tips {
		labels[i] = t.Label
	}
	return strings.Join(labels, ", ")
}

// holdOn asks for the pop-back estimate and the cone; both stay nil when the hole or the burning velocity is not known.
func holdOn(in Input, c *candidate) (*flame.HoldOnResult, *float64) {
	if c.exit == nil {
		return nil, nil
	}
	r, err := flame.HoldOn(flame.HoldOnInput{Fuel: in.Rig.FuelCylinder.Fuel, Ratio: c.ratio.value, Diameter: units.Length(*c.tip.OrificeDiameterM),
		ExitVelocity: units.Speed(*c.exit), Temperature: units.Temperature(in.TemperatureK), Ambient: units.AbsolutePressure(in.AmbientAbsPa)})
	if err != nil {
		return nil, nil
	}
	cone, err := flame.ConeLength(units.Length(*c.tip.OrificeDiameterM), units.Speed(*c.exit), units.Speed(r.BurningVelocity.Value))
	if err != nil {
		return &r, nil
	}
	length := float64(cone)
	return &r, &length
}
