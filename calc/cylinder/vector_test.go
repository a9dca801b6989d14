package cylinder_test

import (
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/cylinder"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// vectorInput is what the vectors of testdata/vectors/cylinder give, by the names of the command line.
type vectorInput struct {
	Gas         gas.Gas                `json:"gas"`
	WaterVolume units.Volume           `json:"water_volume_m3"`
	Gauge       units.GaugePressure    `json:"gauge_pressure_pa"`
	Temperature units.Temperature      `json:"temperature_k"`
	Ambient     units.AbsolutePressure `json:"ambient_abs_pa"`
}

func TestPublishedContentsAreMet(t *testing.T) {
	for _, v := range calctest.Vectors(t, "cylinder") {
		t.Run(v.Name, func(t *testing.T) {
			var in vectorInput
			v.Input(t, &in)
			v.Near(t, float64(contents(t, cylinder.Compressed(in)).Contents))
		})
	}
}
