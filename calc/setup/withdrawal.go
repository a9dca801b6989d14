package setup

import (
	"math"

	"torchside/calc/gas"
)

// overdrawn refuses a tip that would draw acetylene faster than its cylinders may give it. The way out says how many would.
func overdrawn(in Input, c *candidate, s stock) *Refusal {
	if s.intermittent == nil || c.fuelFlow.value <= *s.intermittent*(1+1e-9) {
		return nil
	}
	fuel := in.Rig.FuelCylinder.Fuel
	r := &Refusal{Code: "withdrawal", Field: "tip " + c.tip.Label, Read: flowText(c.fuelFlow.value, fuel) + " of " + fuel.Name() + " wanted",
		Allowed: "at most " + flowText(*s.intermittent, fuel) + " from the cylinders as they are now", Why: "drawn faster, acetylene carries its solvent along: the flame turns bad and the cylinder is spoilt",
		Source: s.limitSource, WaysOut: []string{"fit a smaller tip for thinner work"}}
	if s.perCylinder > 0 {
		n := math.Ceil(c.fuelFlow.value/s.perCylinder - 1e-9)
		r.WaysOut = append(r.WaysOut, "manifold "+number(n)+" cylinders as full as this one, or take a larger or fuller one")
	}
	return r
}

// ofWithdrawal tells when a flow is allowed in turns but not without a pause.
func ofWithdrawal(in Input, c *candidate, s stock) []Warning {
	if s.continuous == nil || c.fuelFlow.value <= *s.continuous*(1+1e-9) {
		return nil
	}
	fuel := gas.Gas(in.Rig.FuelCylinder.Fuel)
	return []Warning{{"withdrawal_continuous", Caution, "Not without pauses: drawn all the time, at most " + flowText(*s.continuous, fuel) + " from the cylinder as it is now.",
		s.limitSource, "fuel.flow_std_m3_s"}}
}
