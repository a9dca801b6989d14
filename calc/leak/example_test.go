package leak_test

import (
	"fmt"

	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

// An invented oxygen hose of 0.2 L set to 2 bar; fifteen minutes later it reads 1.85 bar and is 2 K warmer.
func ExampleTest_Result() {
	t := leak.Test{
		Gas: gas.Oxygen, Volume: 0.2e-3, VolumeError: 0.03e-3, PressureError: 2500, TemperatureError: 0.5,
		Readings: leak.Between(301325, 293.15, 286325, 295.15, 900),
	}
	r, err := t.Result()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %.2f L/h (%.2f to %.2f), allowed %.2f, could see %.2f\n", r.Verdict,
		r.Leak.Value*3.6e6, r.Leak.Low*3.6e6, r.Leak.High*3.6e6, float64(r.Allowed)*3.6e6, float64(r.SmallestDetectable)*3.6e6)
	// Output: leaking: 0.13 L/h (0.07 to 0.21), allowed 0.20, could see 0.05
}

// A tight oxygen cylinder at 150 bar that cools from 25 to 5 °C over night falls by 14 bar (testdata/reference/leak_decay.csv, row LD-0203:
// 135.81 bar gauge). An ideal gas would fall by 10.
func ExampleTightPressure() {
	p, err := leak.TightPressure(gas.Oxygen, 15101325, 298.15, 278.15)
	if err != nil {
		fmt.Println(err)
		return
	}
	ideal := 15101325 * 278.15 / 298.15
	fmt.Printf("%.2f bar gauge; ideal gas %.1f bar\n", float64(p.Gauge(units.StandardAtmosphere))/1e5, (ideal-101325)/1e5)
	// Output: 135.81 bar gauge; ideal gas 139.9 bar
}

// How long to wait with a gauge of 1 psi divisions on 0.2 L of acetylene at 10 psi.
func ExamplePlan_TimeNeeded() {
	room := units.Temperature(293.15)
	p := leak.Plan{Gas: gas.Acetylene, Volume: 0.2e-3, Gauge: 10 * units.PSI, Temperature: &room, PressureError: 0.5 * units.PSI, TemperatureError: 0.5}
	d, err := p.TimeNeeded(leak.DefaultAllowed)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f min\n", float64(d)/60)
	// Output: 5 min
}

// One bubble of 3 mm a second (testdata/reference/leak_testing.csv: 0.014 cm³/s).
func ExampleBubbles_Leak() {
	b, err := leak.Bubbles{Diameter: 3e-3, PerSecond: 1}.Leak()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f L/h, between %.3f and %.3f\n", b.Value*3.6e6, b.Low*3.6e6, b.High*3.6e6)
	// Output: 0.050 L/h, between 0.021 and 0.098
}

// Acetylene at 200 L/h into 10 m³ with 0.3 changes of air an hour (testdata/reference/room_concentration.csv, row RC-0046: 6.35 % in
// the end, a tenth of the limit after 6.9 minutes).
func ExampleExposure_After() {
	e := leak.Exposure{Gas: gas.Acetylene, Leak: 200e-3 / 3600, Room: leak.Room{Volume: 10, AirChanges: 0.3}}
	a, err := e.After(3600)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(a.Notes[0].Code)
	fmt.Printf("%.2f %% after an hour, %.2f %% in the end, a tenth of the limit after %.1f min\n", a.Concentration*100, a.Steady*100, float64(*a.ToTenth)/60)
	// Output:
	// explosive
	// 1.74 % after an hour, 6.35 % in the end, a tenth of the limit after 6.9 min
}

// What a refusal says.
func ExampleTest_Result_refused() {
	t := leak.Test{Gas: gas.Acetylene, Volume: 0.2e-3, PressureError: 3000, Readings: leak.Between(225000, 293.15, 220000, 293.15, 600)}
	_, err := t.Result()
	fmt.Println(err)
	// Output: start_abs_pa is 2.25 bar (32.63 psi), allowed is 1.013 bar (14.7 psi) to 2.047 bar (29.7 psi): acetylene is never used above 15 psi (1.03 bar) gauge or 30 psi (2.06 bar) absolute, not for a test either: 29 CFR 1910.253(a)(2); the cylinder side is judged by its gauge alone
}

// Which gauge moved, with the cylinder and the torch shut and the screw backed out.
func ExampleLocate() {
	f, _ := leak.Locate(true, leak.Held, leak.Rose)
	fmt.Println(f.Sides[0], "-", f.Next)
	// Output: seat - Take the regulator out of service and have it repaired.
}
