package flame_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/units"
)

// Common practice, no source: soft below 80, normal to 130, harsh above; usable from 40 to 180 m/s.
func TestClassifyExit(t *testing.T) {
	cases := map[units.Speed]flame.ExitClass{
		0: flame.TooSlow, 39.9: flame.TooSlow, 40: flame.Soft, 79.9: flame.Soft, 80: flame.NormalFlow, 130: flame.NormalFlow,
		130.1: flame.Harsh, 180: flame.Harsh, 180.1: flame.TooFast, -1: "",
	}
	for velocity, want := range cases {
		if got := flame.ClassifyExit(velocity); got != want {
			t.Errorf("%v m/s is %q, want %q", velocity, got, want)
		}
	}
	if got := flame.ClassifyExit(units.Speed(math.NaN())); got != "" {
		t.Errorf("not a number is %q", got)
	}
}

// Law: the cone found makes the half-angle whose sine is burning over exit velocity, and by conservation of mass its surface
// burns exactly what leaves the hole: S times the side of the cone is u times the hole.
func TestConeLength_burns_what_leaves_the_hole(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	for range 1000 {
		d, s := 1e-3*(0.2+r.Float64()), 1+10*r.Float64()
		u := s * (1.01 + 30*r.Float64())
		length, err := flame.ConeLength(units.Length(d), units.Speed(u), units.Speed(s))
		if err != nil {
			t.Fatal(err)
		}
		side := math.Pi * d / 2 * math.Hypot(d/2, float64(length))
		calctest.Near(t, s*side, u*math.Pi/4*d*d, 1e-12, "conservation of mass; rounding")
	}
	for _, s := range []units.Speed{0, -1, 101, units.Speed(math.NaN())} {
		_, err := flame.ConeLength(1e-3, 100, s)
		wantRange(t, err, "burning_velocity_m_s")
	}
}

func ExampleConeLength() {
	length, _ := flame.ConeLength(1e-3, 100, 5.26)
	fmt.Printf("%.1f mm\n", float64(length)*1e3)
	// Output: 9.5 mm
}
