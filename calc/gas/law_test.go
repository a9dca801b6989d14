package gas_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// draws returns a repeatable source of random states.
func draws() *rand.Rand { return rand.New(rand.NewPCG(15, 101325)) }

// temperature draws a temperature Density allows.
func temperature(r *rand.Rand) units.Temperature {
	low, high := float64(gas.TemperatureMinimum), float64(gas.TemperatureMaximum)
	return units.Temperature(low + r.Float64()*(high-low))
}

// ceiling is the highest pressure Density allows.
func ceiling(g gas.Gas, t units.Temperature) float64 {
	switch {
	case g.Storage() == gas.StoredCompressed:
		return 30e6
	case g.Storage() == gas.StoredLiquefied:
		return min(5e5, float64(g.Saturation(t)))
	}
	return 5e5
}

func TestDensityRisesWithPressureAndFallsWithTemperature(t *testing.T) {
	r := draws()
	for _, g := range gas.All() {
		for range 300 {
			T := temperature(r)
			p := units.AbsolutePressure(r.Float64() * 0.99 * ceiling(g, T))
			here := density(t, g, p, T)
			if more := density(t, g, p*1.001, T); more <= here {
				t.Errorf("%s at %g Pa, %g K: density does not rise with pressure", g, p, T)
			}
			if warmer := density(t, g, p, min(T+0.1, gas.TemperatureMaximum)); warmer > here {
				t.Errorf("%s at %g Pa, %g K: density rises with temperature", g, p, T)
			}
		}
	}
}

// density asks where the answer must exist.
func density(t *testing.T, g gas.Gas, p units.AbsolutePressure, T units.Temperature) units.Density {
	t.Helper()
	d, err := g.Density(p, T)
	if err != nil {
		t.Fatalf("%s at %g Pa, %g K: %v", g, p, T, err)
	}
	return d
}

func TestEveryGasIsIdealNearVacuum(t *testing.T) {
	r := draws()
	for _, g := range gas.All() {
		for range 100 {
			T := temperature(r)
			p := units.AbsolutePressure(math.Pow(10, 4*r.Float64()-2)) // 0.01 to 100 Pa
			ideal := float64(p) * g.MolarMass() / (gas.R * float64(T))
			calctest.Near(t, float64(density(t, g, p, T)), ideal, 3e-5, string(g)+": at 1 mbar no gas here is more than 30 ppm from ideal")
		}
		if d := density(t, g, 0, 288.15); d != 0 {
			t.Errorf("%s has density %g in a vacuum", g, d)
		}
	}
}

func TestDensityRefusesWhatItDoesNotKnow(t *testing.T) {
	cases := []struct {
		name  string
		gas   gas.Gas
		p     units.AbsolutePressure
		t     units.Temperature
		field string
		words string
	}{
		{"oxygen at 500 bar", gas.Oxygen, 500e5, 288.15, "abs_pressure_pa", "500 bar"},
		{"oxygen below vacuum", gas.Oxygen, -1e5, 288.15, "abs_pressure_pa", "-1 bar"},
		{"oxygen at no pressure", gas.Oxygen, units.AbsolutePressure(math.NaN()), 288.15, "abs_pressure_pa", "NaN"},
		{"oxygen at -300 °C", gas.Oxygen, 1e5, -26.85, "temperature_k", "-300 °C"},
		{"oxygen at 60 °C", gas.Oxygen, 1e5, 333.15, "temperature_k", "60 °C"},
		{"oxygen at no temperature", gas.Oxygen, 1e5, units.Temperature(math.NaN()), "temperature_k", "NaN"},
		{"acetylene in a cylinder", gas.Acetylene, 17e5, 288.15, "abs_pressure_pa", "weighing"},
		{"propane in a cylinder", gas.Propane, 7e5, 288.15, "abs_pressure_pa", "weighing"},
		{"propane in the cold", gas.Propane, 3e5, 253.15, "abs_pressure_pa", "condenses"},
		{"methylacetylene in the cold", gas.Methylacetylene, 2e5, 253.15, "abs_pressure_pa", "condenses"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := c.gas.Density(c.p, c.t)
			var e *gas.RangeError
			if !errors.As(err, &e) {
				t.Fatalf("got %v, want a *RangeError", err)
			}
			if e.Field != c.field || !strings.Contains(err.Error(), c.words) || e.Why == "" {
				t.Errorf("the message does not say %q about %s: %v", c.words, c.field, err)
			}
		})
	}
	if _, err := gas.Gas("krypton").Density(1e5, 288.15); !errors.Is(err, gas.ErrUnknown) {
		t.Errorf("an unknown gas gave %v", err)
	}
}

