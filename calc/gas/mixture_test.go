package gas_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/units"
)

func TestMixtureCheckNamesWhatIsWrong(t *testing.T) {
	cases := []struct {
		name  string
		m     gas.Mixture
		err   error
		words string
	}{
		{"pure", gas.Pure(gas.Oxygen), nil, ""},
		{"torch", gas.Mixture{gas.Oxygen: 0.5, gas.Acetylene: 0.5}, nil, ""},
		{"rounded", gas.Mixture{gas.Oxygen: 0.5238095, gas.Acetylene: 0.4761905}, nil, ""},
		{"at the tolerance", gas.Mixture{gas.Oxygen: 0.5, gas.Acetylene: 0.5 - 0.9e-6}, nil, ""},
		{"just beyond the tolerance", gas.Mixture{gas.Oxygen: 0.5, gas.Acetylene: 0.5 - 1.1e-6}, gas.ErrMixture, "sum"},
		{"too much", gas.Mixture{gas.Oxygen: 0.6, gas.Acetylene: 0.6}, gas.ErrMixture, "1.2"},
		{"empty", gas.Mixture{}, gas.ErrMixture, "0"},
		{"nothing at all", nil, gas.ErrMixture, "0"},
		{"negative", gas.Mixture{gas.Oxygen: 1.5, gas.Acetylene: -0.5}, gas.ErrMixture, "acetylene"},
		{"not a number", gas.Mixture{gas.Oxygen: math.NaN()}, gas.ErrMixture, "oxygen"},
		{"unknown", gas.Mixture{gas.Oxygen: 0.5, "xenon": 0.5}, gas.ErrUnknown, "xenon"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			err := c.m.Check()
			if !errors.Is(err, c.err) || (err == nil) != (c.err == nil) {
				t.Fatalf("got %v, want %v", err, c.err)
			}
			if err != nil && !strings.Contains(err.Error(), c.words) {
				t.Errorf("%v does not say %q", err, c.words)
			}
		})
	}
}

func TestAPureMixtureIsItsGas(t *testing.T) {
	for _, g := range gas.All() {
		m, T := gas.Pure(g), units.Temperature(280)
		const why = "the same gas, rounding only"
		calctest.Near(t, m.MolarMass(), g.MolarMass(), 1e-12, why)
		calctest.Near(t, m.HeatCapacityRatio(T), g.HeatCapacityRatio(T), 1e-12, why)
		calctest.Near(t, m.Viscosity(T), g.Viscosity(T), 1e-12, why)
		calctest.Near(t, float64(m.StandardDensity()), float64(g.StandardDensity()), 1e-12, why)
		calctest.Near(t, float64(m.USStandardDensity()), float64(g.USStandardDensity()), 1e-12, why)
	}
}

// Guards the rule that standard flows of a torch add up: oxygen and fuel go in, the mixture comes out.
func TestStandardVolumesOfAMixtureAddUp(t *testing.T) {
	r := draws()
	for range 200 {
		x := r.Float64()
		m := gas.Mixture{gas.Oxygen: x, gas.Acetylene: 1 - x}
		molar := func(g gas.Gas) float64 { return g.MolarMass() / float64(g.StandardDensity()) }
		parts := x*molar(gas.Oxygen) + (1-x)*molar(gas.Acetylene)
		calctest.Near(t, m.MolarMass()/float64(m.StandardDensity()), parts, 1e-12, "Amagat, rounding only")
	}
}

// Guards mole averages against the worked mixtures of the reference table.
func TestTorchMixtureMatchesTheReference(t *testing.T) {
	worst := calctest.NewWorst("cp/cv of oxy-acetylene", 0.001, "heat capacities from another source")
	for _, r := range calctest.Reference(t, "orifice_flow.csv") {
		x := r.Number("oxygen_mole_fraction")
		m := gas.Mixture{gas.Oxygen: x, gas.Acetylene: 1 - x}
		worst.Add(t, m.HeatCapacityRatio(celsius(r, "upstream_temperature_C")), r.Number("gamma"), r.ID())
		calctest.Near(t, m.MolarMass()*1000, r.Number("molar_mass_g_mol"), 1e-4, "two sets of atomic weights")
	}
	worst.Report(t)
}

// Guards air given as parts against air as one gas: two ways to the same properties.
func TestAirAsAMixtureIsAir(t *testing.T) {
	air, T := gas.Mixture{gas.Nitrogen: 0.7812, gas.Oxygen: 0.2096, gas.Argon: 0.0092}, units.Temperature(288.15)
	calctest.Near(t, air.MolarMass(), gas.Air.MolarMass(), 3e-4, "the same parts but for 0.02 % of carbon dioxide")
	calctest.Near(t, air.HeatCapacityRatio(T), gas.Air.HeatCapacityRatio(T), 1e-12, "the same parts")
	calctest.Near(t, float64(air.StandardDensity()), float64(gas.Air.StandardDensity()), 4e-4, "additive volumes against the mixture equation, and no carbon dioxide")
	calctest.Near(t, air.Viscosity(T), gas.Air.Viscosity(T), 0.01, "Wilke's rule is good to 1 % for such like molecules")
}

func TestMixtureStringIsTheSameOnEveryRun(t *testing.T) {
	m := gas.Mixture{gas.Oxygen: 0.5, gas.Acetylene: 0.25, gas.Air: 0.25}
	for range 20 {
		if got := m.String(); got != "acetylene 0.25, air 0.25, oxygen 0.5" {
			t.Fatal(got)
		}
	}
}
