package state

import (
	"math"
	"strconv"

	"torchside/calc/gas"
	"torchside/calc/order"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// StepNumbers are the rig's own numbers that a step carries.
type StepNumbers struct {
	Figures []Figure // none when Missing says why
	From    string   // where they come from
	Missing string   // what has to be entered or asked first
	Where   string   // address where that is done
	Way     string   // label of the way there
}

// Figure is one number: a quantity in SI, or words.
type Figure struct {
	Key      string // data-val hook
	Label    string
	Words    string // instead of a number
	Quantity units.Quantity
	SI       float64
	Capped   bool // it keeps the limit of acetylene, and must not be rounded over it
}

// stepNumbers finds the numbers of a step; nil for a step without.
func (a App) stepNumbers(which string, o Order) *StepNumbers {
	switch which {
	case "":
		return nil
	case order.NumberTurns:
		return &StepNumbers{From: "29 CFR 1926.350(d); WAC 296-307-48019(9)", Figures: []Figure{
			{Key: "order.turns", Label: "Turns, at most", Words: turns(order.BestAcetyleneTurns)}, {Key: "order.turns_limit", Label: "Never over", Words: turns(order.MaxAcetyleneTurns)}}}
	case order.NumberFireWatch:
		return &StepNumbers{From: "NFPA 51B (2019); 29 CFR 1910.252(a)(2)(iii) says at least 30 min", Figures: []Figure{
			{Key: "order.fire_watch", Label: "Fire watch", Quantity: units.QuantityDuration, SI: 3600}}}
	}
	card, problem := a.orderCard(o)
	if card == nil {
		return &StepNumbers{Missing: problem, Where: "/", Way: "Setup"}
	}
	return a.cardNumbers(which, *card)
}

// turns writes a number of turns as people say it.
func turns(n float64) string {
	if n == order.BestAcetyleneTurns {
		return "3/4"
	}
	return words.Number(strconv.FormatFloat(n, 'g', -1, 64))
}

// orderCard is the settings card for the tip that is fitted, when it answers what is asked now and is for this kind of head.
func (a App) orderCard(o Order) (*setup.Card, string) {
	s := a.Setup
	if s.Card == nil || s.Stale || s.Refusal != nil || len(s.Errors) > 0 {
		return nil, "Ask Setup for a settings card: then the number for your rig stands here. Without one, take the torch maker's."
	}
	cutting := s.Card.Work == setup.Cut
	switch head := o.Given[order.FactHead]; {
	case head == order.HeadCutting && !cutting:
		return nil, "The settings card is for a flame tip. Ask Setup for cutting, or take the torch maker's numbers for the cutting tip."
	case head == order.HeadFlame && cutting:
		return nil, "The settings card is for cutting. Ask Setup for the work of this tip, or take the torch maker's numbers."
	}
	return s.Card, ""
}

// cardNumbers are those of a settings card.
func (a App) cardNumbers(which string, c setup.Card) *StepNumbers {
	from := words.S("settings card for tip %s, at the regulator, gas flowing", c.Tip)
	oxygen := Figure{Key: "order.oxygen", Label: "Oxygen", Quantity: units.QuantityPressure, SI: c.Oxygen.RegulatorGaugePa}
	fuel := Figure{Key: "order.fuel", Label: words.Capital(gasName(c.FuelName)), Quantity: units.QuantityPressure, SI: c.Fuel.RegulatorGaugePa,
		Capped: gas.Gas(c.FuelName) == gas.Acetylene}
	switch which {
	case order.NumberOxygen, order.NumberCutting:
		return &StepNumbers{From: from, Figures: []Figure{oxygen}}
	case order.NumberFuel:
		return &StepNumbers{From: from, Figures: []Figure{fuel}}
	case order.NumberBoth:
		return &StepNumbers{From: from, Figures: []Figure{oxygen, fuel}}
	case order.NumberTip:
		return &StepNumbers{From: "settings card", Figures: []Figure{{Key: "order.tip", Label: "Tip", Words: c.Tip}}}
	case order.NumberShade:
		shade := strconv.Itoa(c.Shade.RecommendedLow)
		if c.Shade.RecommendedHigh > c.Shade.RecommendedLow {
			shade += words.S(" to %s", strconv.Itoa(c.Shade.RecommendedHigh))
		}
		return &StepNumbers{From: words.S("29 CFR 1910.133(a)(5), never below %s; 8 CCR 3382", strconv.Itoa(c.Shade.Minimum)), Figures: []Figure{{Key: "order.shade", Label: "Shade", Words: shade}}}
	case order.NumberPurgeOxy:
		flow := c.Oxygen.FlowStdM3S
		if c.Cutting != nil {
			flow = c.Cutting.PreheatOxygenStdM3S // the lever is not pressed
		}
		return a.purge(LineOxygen, gas.Oxygen, c.Oxygen.RegulatorGaugePa, flow)
	case order.NumberPurgeFuel:
		return a.purge(LineFuel, gas.Gas(c.FuelName), c.Fuel.RegulatorGaugePa, c.Fuel.FlowStdM3S)
	}
	return nil
}

// purge is how long a hose is blown through at the flow of the tip.
func (a App) purge(line string, g gas.Gas, gaugePa, flow float64) *StepNumbers {
	hose := a.hoseSI(line)
	if hose == nil {
		return &StepNumbers{Missing: words.S("Enter the %s hose under Rig: then the seconds stand here. For 5 m (16 ft) of 6.3 mm (1/4 in) hose and a flow of 150 L/h (5 ft³/h) it would be 26 s.", line),
			Where: "/rig", Way: "Rig"}
	}
	p, err := order.Hose{Gas: g, InsideDiameter: units.Length(hose.InsideDiameterM), Length: units.Length(hose.LengthM), Gauge: units.GaugePressure(gaugePa),
		Ambient: ambient(units.Length(a.Prefs.number(PrefAltitude))), Temperature: units.Temperature(a.Prefs.number(PrefTemperature)), Flow: units.StandardFlow(flow)}.Purge()
	if err != nil {
		return &StepNumbers{Missing: words.S("The time could not be worked out: %s.", err.Error()), Where: "/rig", Way: "Rig"}
	}
	return &StepNumbers{From: "computed: five times what the hose holds, at the flow of the tip (five times: common practice, no source)",
		Figures: []Figure{{Key: "order.purge_" + line, Label: "Purge at least", Quantity: units.QuantityDuration, SI: math.Ceil(float64(p.Time))}}}
}
