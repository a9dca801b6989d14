package cylinder_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/cylinder"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// Every row of the table of oxygen read backwards: the contents of a cylinder of 20 litres give 20 litres.
func TestWaterVolumeHoldsOverTheWholeReferenceTable(t *testing.T) {
	worst := calctest.NewWorst("water volume from contents", 0.003, "testdata/reference/oxygen_density.csv; 0.3 % is the bar set for contents")
	const litres = 20
	for _, r := range calctest.Reference(t, "oxygen_density.csv") {
		bar := r.Number("pressure_gauge_bar")
		if bar < 10 || bar > 300 {
			continue // no cylinder is filled to less
		}
		std := units.StandardVolume(litres * r.Number("std_litres_15C_1atm_per_litre_water") / 1000)
		got, err := cylinder.WaterVolume(gas.Oxygen, std, units.GaugePressure(bar*1e5), units.Temperature(r.Number("temperature_C")+273.15))
		if err != nil {
			t.Fatal(r.ID(), err)
		}
		worst.Add(t, float64(got)*1000, litres, r.ID())
	}
	worst.Report(t)
}

// The army's large oxygen cylinder: 244 ft³ at 2200 psi and 70 °F (TC 9-237, oxygen cylinders). Its water volume, 43.0 L, is
// worked out from the oxygen equation of state in reference/cylinders.csv; it is printed to 0.1 L.
func TestWaterVolumeOfTheLargeCylinder(t *testing.T) {
	std := units.StandardVolume(244 * cubicFoot * float64(gas.Oxygen.USStandardDensity()) / float64(gas.Oxygen.StandardDensity()))
	got, err := cylinder.WaterVolume(gas.Oxygen, std, 2200*psi, cylinder.RatedUS)
	if litres := float64(got) * 1000; err != nil || math.Abs(litres-43.0) > 0.1 {
		t.Errorf("%.2f L, %v; the reference says 43.0 L", litres, err)
	}
}

// Law: a cylinder found from its contents holds them.
func TestWaterVolumeUndoesContents(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	for range 2000 {
		g := []gas.Gas{gas.Oxygen, gas.Methane, gas.Hydrogen}[random.IntN(3)]
		c := cylinder.Compressed{Gas: g, WaterVolume: units.Volume(1e-3 + 0.2*random.Float64()), Gauge: units.GaugePressure(1e6 + 29e6*random.Float64()),
			Temperature: units.Temperature(260 + 60*random.Float64()), Ambient: units.StandardAtmosphere}
		got, err := cylinder.WaterVolume(g, contents(t, c).Contents, c.Gauge, c.Temperature)
		if err != nil || math.Abs(float64(got/c.WaterVolume)-1) > 1e-12 {
			t.Fatalf("%+v: %v m³, %v", c, got, err)
		}
	}
}

func TestWaterVolumeRefusesWhatNoCylinderHolds(t *testing.T) {
	for name, c := range map[string]struct {
		g     gas.Gas
		std   units.StandardVolume
		fill  units.GaugePressure
		field string
	}{
		"nothing":             {gas.Oxygen, 0, 15e6, "water_volume_m3"},
		"less than nothing":   {gas.Oxygen, -1, 15e6, "full_contents_std_m3"},
		"no number":           {gas.Oxygen, units.StandardVolume(math.NaN()), 15e6, "full_contents_std_m3"},
		"a tank":              {gas.Oxygen, 5000, 15e6, "water_volume_m3"},
		"filled beyond limit": {gas.Oxygen, 3, 40e6, "gauge_pressure_pa"},
	} {
		var r *gas.RangeError
		if got, err := cylinder.WaterVolume(c.g, c.std, c.fill, cylinder.RatedUS); !errors.As(err, &r) || r.Field != c.field {
			t.Errorf("%s: %v, %v; want a refusal of %s", name, got, err, c.field)
		}
	}
	var weighed *cylinder.NotCompressedError
	if _, err := cylinder.WaterVolume(gas.Acetylene, 3, 15e5, cylinder.RatedUS); !errors.As(err, &weighed) {
		t.Errorf("acetylene: %v", err)
	}
}
