package setup

import (
	"math/rand/v2"
	"strings"
	"testing"

	"torchside/calc/flow"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// Law: the loss of a hose lies inside its band, which holds the laminar and the turbulent loss where the flow may be either; the
// way up the hose and the way down it agree.
func TestHose_lossIsABandThatHoldsLaminarAndTurbulentFlow(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	h := &Hose{InsideDiameterM: 6.35e-3, LengthM: 10, RoughnessM: defaultRoughness}
	in := Input{TemperatureK: 293.15, AmbientAbsPa: float64(units.StandardAtmosphere)}
	transition := 0
	for range 300 {
		flowStd := 5e-5 + r.Float64()*1e-3
		e, err := hoseLoss(h, gas.Oxygen, in, 1e5, flowStd)
		if err != nil {
			t.Fatal(err)
		}
		m := hoseModel(h, gas.Oxygen, in.TemperatureK, false)
		end, err := m.Inlet(units.AbsolutePressure(1e5+in.AmbientAbsPa), units.StandardFlow(flowStd))
		if err != nil {
			t.Fatal(err)
		}
		if !(e.prov.Low < e.value && e.value < e.prov.High) {
			t.Errorf("%g m³/s: loss %g, from %g to %g", flowStd, e.value, e.prov.Low, e.prov.High)
		}
		if unsure := end.Reynolds > flow.LaminarReynolds && end.Reynolds < flow.TurbulentReynolds; unsure {
			transition++
			if band := m.DropBand(end, units.StandardFlow(flowStd)); e.prov.Low > band.Low || e.prov.High < band.High || !strings.Contains(e.prov.Reason, "laminar") {
				t.Errorf("Re %g: %g to %g (%s), the flow alone leaves %g to %g", end.Reynolds, e.prov.Low, e.prov.High, e.prov.Reason, band.Low, band.High)
			}
		}
		regulator := exact(Computed, "", 1e5+e.value, "")
		regulator.prov.Low, regulator.prov.High = regulator.value, regulator.value
		down, err := hoseGain(h, gas.Oxygen, in, regulator, flowStd)
		if err != nil || !(down.prov.Low < down.value && down.value < down.prov.High) {
			t.Errorf("%g m³/s down the hose: %g, from %g to %g, %v", flowStd, down.value, down.prov.Low, down.prov.High, err)
		}
	}
	if transition < 10 {
		t.Errorf("%d flows in the transition: too few to tell", transition)
	}
}
