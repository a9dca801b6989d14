package flow

import (
	"fmt"
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// Orifice is a drilled hole, such as the bore of a tip, with gas at rest before it.
type Orifice struct {
	Mixture  gas.Mixture  // mole fractions of what flows, summing to 1
	Diameter units.Length // of the hole
	// DischargeCoefficient is the flow over that of an ideal nozzle: about 0.95–0.99 for a rounded nozzle (API 520 part 1:
	// 0.975), 0.8–0.9 for a short drilled bore (from memory), 0.61 for a sharp-edged plate (AIChE guideline). A sharp-edged
	// plate chokes less sharply than computed here.
	DischargeCoefficient float64
	Upstream             units.AbsolutePressure // stagnation pressure before the hole
	Downstream           units.AbsolutePressure // pressure the hole opens into
	Temperature          units.Temperature      // stagnation temperature before the hole
}

// OrificeResult is what passes an Orifice.
type OrificeResult struct {
	MassFlow units.MassFlow
	Flow     units.StandardFlow
	Choked   bool
	// ExitVelocity is the velocity of the jet in the throat, at the throat's own pressure and temperature; the velocity of
	// sound there when choked. The discharge coefficient does not lower it.
	ExitVelocity units.Speed
	// MeanVelocity is ExitVelocity times the discharge coefficient: the volume flow at the throat state over the whole hole.
	MeanVelocity units.Speed
}

// Flow returns what passes from Upstream to Downstream, by the isentropic nozzle equations times the discharge coefficient
// (formulas and their sources at nozzle). Equal pressures give zero flow. Against a real-gas expansion the ideal formula is
// low by 0.05 % at 0.1 bar to 0.6 % at 7 bar gauge for oxygen and by 0.5–0.8 % for acetylene.
//
// Errors: *gas.RangeError for a value outside its limits or a downstream above the upstream pressure; a wrapped
// gas.ErrMixture or gas.ErrUnknown for the mixture.
func (o Orifice) Flow() (OrificeResult, error) {
	if err := o.check(); err != nil {
		return OrificeResult{}, fmt.Errorf("orifice: %w", err)
	}
	if err := o.checkUpstream(); err != nil {
		return OrificeResult{}, fmt.Errorf("orifice: %w", err)
	}
	n := o.nozzle()
	upstream, downstream := float64(o.Upstream), float64(o.Downstream)
	choked := downstream <= upstream*ChokingRatio(n.k)
	flux := n.chokedFlux(upstream)
	if !choked {
		flux = n.subsonicFlux(upstream, downstream)
	}
	mass := flux * o.effectiveArea()
	velocity := n.velocity(upstream, downstream)
	return OrificeResult{
		MassFlow:     units.MassFlow(mass),
		Flow:         units.StandardFlow(mass / float64(o.Mixture.StandardDensity())),
		Choked:       choked,
		ExitVelocity: units.Speed(velocity),
		MeanVelocity: units.Speed(velocity * o.DischargeCoefficient),
	}, nil
}

// UpstreamFor returns the upstream pressure that drives a flow into Downstream; o.Upstream is ignored. It is exact: both
// branches of the nozzle equation invert in closed form. No flow needs no more than Downstream.
//
// Errors are those of Flow, and a *gas.RangeError naming the largest flow when it would take more than MaxOrificePressure.
func (o Orifice) UpstreamFor(flow units.StandardFlow) (units.AbsolutePressure, error) {
	if err := o.check(); err != nil {
		return 0, fmt.Errorf("orifice: %w", err)
	}
	n := o.nozzle()
	density := float64(o.Mixture.StandardDensity())
	largest := n.chokedFlux(float64(MaxOrificePressure)) * o.effectiveArea() / density
	if err := gas.InRange("flow_std_m3_s", float64(flow), 0, largest, "m³/s", largestFlowWhy); err != nil {
		return 0, fmt.Errorf("orifice: %w", err)
	}
	return units.AbsolutePressure(o.upstream(n, float64(flow)*density/o.effectiveArea())), nil
}

// upstream picks the branch: a choked answer holds when it indeed chokes against the downstream pressure.
func (o Orifice) upstream(n nozzle, flux float64) float64 {
	if p := n.chokedUpstream(flux); float64(o.Downstream) <= p*ChokingRatio(n.k) {
		return p
	}
	return n.subsonicUpstream(flux, float64(o.Downstream))
}

func (o Orifice) nozzle() nozzle {
	return nozzle{
		k:        o.Mixture.HeatCapacityRatio(o.Temperature),
		specific: gas.R * float64(o.Temperature) / o.Mixture.MolarMass(),
	}
}

// effectiveArea is Cd π d²/4 in m².
func (o Orifice) effectiveArea() float64 {
	return o.DischargeCoefficient * math.Pi / 4 * float64(o.Diameter) * float64(o.Diameter)
}
