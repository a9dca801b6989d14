package cut

import (
	"errors"
	"fmt"
	"math"

	"torchside/calc/flow"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

const (
	// dischargeCoefficient of a drilled cutting orifice: a short drilled bore passes 0.8 to 0.9 of an ideal nozzle, from memory.
	dischargeCoefficient = 0.9
	dischargeLow         = 0.8
	dischargeHigh        = 0.98 // a rounded nozzle: API 520 part 1 takes 0.975
	// highestGauge is 8 bar at the torch, from memory; it only makes the answer stricter.
	highestGauge = 8e5
	// widestOrifice is how many times the chosen diameter may be given: a wider jet would use ten times the oxygen.
	widestOrifice = 3
)

// jet is the cutting oxygen at its orifice.
type jet struct {
	orifice    units.Length
	upstream   units.AbsolutePressure
	flow       units.Band // m³/s, standard
	chosenFlow float64    // what the thickness asks for
}

// jetOf chooses the orifice, or takes that of the input and the pressure that gives the flow the thickness asks for.
func (in Input) jetOf(a anchor, purity Impurity) (jet, error) {
	pressure := (a.gauge + float64(units.StandardAtmosphere)) * purity.flow() // choked flow follows the absolute pressure
	j := jet{orifice: units.Length(a.orifice), upstream: units.AbsolutePressure(pressure)}
	asked, err := in.through(j)
	if err != nil {
		return jet{}, err
	}
	j.chosenFlow = float64(asked.Flow)
	if in.Orifice != 0 {
		if err := in.checkOrifice(a.orifice, pressure); err != nil {
			return jet{}, err
		}
		ratio := a.orifice / float64(in.Orifice)
		lowest := anchors[0].gauge + float64(units.StandardAtmosphere) // of all cutting data here; still choked
		j.orifice, j.upstream = in.Orifice, units.AbsolutePressure(max(pressure*ratio*ratio, lowest))
	}
	if in.Torch != 0 {
		j.upstream = in.Torch.Absolute(in.Ambient)
	}
	r, err := in.through(j)
	if err != nil {
		return jet{}, err
	}
	if in.Flow != 0 {
		v := float64(in.Flow)
		j.flow = units.Band{Value: v, Low: v, High: v, Reason: "as given"}
		return j, nil
	}
	v := float64(r.Flow)
	j.flow = units.Band{Value: v, Low: v * dischargeLow / dischargeCoefficient, High: v * dischargeHigh / dischargeCoefficient,
		Reason: "choked flow; discharge coefficient 0.8 to 0.98, from memory"}
	return j, nil
}

// through is the flow of a jet into the air.
func (in Input) through(j jet) (flow.OrificeResult, error) {
	return flow.Orifice{Mixture: in.oxygen(), Diameter: j.orifice, DischargeCoefficient: dischargeCoefficient,
		Upstream: j.upstream, Downstream: in.Ambient, Temperature: in.Temperature}.Flow()
}

// oxygen is the gas with what it holds beside oxygen.
func (in Input) oxygen() gas.Mixture {
	return gas.Mixture{gas.Oxygen: in.Purity, gas.Argon: 1 - in.Purity}
}

// checkOrifice refuses an orifice that would need more than highestGauge, or is far too wide.
func (in Input) checkOrifice(chosen, pressure float64) error {
	narrowest := chosen * math.Sqrt(pressure/(highestGauge+float64(in.Ambient)))
	if in.Torch != 0 || in.Flow != 0 { // a chart then says what the hole is for
		narrowest = chosen / widestOrifice
	}
	return gas.InRange("orifice_diameter_m", float64(in.Orifice), narrowest, widestOrifice*chosen, "m", words.F(
		"for this thickness %.2f mm (%.3f in) is usual; a narrower one would need more than 8 bar (116 psi), a wider one wastes oxygen",
		chosen*1e3, chosen/0.0254))
}

// regulator is the gauge pressure to set so that what the hose loses at this flow is made up; nil without a hose.
func (in Input) regulator(torch units.AbsolutePressure, total units.StandardFlow) (*units.GaugePressure, error) {
	if in.OxygenHose == nil {
		return nil, nil
	}
	h := *in.OxygenHose
	h.Gas, h.Temperature = gas.Oxygen, in.Temperature
	r, err := h.Inlet(torch, total)
	if err != nil {
		return nil, hoseError(err)
	}
	g := r.Inlet.Gauge(in.Ambient)
	return &g, nil
}

// hoseError puts an error about the hose on the field of the question.
func hoseError(err error) error {
	var outside *gas.RangeError
	if errors.As(err, &outside) {
		named := *outside
		named.Field = "oxygen_hose." + outside.Field
		return &named
	}
	return fmt.Errorf("oxygen_hose: %w", err)
}
