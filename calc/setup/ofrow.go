package setup

import (
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// leavesRow tells that a ratio asked for takes the oxygen flow out of the maker's row, so that its oxygen pressure is that of
// another flame.
func (c *candidate) leavesRow(in Input) bool {
	if c.row == nil || !(in.Ratio > 0) {
		return false
	}
	if r := c.row.OxygenFlowStd; r != nil {
		return c.oxyFlow.value < r.Low*(1-1e-9) || c.oxyFlow.value > r.High*(1+1e-9)
	}
	neutral := flame.NeutralRatio(in.Rig.FuelCylinder.Fuel).Neutral // a row without oxygen flow is read as one for the neutral flame
	return in.Ratio < neutral.Low || in.Ratio > neutral.High
}

const sourceScaledRow = "the maker's pressure × (flow ÷ flow of the row)², as pressure is lost in hoses and holes"

// demoteOxygen takes the name of the maker's chart off an oxygen pressure whose flow left the row: the row's number is scaled with
// the square of the flow, and stays beside it. A number that was computed anyhow is left alone.
func (c *candidate) demoteOxygen(in Input) {
	row := chartPressure(c.row, false)
	if row == nil || !c.leavesRow(in) {
		return
	}
	share := c.oxyFlow.value / c.rowOxygen(in)
	scale := func(e estimate) estimate {
		old := e.prov.Others
		e.prov.Others = nil
		s := newEstimate(Computed, sourceScaledRow, false, e.value*share*share, e.prov.Low*share*share, e.prov.High*share*share, "the flow is not that of the chart row").
			withFormula("pressure of the row × (flow ÷ flow of the row)²", NamedValue{Name: "pressure of the row", Quantity: "pressure", SI: e.value}, NamedValue{Name: "flow ÷ flow of the row", Quantity: "number", SI: share})
		s = s.over(e)
		s.prov.Others = append(s.prov.Others, old...)
		return s
	}
	c.torch.oxygen, c.regulator.oxygen = scale(c.torch.oxygen), scale(c.regulator.oxygen)
}

// rowOxygen is the oxygen flow that the row stands for.
func (c *candidate) rowOxygen(in Input) float64 {
	if r := c.row.OxygenFlowStd; r != nil {
		return (r.Low + r.High) / 2
	}
	fuel := in.Rig.FuelCylinder.Fuel
	return oxygenFlow(fuel, c.fuelFlow.value, flame.NeutralRatio(fuel).Neutral.Value)
}

// thinAir is the share of standard air below which a chart is no longer taken as it stands: near 1000 m. Our choice.
const thinAir = 0.9

// ofRow tells where the maker's row and the rig or the place do not go together.
func ofRow(in Input, c *candidate) []Warning {
	if c.row == nil || c.row.OxygenGaugePa == nil && c.row.FuelGaugePa == nil {
		return nil
	}
	var out []Warning
	torch := map[Mixing]string{EqualPressure: "an equal-pressure torch", Injector: "an injector torch"}
	has := in.Rig.Torch.Mixing
	switch {
	case c.row.Mixing != "" && c.row.Mixing != has:
		out = append(out, Warning{"row_for_other_torch", Caution, words.S("The chart row is for %s, yours is %s: its pressures do not hold. Type in the row for your torch.", torch[c.row.Mixing], torch[has]), sourceChart, "oxygen.regulator_gauge_pa"})
	case c.row.Mixing == "" && has == Injector && in.Rig.FuelCylinder.Fuel == gas.Acetylene && c.row.FuelGaugePa != nil && c.row.FuelGaugePa.Low > 1*units.PSI:
		out = append(out, Warning{"row_for_other_torch", Caution, words.S("The chart row has acetylene at %s, an injector torch takes it under %s: see whether the row is for your torch.", pressureText(c.row.FuelGaugePa.Low), pressureText(1*units.PSI)), sourceInjectorFuel, "oxygen.regulator_gauge_pa"})
	}
	if in.AmbientAbsPa < thinAir*float64(units.StandardAtmosphere) {
		out = append(out, Warning{"row_in_thin_air", Check, "The chart's pressures are for air near sea level; up here the same gauge reading gives less gas. Set the flame by its looks.", "common practice, no source", "oxygen.regulator_gauge_pa"})
	}
	return out
}