// Guards typed limits: -20 °C is allowed although 273.15 - 20 is not 253.15 to the last bit.
func TestLimitsAreInclusiveAfterConversion(t *testing.T) {
	for _, degrees := range []float64{-20, 50} {
		density(t, gas.Oxygen, 1e5, units.Temperature(degrees+273.15))
	}
	density(t, gas.Oxygen, units.GaugePressure(30e6).Absolute(units.StandardAtmosphere), 288.15)
}

func TestParseKnowsEveryGasAndNothingElse(t *testing.T) {
	for _, g := range gas.All() {
		for _, name := range []string{string(g), strings.ToUpper(string(g)), "  " + string(g) + " "} {
			if got, err := gas.Parse(name); err != nil || got != g {
				t.Errorf("Parse(%q) = %q, %v", name, got, err)
			}
		}
		if g.Name() == "" || g.Formula() == "" || !(g.MolarMass() > 0) {
			t.Errorf("%s lacks a name, formula or molar mass", g)
		}
	}
	for _, name := range []string{"", "oxy", "helium", "oxygen2"} {
		if _, err := gas.Parse(name); !errors.Is(err, gas.ErrUnknown) || !strings.Contains(err.Error(), "acetylene") {
			t.Errorf("Parse(%q): %v does not list what is known", name, err)
		}
	}
	if len(gas.Fuels()) != 7 {
		t.Errorf("fuels are %v", gas.Fuels())
	}
}

// Guards the formulas against the molar masses: a sum of atomic weights (CIAAW 2021), so a slip in either shows.
func TestMolarMassIsTheSumOfItsAtoms(t *testing.T) {
	const C, H, N, O, Ar = 12.011, 1.008, 14.007, 15.999, 39.95
	sums := map[string]float64{
		"O2": 2 * O, "N2": 2 * N, "Ar": Ar, "C2H2": 2*C + 2*H, "C3H8": 3*C + 8*H, "C3H6": 3*C + 6*H, "C3H4": 3*C + 4*H,
		"CH4": C + 4*H, "H2": 2 * H,
	}
	for _, g := range gas.All() {
		if g == gas.Air {
			parts := 0.7812*2*N + 0.2096*2*O + 0.0092*Ar
			calctest.Near(t, g.MolarMass(), parts/1000, 3e-4, "nitrogen, oxygen and argon alone: carbon dioxide adds 0.02 %")
			continue
		}
		calctest.Near(t, g.MolarMass(), sums[g.Formula()]/1000, 1e-12, "the same sum")
	}
}

func TestHeatCapacityIsHeldAtTheEndsOfItsRange(t *testing.T) {
	for _, g := range gas.All() {
		if g.MolarHeatCapacity(100) != g.MolarHeatCapacity(200) || g.MolarHeatCapacity(3000) != g.MolarHeatCapacity(1000) {
			t.Errorf("%s: heat capacity runs away outside 200 to 1000 K", g)
		}
		if k := g.HeatCapacityRatio(288.15); !(k > 1.1 && k < 1.7) {
			t.Errorf("%s: cp/cv is %g", g, k)
		}
	}
}
