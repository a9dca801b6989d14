package cylinder_test

import (
	"fmt"

	"torchside/calc/cylinder"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// 50 L at 200 bar and 15 °C: 10.64 m³, where the simple rule gives 9.92 (testdata/reference/cylinders.csv, computed there with an
// independent library).
func ExampleCompressed() {
	c := cylinder.Compressed{Gas: gas.Oxygen, WaterVolume: 0.050, Gauge: 200e5, Temperature: 288.15, Ambient: units.StandardAtmosphere}
	got, err := c.Contents()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f m³, Z = %.4f, simple rule %.2f m³\n", float64(got.Contents), got.Compressibility, float64(got.Contents)*(1+got.IdealGasError))
	// Output: 10.64 m³, Z = 0.9313, simple rule 9.91 m³
}

// The Army's large oxygen cylinder, 244 ft³ at 2200 psi gauge and 70 °F (TC 9-237, chapter 5): the real gas needs 43.0 L of water
// volume for it.
func ExampleCompressed_Contents() {
	c := cylinder.Compressed{
		Gas: gas.Oxygen, WaterVolume: 0.001, Gauge: 2200 * psi,
		Temperature: units.USStandardTemperature, Ambient: units.StandardAtmosphere,
	}
	perLitre, err := c.Contents()
	if err != nil {
		fmt.Println(err)
		return
	}
	feet := float64(perLitre.Contents) / float64(gas.Oxygen.StandardRatio()) / cubicFoot
	fmt.Printf("%.1f L\n", 244/feet)
	// Output: 43.0 L
}

// The simple rule of the textbooks (2000 psi × 29.5 L / 14.7 psi = 4013.6 L) is the ideal gas; the real contents are 7 % more.
func ExampleContents_idealGasError() {
	ideal := 2000.0 * 29.5 / 14.7
	c := cylinder.Compressed{
		Gas: gas.Oxygen, WaterVolume: 0.0295, Gauge: (2000 - 14.7) * psi,
		Temperature: units.StandardTemperature, Ambient: 14.7 * psi,
	}
	got, err := c.Contents()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("simple rule %.1f L, real gas %.0f L, the rule is off by %.1f %%\n", ideal, float64(got.Contents)*1000, got.IdealGasError*100)
	// Output: simple rule 4013.6 L, real gas 4310 L, the rule is off by -6.9 %
}

// An unlikely reading.
func ExampleCompressed_refused() {
	_, err := cylinder.Compressed{Gas: gas.Oxygen, WaterVolume: 0.050, Gauge: 500e5, Temperature: 288.15, Ambient: 101325}.Contents()
	fmt.Println(err)
	_, err = cylinder.Compressed{Gas: gas.Acetylene, WaterVolume: 0.040, Gauge: 15e5, Temperature: 288.15, Ambient: 101325}.Contents()
	fmt.Println(err)
	// Output:
	// gauge_pressure_pa is 500 bar (7252 psi), allowed is 0 bar (0 psi) to 300 bar (4351 psi): cylinders of welding gases are filled to 150 or 200 bar (2200 or 2900 psi), the highest to 300 bar (4350 psi); if the gauge shows more, check the unit and keep clear
	// gas is acetylene, whose gauge does not tell the contents (it does for oxygen, nitrogen, argon, air, methane, hydrogen): acetylene is dissolved in solvent, so weigh the cylinder: gross weight less the tare stamped on it is the gas, 1 kg of it is about 0.9 m³ (1 lb about 14.7 ft³)
}

// An invented cylinder of 5 kg, half full, in a shop at 20 °C.
func ExampleAcetylene() {
	a := cylinder.Acetylene{Gross: 42.5, Tare: 40, Full: 5, Temperature: 293.15}
	got, err := a.Contents()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f m³, draw at most %.0f L/h now and then, %.0f L/h all the time\n",
		float64(got.Contents), float64(got.Intermittent)*3.6e6, float64(got.Continuous)*3.6e6)
	fmt.Println(got.Withdrawal.Source)
	// Output:
	// 2.25 m³, draw at most 225 L/h now and then, 150 L/h all the time
	// CGA G-1 (2009 and later), NFPA 51/55, from memory
}
