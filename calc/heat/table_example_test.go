package heat_test

import (
	"fmt"

	"torchside/calc/heat"
)

// What the sources call steel at 850 °C: they agree on cherry, hardly on which.
func ExampleGlowAt() {
	for _, c := range heat.GlowAt(850 + 273.15) {
		fmt.Println(c.Name)
	}
	// Output:
	// cherry red
	// dull cherry
	// dull cherry red
	// dark cherry
}

// A right angle in 16 mm round bar over a radius of 32 mm.
func ExampleBend_Work() {
	r, err := heat.Bend{InsideRadius: 0.032, Thickness: 0.016, Angle: 90, Legs: [2]float64{0.1, 0.2}}.Work()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("arc %.1f mm, cut %.1f mm, heat %.0f mm\n", r.Allowance.Value*1e3, r.Developed.Value*1e3, r.Zone*1e3)
	// Output: arc 62.8 mm, cut 362.8 mm, heat 95 mm
}

// A steel of 0.45 % carbon and 0.7 % manganese, 25 mm thick.
func ExampleSteel_Preheat() {
	p, err := heat.Steel{C: 0.45, Mn: 0.7}.Preheat(0.025)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("carbon equivalent %.2f, %s; preheat %.0f °C\n", p.Equivalent.IIW, p.Equivalent.Weldability(), p.Lowest-273.15)
	// Output: carbon equivalent 0.57, poor; preheat 200 °C
}
