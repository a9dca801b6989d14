package setup

import (
	"encoding/json"
	"errors"
	"testing"
)

func p(v float64) *float64 { return &v }

// shopRig is an invented rig: a 20 L oxygen cylinder, acetylene by weight, an equal-pressure torch and three tips.
func shopRig() *Rig {
	return &Rig{
		OxygenCylinder:  &OxygenCylinder{WaterVolumeM3: 0.020, GaugePressurePa: 138e5},
		FuelCylinder:    &FuelCylinder{Fuel: "acetylene", GrossMassKg: p(40.2), TareMassKg: p(36), FullMassKg: p(4.6)},
		OxygenRegulator: &Regulator{MaxGaugePa: 690e3},
		FuelRegulator:   &Regulator{MaxGaugePa: 207e3},
		OxygenHose:      &Hose{InsideDiameterM: 0.0063, LengthM: 5, CheckValves: 1, Arrestors: 1},
		FuelHose:        &Hose{InsideDiameterM: 0.0063, LengthM: 5, CheckValves: 1, Arrestors: 1, Grade: GradeT},
		Torch:           &Torch{Mixing: EqualPressure},
		Tips: []Tip{
			{Label: "small", OrificeDiameterM: p(0.0008)},
			{Label: "middle", OrificeDiameterM: p(0.0011)},
			{Label: "large", OrificeDiameterM: p(0.0014)},
		},
	}
}

// eighth is the question of the first light: weld mild steel of 1/8 in, butt joint.
func eighth() Input {
	return Input{Work: Weld, Metal: MildSteel, ThicknessM: 0.125 * 0.0254, Joint: Butt, Rig: shopRig(), TemperatureK: 293.15, AmbientAbsPa: 101325}
}

func TestCompute_prints(t *testing.T) {
	c, err := Compute(eighth())
	var r *Refusal
	if errors.As(err, &r) {
		t.Fatal(r)
	}
	b, _ := json.MarshalIndent(c, "", " ")
	t.Log(string(b))
}
