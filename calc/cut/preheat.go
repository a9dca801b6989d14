package cut

import (
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// preheat is the flame beside the jet.
type preheat struct {
	fuel, oxygen units.StandardFlow
	fuels        units.Band // of the fuel, m³/s
	ratio        float64
	primary      float64 // W, what the torch oxygen releases; the envelope heats the plate little
}

// preheatOf is the flame that belongs to a cutting flow, that of the thickness and not of an orifice wider than it needs. Acetylene
// is a share s of all oxygen: f = s (cut + r f). Another fuel gives the same total heat, from memory.
func (in Input) preheatOf(cutting float64) (preheat, error) {
	same := 1.0
	if in.Fuel != gas.Acetylene {
		same = perVolume(gas.Acetylene) / perVolume(in.Fuel)
	}
	flow := func(s float64) float64 {
		return same * s * cutting / (1 - s*flame.NeutralRatio(gas.Acetylene).Neutral.Value)
	}
	f := flow(fuelShare(in.Thickness))
	fuels := units.Band{Value: f, Low: min(f, flow(thickShare)), High: max(f, flow(thinShare)),
		Reason: "10 to 25 % of all oxygen (Sheet and Plate Metal Work); where between them, by thickness, is from memory"}
	ratio := flame.NeutralRatio(in.Fuel).Neutral.Value
	h, err := flame.HeatsAt(gas.Pure(in.Fuel), ratio)
	if err != nil {
		return preheat{}, err
	}
	primary, _, _ := h.Flow(gas.Pure(in.Fuel), units.StandardFlow(f))
	return preheat{units.StandardFlow(f), units.StandardFlow(f * ratio), fuels, ratio, float64(primary)}, nil
}

// perVolume is the lower heat of a standard volume of fuel.
func perVolume(g gas.Gas) float64 { return flame.HeatingValue(g).PerVolume(g).Lower }
