package setup

import (
	"torchside/calc/flow"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// lossHeads are velocity heads of the hose bore lost in one part of the line: usual and high. From memory; a maker's flow
// curve would replace them. They only raise what the regulator must give.
var lossHeads = struct{ checkValve, arrestor [2]float64 }{checkValve: [2]float64{10, 30}, arrestor: [2]float64{30, 120}}

// defaultRoughness is the wall of a rubber hose, taken as drawn tubing. From memory.
const defaultRoughness = 1.5e-6

// hoseModel turns a hose of the rig into the flow model; worst asks for the high end of the losses.
func hoseModel(h *Hose, g gas.Gas, t float64, worst bool) flow.Hose {
	i := 0
	if worst {
		i = 1
	}
	k := h.LossCoefficient + float64(h.CheckValves)*lossHeads.checkValve[i] + float64(h.Arrestors)*lossHeads.arrestor[i]
	return flow.Hose{Gas: g, InsideDiameter: units.Length(h.InsideDiameterM), Length: units.Length(h.LengthM),
		Roughness: units.Length(max(h.RoughnessM, defaultRoughness)), LossCoefficient: k, Temperature: units.Temperature(t)}
}

// hoseLoss is the pressure lost between regulator and torch when the torch inlet is at the given gauge pressure. A missing
// hose loses nothing; the card warns of it.
func hoseLoss(h *Hose, g gas.Gas, in Input, torchGauge, flowStd float64) (estimate, error) {
	if h == nil {
		return exact(Computed, "no hose entered", 0, ""), nil
	}
	outlet, flow := units.AbsolutePressure(torchGauge+in.AmbientAbsPa), units.StandardFlow(flowStd)
	drop := func(worst bool) (units.Band, error) {
		m := hoseModel(h, g, in.TemperatureK, worst)
		r, err := m.Inlet(outlet, flow)
		return m.DropBand(r, flow), err
	}
	usual, err := drop(false)
	if err != nil {
		return estimate{}, err
	}
	worst, err := drop(true)
	if err != nil {
		return estimate{}, err
	}
	return newEstimate(Computed, "isothermal pipe flow, Darcy friction", lossFromMemory(h), usual.Value, usual.Low, worst.High, hoseReason(h, usual)), nil
}

// hoseReason says why the loss of a hose is a band.
func hoseReason(h *Hose, b units.Band) string {
	if !lossFromMemory(h) {
		return b.Reason
	}
	return words.S("the wall of the hose and the losses of valves and arrestors are from memory; %s", b.Reason)
}

// hoseGain is the pressure at the torch when the regulator stands at a given gauge pressure; it falls below ambient, and so
// below zero, when the hose cannot pass the flow with that pressure.
func hoseGain(h *Hose, g gas.Gas, in Input, regulator estimate, flowStd float64) (estimate, error) {
	e := exact(Computed, "", regulator.value, regulator.prov.Reason)
	e.prov.Low, e.prov.High, e.prov.FromMemory = regulator.prov.Low, regulator.prov.High, regulator.prov.FromMemory
	if h == nil {
		return e, nil
	}
	flow := units.StandardFlow(flowStd)
	drop := func(worst bool) (units.Band, error) {
		m := hoseModel(h, g, in.TemperatureK, worst)
		r, err := m.Outlet(units.AbsolutePressure(regulator.value+in.AmbientAbsPa), flow)
		return m.DropBand(r, flow), err
	}
	usual, err := drop(false)
	if err != nil {
		return estimate{}, err
	}
	worst, err := drop(true)
	if err != nil {
		return estimate{}, err
	}
	e.value -= usual.Value
	e.prov.Low, e.prov.High = e.prov.Low-worst.High, e.prov.High-usual.Low
	e.prov.FromMemory = e.prov.FromMemory || lossFromMemory(h)
	return e, nil
}

// lossFromMemory reports whether some part of a hose's loss is from memory: its valves and arrestors, or a wall that was not
// entered.
func lossFromMemory(h *Hose) bool {
	return h.CheckValves+h.Arrestors > 0 || h.RoughnessM < defaultRoughness
}
