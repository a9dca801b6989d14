package flow

import (
	"math"

	"torchside/calc/units"
)

// settledShare is the uncertainty of a drop outside the transition: 1 % of the formula against numerical integration, 1 % of
// viscosity data, which a laminar drop follows in proportion, and 1 % of what the wall is like.
const settledShare = 0.03

// DropBand returns the pressure lost along the hose in Pa with its uncertainty, for a result of Outlet or Inlet at a flow. In
// the transition Low is the laminar drop and High the turbulent one; when the turbulent loss would choke the hose, High is the
// whole inlet pressure. The bore is taken as typed: 1 % of bore is 5 % of drop.
func (h Hose) DropBand(r HoseResult, flow units.StandardFlow) units.Band {
	drop := r.Drop()
	if r.Reynolds <= LaminarReynolds || r.Reynolds >= TurbulentReynolds {
		return units.Band{Value: drop, Low: drop * (1 - settledShare), High: drop * (1 + settledShare), Reason: "formula and viscosity data"}
	}
	turbulent := colebrook(r.Reynolds, max(float64(h.Roughness/h.InsideDiameter), 0))
	return units.Band{
		Value:  drop,
		Low:    min(drop, h.dropWith(64/r.Reynolds, r, flow)),
		High:   max(drop, h.dropWith(turbulent, r, flow)),
		Reason: "Reynolds number between laminar and turbulent flow: low end laminar, high end turbulent",
	}
}

// dropWith is the drop from the inlet of r with another friction factor.
func (h Hose) dropWith(friction float64, r HoseResult, flow units.StandardFlow) float64 {
	inlet := float64(r.Inlet)
	specific, err := h.specific("inlet_abs_pa", r.Inlet)
	if err != nil { // r is not a result of this hose
		return r.Drop()
	}
	p := pipe{
		resistance: friction*float64(h.Length/h.InsideDiameter) + h.LossCoefficient,
		sonic:      h.state(flow).flux * math.Sqrt(specific),
	}
	if !p.passes(inlet) {
		return inlet
	}
	return inlet - p.outlet(inlet)
}
