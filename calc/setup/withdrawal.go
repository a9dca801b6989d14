package setup

import (
	"strconv"

	"torchside/calc/cylinder"
	"torchside/calc/units"
	"torchside/calc/words"
)

// overdrawn refuses a tip that would draw acetylene faster than its cylinders may give it. The way out says how many would.
func overdrawn(in Input, c *candidate, s stock) *Refusal {
	if s.intermittent == nil || c.fuelFlow.value <= *s.intermittent*(1+1e-9) {
		return nil
	}
	fuel := in.Rig.FuelCylinder.Fuel
	if s.spent != nil {
		return s.spent.refusal(fuel.Name())
	}
	r := &Refusal{Code: "withdrawal", Field: words.S("tip %s", c.tip.Label), Read: words.S("%s of %s wanted", flowText(c.fuelFlow.value, fuel), fuel.Name()),
		Allowed: words.S("at most %s from the cylinders as they are now", flowText(*s.intermittent, fuel)), Why: "drawn faster, acetylene carries its solvent along: the flame turns bad and the cylinder is spoilt",
		Source: s.intermittentSource, WaysOut: []string{"fit a smaller tip for thinner work"}}
	if n, err := cylinder.CylindersNeeded(units.StandardFlow(c.fuelFlow.value), units.StandardFlow(s.perCylinder)); err == nil && n <= mostCylinders {
		way := words.S("manifold %s cylinders as full as this one", strconv.Itoa(n))
		if !s.flat {
			way += words.T(", or take a larger or fuller one")
		}
		r.WaysOut = append(r.WaysOut, way)
	}
	return r
}

// ofWithdrawal tells when a flow is allowed in turns but not without a pause.
func ofWithdrawal(in Input, c *candidate, s stock) []Warning {
	if s.continuous == nil || c.fuelFlow.value <= *s.continuous*(1+1e-9) {
		return nil
	}
	fuel, cylinders := in.Rig.FuelCylinder.Fuel, "the cylinder as it is now."
	if in.Rig.FuelCylinder.Count > 1 {
		cylinders = "the cylinders as they are now."
	}
	return []Warning{{"withdrawal_continuous", Caution, words.S("Not without pauses: drawn all the time, at most %s from %s", flowText(*s.continuous, fuel), cylinders),
		s.continuousSource, "fuel.flow_std_m3_s"}}
}
