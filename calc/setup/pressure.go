package setup

import (
	"math"

	"torchside/calc/flow"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// dischargeBand is the discharge coefficient of a short drilled bore, low, usual, high: flow texts, from memory.
var dischargeBand = [3]float64{0.75, 0.82, 0.90}

// torchFactor is torch-inlet gauge pressure over the pressure just behind the tip: low, usual, high. It stands for valves,
// passages and mixer of the torch, which nobody publishes. From memory.
var torchFactor = [3]float64{1.3, 2, 4}

// Pressures at an equal-pressure torch: 1 to 15 psi for both gases, about equal (NAVEDTRA 14018, read).
const (
	equalPressureLow     = 1 * units.PSI
	sourceEqualPressure  = "NAVEDTRA 14018: equal-pressure torch, both gases 1 to 15 psi and about equal"
	sourceInjectorFuel   = "NAVEDTRA 14018: injector torch, acetylene under 1 psi"
	sourceInjectorOxygen = "injector torch, oxygen 10 to 40 psi (general range, from memory)"
	sourceOrifice        = "isentropic flow through a hole, discharge coefficient 0.75 to 0.9 (flow texts, from memory)"
	formulaTip           = "pressure behind the hole that passes the mixture × loss factor of the torch"
	injectorFuelUsual    = 0.5 * units.PSI
	injectorFuelHigh     = 1 * units.PSI
	injectorOxygenLow    = 10 * units.PSI
	injectorOxygenHigh   = 40 * units.PSI
)

// torchPair is the pressure of both gases at the torch inlet.
type torchPair struct{ oxygen, fuel estimate }

// physicalPressures works out the torch pressures of a tip from its hole, or from the handbook range when that says more.
func physicalPressures(in Input, t *Tip, fuelFlow, ratio float64) (torchPair, error) {
	if in.Rig.Torch.Mixing == Injector {
		return injectorPressures(in, fuelFlow, ratio)
	}
	if t.OrificeDiameterM == nil {
		e := newEstimate(Handbook, sourceEqualPressure, false, 5*units.PSI, equalPressureLow, maxAcetyleneGaugePa, "hole not known: small tips stand near 5 psi (0.34 bar) (common practice, no source)")
		return torchPair{e, e}, nil
	}
	e, err := equalPressures(in, t, fuelFlow, ratio)
	return torchPair{e, e}, err
}

// equalPressures is the pressure that both gases need at an equal-pressure torch.
func equalPressures(in Input, t *Tip, fuelFlow, ratio float64) (estimate, error) {
	var gauge [3]float64
	for i := range gauge {
		cd := dischargeBand[len(dischargeBand)-1-i] // a high coefficient needs a low pressure
		p, err := behindHole(in, t, mixture(in.Rig.FuelCylinder.Fuel, ratio), mixedFlow(in.Rig.FuelCylinder.Fuel, fuelFlow, ratio), cd)
		if err != nil {
			return estimate{}, err
		}
		gauge[i] = max(equalPressureLow, p*torchFactor[i])
	}
	e := newEstimate(Computed, sourceOrifice, true, gauge[1], gauge[0], gauge[2],
		"what is lost in the torch's valves and mixer is not published: taken as 1.3 to 4 times the pressure behind the tip, never below the handbook's 1 psi (0.07 bar)")
	return e.withFormula(formulaTip, NamedValue{Name: "hole", Quantity: "length", SI: *t.OrificeDiameterM},
		NamedValue{Name: "discharge coefficient", Quantity: "number", SI: dischargeBand[1]},
		NamedValue{Name: "loss factor of the torch", Quantity: "number", SI: torchFactor[1]}), nil
}

// behindHole is the gauge pressure just behind the hole of a tip that passes the mixture.
func behindHole(in Input, t *Tip, m gas.Mixture, total units.StandardFlow, cd float64) (float64, error) {
	o := flow.Orifice{Mixture: m, Diameter: units.Length(*t.OrificeDiameterM), DischargeCoefficient: cd,
		Downstream: units.AbsolutePressure(in.AmbientAbsPa), Temperature: units.Temperature(in.TemperatureK)}
	p, err := o.UpstreamFor(total / units.StandardFlow(holes(t)))
	return float64(p) - in.AmbientAbsPa, err
}

// injectorPressures sets an injector torch: fuel just above atmospheric, oxygen by the jet's bore when that is known.
func injectorPressures(in Input, fuelFlow, ratio float64) (torchPair, error) {
	fuel := newEstimate(Handbook, sourceInjectorFuel, false, injectorFuelUsual, 0, injectorFuelHigh, "the jet draws the fuel in; its pressure only has to be there")
	oxygen, err := injectorOxygen(in, oxygenFlow(in.Rig.FuelCylinder.Fuel, fuelFlow, ratio))
	return torchPair{oxygen, fuel}, err
}

func injectorOxygen(in Input, flowStd float64) (estimate, error) {
	jet := in.Rig.Torch.InjectorDiameterM
	if jet == nil {
		return injectorFromRange(flowStd), nil
	}
	var gauge [3]float64
	for i := range gauge {
		o := flow.Orifice{Mixture: gas.Pure(gas.Oxygen), Diameter: units.Length(*jet), DischargeCoefficient: dischargeBand[2-i],
			Downstream: units.AbsolutePressure(in.AmbientAbsPa), Temperature: units.Temperature(in.TemperatureK)}
		p, err := o.UpstreamFor(units.StandardFlow(flowStd))
		if err != nil {
			return estimate{}, err
		}
		gauge[i] = float64(p) - in.AmbientAbsPa
	}
	e := newEstimate(Computed, sourceOrifice, true, gauge[1], gauge[0], gauge[2]*1.2, "the jet's discharge coefficient and the valve before it are not published")
	e = e.withFormula("pressure behind the jet that passes the oxygen", NamedValue{Name: "jet", Quantity: "length", SI: *jet})
	return e.over(injectorFromRange(flowStd)), nil
}

// injectorFromRange places the oxygen pressure inside the general range, low for small flames. Only a place to start from.
func injectorFromRange(flowStd float64) estimate {
	const small, large = 28 * litresPerHour, 1982 * litresPerHour // the ends of the handbook's flow table
	share := math.Log(min(max(flowStd, small), large)/small) / math.Log(large/small)
	value := injectorOxygenLow + share*(injectorOxygenHigh-injectorOxygenLow)
	return newEstimate(Handbook, sourceInjectorOxygen, true, value, injectorOxygenLow, injectorOxygenHigh, "no chart row and no jet bore: the range of all injector torches, low for small flames")
}
