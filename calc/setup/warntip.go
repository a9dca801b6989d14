package setup

import (
	"math"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// asked is the fuel flow by its sources: the maker's row, or what the work asks for before the tip moves it.
func (c *candidate) asked() estimate {
	if c.row != nil && c.row.FuelFlowStd != nil {
		return c.fuelFlow
	}
	return c.need
}

// ofHole tells when the tip moves the flow by more than 30 % from what the work asks for, with the hole that would not.
func ofHole(in Input, c *candidate) []Warning {
	want, set := c.need.value, c.fuelFlow.value
	if c.row != nil || c.tip.OrificeDiameterM == nil || math.Abs(set-want) <= disagreement*want {
		return nil
	}
	fuel := in.Rig.FuelCylinder.Fuel
	flow := func(v float64) string { return flowText(v, fuel) }
	code, size, edge := "tip_raises_flow", "large", "; at that its flame is soft"
	if set < want {
		code, size, edge = "tip_lowers_flow", "small", "; at that its flame is harsh"
	}
	switch least, most := c.flowAt(in, slowest), c.flowAt(in, fastest); {
	case want < least:
		edge = words.S("; below %s its flame is limp and may pop back", flow(least))
	case want > most:
		edge = words.S("; above %s its flame tends to leave the tip", flow(most))
	}
	text := words.S("%s for %s of %s. This tip is too %s for that%s. The card is for %s.", askedBy(c.need.prov.Kind), flow(want), fuel.Name(), size, edge, flow(set))
	if way, _ := c.holeThatFits(in); way != "" {
		text += words.S(" What was asked for takes a tip with %s.", way)
	}
	return []Warning{{code, Check, text, sourceByTheHole, "fuel.flow_std_m3_s"}}
}

// askedBy begins a sentence on the flow that is wanted.
func askedBy(k Kind) string {
	if k == Handbook {
		return "The handbook asks"
	}
	return "This work asks"
}

// ofExit tells when the gas leaves slower or faster than is usable: a maker's row may ask for it, and warmth or cold may do it.
func ofExit(in Input, c *candidate) []Warning {
	if c.exit == nil {
		return nil
	}
	said := map[flame.ExitClass]string{
		flame.TooSlow: "the flame is limp and near to popping back. Turn the flow up, or try a smaller tip.",
		flame.TooFast: "the flame tends to leave the tip. Turn the flow down, or try a larger tip.",
	}[flame.ClassifyExit(units.Speed(*c.exit))]
	if said == "" {
		return nil
	}
	return []Warning{{"exit_velocity", Check, words.S("At %s the gas leaves at %s: %s", temperatureText(in.TemperatureK), speedText(*c.exit), said),
		"exit velocities of flames, common practice, from memory", "exit_velocity_m_s"}}
}

// anyOf joins words with "or".
func anyOf[T ~string](list []T) string {
	text := ""
	for i, w := range list {
		name := string(w)
		if g := gas.Gas(name); g.Known() {
			name = g.Name()
		}
		switch {
		case i == 0:
			text = name
		case i == len(list)-1:
			text += words.S(" or %s", name)
		default:
			text += words.S(", %s", name)
		}
	}
	return text
}
