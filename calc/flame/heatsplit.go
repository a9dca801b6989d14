package flame

import (
	"torchside/calc/gas"
	"torchside/calc/units"
)

// HeatSplit is the heat of a torch flame, split by where the oxygen comes from, in J per mol of fuel: lower heat at 298.15 K,
// water as vapour.
type HeatSplit struct {
	// Primary is what the torch oxygen can release: up to the ratio of the TorchNeutral equation in proportion to the oxygen, as CO
	// and H2; oxygen beyond that burns CO and H2 alike, until all is burnt.
	Primary float64
	// Envelope is what air adds; Total is both.
	Envelope, Total float64
}

// HeatsAt returns the heat of a fuel at a ratio of torch oxygen to fuel, in mol to mol. Carbon and hydrogen that the torch
// oxygen does not reach count as fuel left for the envelope; what acetylene gives by falling apart is not counted as heat of the
// oxygen.
//
// Errors: gas.ErrUnknown and gas.ErrMixture for what is no fuel; *gas.RangeError for oxidizer_fuel_ratio.
func HeatsAt(fuel gas.Mixture, ratio float64) (HeatSplit, error) {
	if err := checkFuel(fuel); err != nil {
		return HeatSplit{}, err
	}
	if err := checkRatio(ratio); err != nil {
		return HeatSplit{}, err
	}
	stage := stagesOf(fuel)
	h := HeatSplit{Total: stage.total}
	switch {
	case ratio >= stage.complete:
		h.Primary = stage.total
	case ratio <= stage.primaryRatio:
		h.Primary = stage.primary * ratio / stage.primaryRatio
	default:
		h.Primary = stage.primary + (stage.total-stage.primary)*(ratio-stage.primaryRatio)/(stage.complete-stage.primaryRatio)
	}
	h.Envelope = h.Total - h.Primary
	return h, nil
}

// stages are the two stages of burning of a mixture of fuels: heats in J and oxygen in mol, per mol.
type stages struct{ primary, total, primaryRatio, complete float64 }

// stagesOf adds up the fuels. Hydrogen beside a fuel with carbon has no stage of its own before CO and H2; alone it burns in
// one.
func stagesOf(fuel gas.Mixture) stages {
	var s stages
	hydrogenAlone := fuel[gas.Hydrogen] >= 1-gas.FractionTolerance
	for _, g := range gas.Fuels() {
		x, h, r := fuel[g], HeatingValue(g), balance(g)
		s.total += x * h.Lower
		s.complete += x * r.Complete.oxygenRatio(g)
		if g == gas.Hydrogen && !hydrogenAlone {
			continue
		}
		s.primary += x * h.Primary
		s.primaryRatio += x * r.TorchNeutral.oxygenRatio(g)
	}
	return s
}

// Flow returns the heats in W of a flow of fuel, by the real density of each fuel at 15 °C and 101.325 kPa.
func (h HeatSplit) Flow(fuel gas.Mixture, flow units.StandardFlow) (primary, envelope, total units.Power) {
	moles := float64(flow) * float64(fuel.StandardDensity()) / fuel.MolarMass() // mol/s
	return units.Power(h.Primary * moles), units.Power(h.Envelope * moles), units.Power(h.Total * moles)
}
