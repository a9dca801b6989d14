package cut_test

import (
	"fmt"

	"torchside/calc/cut"
)

// A metre of 13 mm plate.
func ExampleCompute() {
	r, err := cut.Compute(cut.Input{Thickness: 0.013, Length: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f mm, %.1f bar, %.0f mm/min, %.1f min\n", r.Orifice*1e3, float64(r.Gauge)/1e5, r.Speed.Value*60e3, r.Time.Value/60)
	// Output: 1.2 mm, 2.1 bar, 360 mm/min, 2.8 min
}
