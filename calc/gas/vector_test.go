package gas_test

import (
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// vectorInput is what the vectors of testdata/vectors/gas give.
type vectorInput struct {
	Gas         gas.Gas                `json:"gas"`
	Property    string                 `json:"property"`
	Pressure    units.AbsolutePressure `json:"abs_pressure_pa"`
	Temperature units.Temperature      `json:"temperature_k"`
}

func TestPublishedValuesAreMet(t *testing.T) {
	for _, v := range calctest.Vectors(t, "gas") {
		t.Run(v.Name, func(t *testing.T) {
			var in vectorInput
			v.Input(t, &in)
			switch in.Property {
			case "density":
				v.Near(t, float64(density(t, in.Gas, in.Pressure, in.Temperature)))
			case "heat_capacity_ratio":
				v.Near(t, in.Gas.HeatCapacityRatio(in.Temperature))
			case "viscosity":
				v.Near(t, in.Gas.Viscosity(in.Temperature))
			default:
				t.Errorf("unknown property %q", in.Property)
			}
		})
	}
}
