package setup

import (
	"errors"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
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
	if stocks.oxygen.spent != nil {
		return Card{}, stocks.oxygen.spent.noOxygen()
	}
	if s := stocks.fuel.spent; s != nil && s.empty && !s.guessed && in.Rig.FuelCylinder.Fuel != gas.Acetylene {
		return Card{}, s.noFuel(in.Rig.FuelCylinder.Fuel.Name())
	}
	tips, c, no := chosenTips(in, need, ratio, stocks.fuel)
	if no != nil {
		return Card{}, no
	}
	card := build(in, c, stocks)
	card.Tips = tips.verdicts(c)
	card.Warnings = append(card.Warnings, ofChoice(card.Tips)...)
	if c.lesser {
		card.Warnings = append(card.Warnings, noteLesser(in, need))
	}
	return card, nil
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
		return &Refusal{Code: "out_of_range", Field: field + "." + outside.Field, Read: outside.Text(outside.Value),
			Allowed: words.S("%s to %s", outside.Text(outside.Low), outside.Text(outside.High)), Why: outside.Why}
	}
	return &Refusal{Code: "impossible", Field: field, Read: "the numbers entered", Allowed: "numbers of a rig that can work", Why: err.Error()}
}

// holdOn asks for the pop-back estimate and the cone; both stay nil when the hole or the burning velocity is not known.
func holdOn(in Input, c *candidate) (*flame.HoldOnResult, *units.Band) {
	if c.exit == nil {
		return nil, nil
	}
	q := flame.HoldOnInput{Fuel: in.Rig.FuelCylinder.Fuel, Ratio: c.ratio.value, Diameter: units.Length(*c.burner.OrificeDiameterM),
		ExitVelocity: units.Speed(*c.exit), Temperature: units.Temperature(in.TemperatureK), Ambient: units.AbsolutePressure(in.AmbientAbsPa)}
	r, err := flame.HoldOn(q)
	if err != nil {
		return nil, nil
	}
	cone := coneBand(q, r.BurningVelocity)
	if !(cone.Value > 0) {
		return &r, nil
	}
	return &r, &cone
}
