package gas_test

import (
	"fmt"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// How far the simple rule is off at the pressure of a full cylinder: reference figures 0.9376 (oxygen at 2200 psi gauge, 70 °F) from
// testdata/reference/oxygen_pv.csv.
func ExampleGas_Density() {
	p := units.GaugePressure(2200 * 6894.757).Absolute(units.StandardAtmosphere)
	rho, err := gas.Oxygen.Density(p, units.USStandardTemperature)
	if err != nil {
		fmt.Println(err)
		return
	}
	z := float64(p) * gas.Oxygen.MolarMass() / (float64(rho) * gas.R * float64(units.USStandardTemperature))
	fmt.Printf("Z = %.4f, the ideal gas is %.1f %% off\n", z, (z-1)*100)
	// Output: Z = 0.9376, the ideal gas is -6.2 % off
}

// A pressure no welding cylinder has.
func ExampleRangeError() {
	_, err := gas.Oxygen.Density(500e5, units.StandardTemperature)
	fmt.Println(err)
	// Output: abs_pressure_pa is 500 bar (7252 psi), allowed is 0 bar (0 psi) to 301.2 bar (4369 psi): gas data were checked from vacuum to 300 bar (4350 psi), the highest fill of a welding gas cylinder
}

// Acetylene at one atmosphere takes 1 % less room than an ideal gas: 1 kg is 899 L at 15 °C (reference figure).
func ExampleGas_StandardDensity() {
	fmt.Printf("%.0f L/kg at 15 °C\n", 1000/float64(gas.Acetylene.StandardDensity()))
	fmt.Printf("%.1f ft³/kg at 70 °F\n", 1/float64(gas.Acetylene.USStandardDensity())/0.028316846592)
	// Output:
	// 899 L/kg at 15 °C
	// 32.4 ft³/kg at 70 °F
}

// An equal mixture, as it leaves a torch at the ratio 1:1.
func ExampleMixture() {
	m := gas.Mixture{gas.Oxygen: 0.5, gas.Acetylene: 0.5}
	fmt.Println(m.Check())
	fmt.Printf("%.3f g/mol, cp/cv %.3f\n", m.MolarMass()*1000, m.HeatCapacityRatio(293.15))
	// Output:
	// <nil>
	// 29.018 g/mol, cp/cv 1.295
}
