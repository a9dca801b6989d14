package setup

import (
	"torchside/calc/gas"
	"torchside/calc/words"
)

// span is the smallest and the largest number that a tip's rows give; none when no row gives one.
type span struct {
	low, high float64
	any       bool
}

func (s *span) take(r *Range) {
	if r == nil {
		return
	}
	if !s.any {
		*s = span{r.Low, r.High, true}
		return
	}
	s.low, s.high = min(s.low, r.Low), max(s.high, r.High)
}

// holds allows for the last digit of a chart in another unit.
func (s span) holds(v float64) bool {
	const slack = 0.01
	return !s.any || v >= s.low*(1-slack) && v <= s.high*(1+slack)
}

// spanOf gathers one column of a tip's rows for a fuel, whatever their work, metal and thickness.
func (t *Tip) spanOf(fuel gas.Gas, column func(*ChartRow) *Range) span {
	var s span
	for i := range t.Chart {
		if row := &t.Chart[i]; row.Fuel == "" || row.Fuel == fuel {
			s.take(column(row))
		}
	}
	return s
}

// MakersMinimum is the smallest fuel flow of the maker's rows for a tip and fuel, 0 when none gives one.
func (t *Tip) MakersMinimum(fuel gas.Gas) float64 {
	return t.spanOf(fuel, func(r *ChartRow) *Range { return r.FuelFlowStd }).low
}

// made is one number of a tip that its maker gives limits for.
type made struct {
	what   string
	value  float64
	column func(*ChartRow) *Range
	text   func(float64) string
}

// outsideMakers rejects a tip that would run below the maker's smallest flow or pressure, or above the largest: a flame on too
// little gas goes back into the tip, and only the maker knows how little that is. A number out of a row that holds for the
// question is the maker's own.
func (c *candidate) outsideMakers(in Input) *Refusal {
	if len(c.tip.Chart) == 0 {
		return nil
	}
	fuel := in.Rig.FuelCylinder.Fuel
	for _, m := range c.madeNumbers(fuel) {
		if s := c.tip.spanOf(fuel, m.column); !s.holds(m.value) {
			return c.outside(m, s)
		}
	}
	return nil
}

// madeNumbers are the numbers of a candidate that no row of its own settles.
func (c *candidate) madeNumbers(fuel gas.Gas) []made {
	var list []made
	if c.row == nil || c.row.FuelFlowStd == nil {
		list = append(list, made{words.S("%s flow", fuel.Name()), c.fuelFlow.value, func(r *ChartRow) *Range { return r.FuelFlowStd }, flowOf(fuel)})
	}
	if c.row != nil {
		return list
	}
	list = append(list, made{"oxygen flow", c.chartedOxygen(), func(r *ChartRow) *Range { return r.OxygenFlowStd }, flowOf(gas.Oxygen)})
	list = append(list, pressuresMade(fuel.Name(), c.regulator.fuel.value, c.torch.fuel.value, func(r *ChartRow) *Range { return r.FuelGaugePa })...)
	return append(list, pressuresMade("oxygen", c.regulator.oxygen.value, c.torch.oxygen.value, func(r *ChartRow) *Range { return r.OxygenGaugePa })...)
}

// pressuresMade compares a pressure where the chart reads it: at the regulator, or at the torch.
func pressuresMade(name string, regulator, torch float64, column func(*ChartRow) *Range) []made {
	at := func(place ChartPlace) func(*ChartRow) *Range {
		return func(r *ChartRow) *Range {
			if (r.PressuresAt == AtTorch) != (place == AtTorch) {
				return nil
			}
			return column(r)
		}
	}
	return []made{{words.S("%s pressure", name), regulator, at(AtRegulator), pressureText}, {words.S("%s pressure at the torch", name), torch, at(AtTorch), pressureText}}
}

// outside says both numbers, and the way out that the side asks for.
func (c *candidate) outside(m made, s span) *Refusal {
	side, limit, way := "below the maker's smallest", s.low, "fit a smaller tip"
	if m.value > s.high {
		side, limit, way = "above the maker's largest", s.high, "fit a larger tip"
	}
	return &Refusal{Code: "outside_makers_chart", Field: words.S("tip %s", c.tip.Label), Read: words.S("%s %s", m.what, m.text(m.value)), Allowed: words.S("%s to %s, as in the rows of its chart", m.text(s.low), m.text(s.high)),
		Why:    words.S("for this work its %s would be %s, %s for this tip, %s", m.what, m.text(m.value), side, m.text(limit)),
		Source: sourceChart, WaysOut: []string{way, "type in the row of the maker's chart for this thickness, if there is one"}}
}
