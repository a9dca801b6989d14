package braze_test

import (
	"fmt"

	"torchside/calc/braze"
	"torchside/calc/heat"
)

// A steel bracket of 3 mm on a copper fitting, lapped along 40 mm.
func ExampleCompute() {
	r, err := braze.Compute(braze.Input{Metal: heat.MildSteel, Other: heat.Copper, Joint: braze.Lap, Thinner: 0.003, Length: 0.04})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s, %.0f to %.0f °C, %s\n", r.Filler.Class, r.HeatTo.Low-273.15, r.HeatTo.High-273.15, r.Flux.Name)
	fmt.Printf("gap %.2f to %.2f mm, overlap %.0f mm, rod %.0f mm\n", r.Gap.Low*1e3, r.Gap.High*1e3, float64(r.Overlap)*1e3, r.Used.Rod.Value*1e3)
	// Output:
	// BAg-7, 652 to 760 °C, white fluoride brazing paste, FB3-A
	// gap 0.05 to 0.13 mm, overlap 9 mm, rod 27 mm
}

// Brass rod on aluminium.
func ExampleRefusal() {
	_, err := braze.Compute(braze.Input{Metal: heat.Aluminium, Filler: "RBCuZn-A", Thinner: 0.002})
	fmt.Println(err)
	// Output: filler: read RBCuZn-A; allowed is a filler that flows below 635 °C (1176 °F): aluminium begins to melt at 660 °C (1221 °F), and this filler flows from 910 °C (1670 °F): the part is gone first; use an aluminium-silicon filler, BAlSi-4 or the like, with its own flux
}
