package vent

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// row finds one row of the reference by the beginning of its item.
func row(t *testing.T, item string) calctest.Row {
	t.Helper()
	for _, r := range calctest.Reference(t, "ventilation.csv") {
		if strings.HasPrefix(r.Text("item"), item) {
			return r
		}
	}
	t.Fatalf("no row %q", item)
	return calctest.Row{}
}

// The limits are those printed by 29 CFR 1910.252(c)(2), of feet and metres the stricter; the rows of limits.csv say the same.
func TestLimits_areThoseOfTheRule(t *testing.T) {
	volume, ceiling, rate := row(t, "volume per welder"), row(t, "ceiling below"), row(t, "least rate")
	calctest.Near(t, float64(LeastVolume), max(volume.Number("value_si"), volume.Number("value_us")*units.CubicFoot), 1e-12, "volume")
	calctest.Near(t, float64(LeastCeiling), max(ceiling.Number("value_si"), ceiling.Number("value_us")*units.Foot), 1e-12, "ceiling")
	calctest.Near(t, PerWelder, rate.Number("value_us")*units.CubicFoot/60, 1e-12, "rate")
	calctest.Near(t, PerWelder, rate.Number("value_si")/60, 0.01, "rate as printed in metres")
	for _, r := range calctest.Where(t, calctest.Reference(t, "limits.csv"), "topic", "ventilation") {
		switch q := r.Text("quantity"); {
		case strings.Contains(q, "room volume"):
			calctest.Near(t, r.Number("value_si"), float64(LeastVolume), 1e-12, q)
		case strings.Contains(q, "ceiling"):
			calctest.Near(t, r.Number("value_si"), float64(LeastCeiling), 1e-12, q)
		case strings.Contains(q, "minimum mechanical"):
			calctest.Near(t, r.Number("value_us")*units.CubicFoot/60, PerWelder, 1e-12, q)
		}
	}
}

// Each hood draws what the table of 29 CFR 1910.252(c)(3)(i) asks at its distance.
func TestHoods_areThoseOfTheRule(t *testing.T) {
	for _, h := range Hoods() {
		r := row(t, fmt.Sprintf("flow, %.0f to %.0f in", float64(h.Near)/units.Inch, float64(h.Far)/units.Inch))
		calctest.Near(t, h.Flow, r.Number("value_us")*units.CubicFoot/60, 1e-12, r.Text("item"))
		var duct float64
		if _, err := fmt.Sscanf(r.Text("condition"), "%g in duct", &duct); err != nil {
			t.Fatal(err)
		}
		calctest.Near(t, float64(h.Duct), duct*units.Inch, 1e-12, "duct")
	}
}

func codes(list []Note) string {
	var out []string
	for _, n := range list {
		out = append(out, n.Code)
	}
	return strings.Join(out, " ")
}

// The three conditions of 29 CFR 1910.252(c)(2)(i), each alone, and at its very limit.
func TestCompute_asksForAFanAsTheRuleDoes(t *testing.T) {
	hall := Input{Place: Room, Volume: 600, Ceiling: 6, Welders: 1}
	for _, c := range []struct {
		name   string
		change func(*Input)
		want   string
		fan    bool
	}{
		{"a hall", func(*Input) {}, "natural_suffices", false},
		{"a garage of 6 x 6 x 2.5 m", func(in *Input) { in.Volume, in.Ceiling = 90, 2.5 }, "small_room low_ceiling", true},
		{"two in the hall", func(in *Input) { in.Welders = 2 }, "natural_suffices", false},
		{"three in the hall", func(in *Input) { in.Welders = 3 }, "small_room", true},
		{"barriers", func(in *Input) { in.Obstructed = true }, "obstructed", true},
		{"just the volume", func(in *Input) { in.Volume = 284 }, "natural_suffices", false},
		{"the feet of the volume alone", func(in *Input) { in.Volume = 283.5 }, "small_room", true},
		{"just the ceiling", func(in *Input) { in.Ceiling = 5 }, "natural_suffices", false},
		{"the feet of the ceiling alone", func(in *Input) { in.Ceiling = 4.9 }, "low_ceiling", true},
		{"a tank", func(in *Input) { in.Place, in.Volume, in.Ceiling = Confined, 4, 1.5 }, "confined small_room low_ceiling", true},
		{"in the open", func(in *Input) { *in = Input{Place: OpenAir, Welders: 1} }, "open_air", false},
		{"zinc in the hall", func(in *Input) { in.Materials = []Material{Zinc} }, "room_suffices", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := hall
			c.change(&in)
			r, err := Compute(in)
			if err != nil {
				t.Fatal(err)
			}
			if got := codes(r.Reasons); got != c.want || r.Mechanical != c.fan {
				t.Errorf("reasons %q, fan %v; want %q, %v", got, r.Mechanical, c.want, c.fan)
			}
			if want := PerWelder * float64(in.Welders); r.Mechanical && r.Flow != want || !r.Mechanical && r.Flow != 0 {
				t.Errorf("flow %v", r.Flow)
			}
			if r.Natural && (r.Mechanical || len(in.Materials) > 0) {
				t.Error("natural ventilation is called sufficient")
			}
		})
	}
}

// A garage of 90 m³ at 2000 ft³/min: 56.634 m³/min × 60 / 90 = 37.756 changes an hour.
func TestCompute_givesAirChanges(t *testing.T) {
	r, err := Compute(Input{Place: Room, Volume: 90, Ceiling: 2.5, Welders: 1})
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, r.AirChanges, 56.6336932*60/90, 1e-8, "2000 ft³ = 56.6336932 m³")
}

// More room, a higher ceiling, fewer people or less poison never make the answer stricter, whatever the rest is.
func TestCompute_isMonotone(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 4))
	for range 500 {
		in := Input{Place: Room, Volume: units.Volume(1 + 900*rnd.Float64()), Ceiling: units.Length(1 + 6*rnd.Float64()), Welders: 1 + rnd.IntN(4), Obstructed: rnd.IntN(4) == 0}
		for _, m := range Materials() {
			if rnd.IntN(5) == 0 {
				in.Materials = append(in.Materials, m)
			}
		}
		r, err := Compute(in)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Measures) != len(in.Materials) {
			t.Fatalf("%v: %s", in.Materials, codes(r.Measures))
		}
		wider := in
		wider.Volume, wider.Ceiling = in.Volume*1.5, in.Ceiling+1
		if b, _ := Compute(wider); b.Mechanical && !r.Mechanical || b.Flow > r.Flow {
			t.Errorf("%+v asks for more than %+v", wider, in)
		}
		crowd := in
		crowd.Welders++
		if b, _ := Compute(crowd); r.Mechanical && !b.Mechanical || b.Flow < r.Flow {
			t.Errorf("%+v asks for less than %+v", crowd, in)
		}
	}
}

// What the two state rules ask for a material is asked: of two that differ, the stricter.
func TestCompute_asksWhatTheMaterialsAsk(t *testing.T) {
	for _, c := range []struct {
		m     Material
		place Place
		want  string
	}{
		{Beryllium, Room, "both"}, {Beryllium, OpenAir, "Only a supplied-air respirator"}, {Cadmium, Room, "exhaust at the work itself"},
		{Cadmium, OpenAir, "respirator"}, {Zinc, Room, "exhaust at the work itself"}, {Lead, Confined, "exhaust at the work itself"},
		{Fluoride, Room, "exhaust at the work itself"}, {Mercury, OpenAir, "respirator"}, {Chromium, Room, "exhaust at the work itself"},
	} {
		r, err := Compute(Input{Place: c.place, Volume: 1000, Ceiling: 6, Welders: 1, Materials: []Material{c.m}})
		if err != nil {
			t.Fatal(err)
		}
		last := r.Measures[len(r.Measures)-1]
		if !strings.Contains(last.Text, c.want) || !last.Stop || last.Source == "" || r.Natural {
			t.Errorf("%s, %s: %+v, natural %v", c.m, c.place, last, r.Natural)
		}
	}
}

// What cannot be is refused by field.
func TestCompute_refuses(t *testing.T) {
	good := Input{Place: Room, Volume: 100, Ceiling: 3, Welders: 1}
	for _, c := range []struct {
		field  string
		change func(*Input)
	}{
		{"place", func(in *Input) { in.Place = "moon" }}, {"materials", func(in *Input) { in.Materials = []Material{"gold"} }},
		{"welders", func(in *Input) { in.Welders = 0 }}, {"room_volume_m3", func(in *Input) { in.Volume = 0 }}, {"ceiling_height_m", func(in *Input) { in.Ceiling = 200 }},
	} {
		in := good
		c.change(&in)
		_, err := Compute(in)
		var outside *gas.RangeError
		var word *WordError
		switch {
		case errors.As(err, &outside) && outside.Field == c.field, errors.As(err, &word) && word.Field == c.field:
		default:
			t.Errorf("%s: %v", c.field, err)
		}
	}
}

// Example: a garage of 6 × 6 m under 2.5 m, galvanised steel.
func ExampleCompute() {
	r, err := Compute(Input{Place: Room, Volume: 90, Ceiling: 2.5, Welders: 1, Materials: []Material{Zinc}})
	fmt.Printf("%v %.3f m³/s %v\n%s\n", r.Mechanical, r.Flow, err, r.Measures[0].Code)
	// Output:
	// true 0.944 m³/s <nil>
	// has_zinc
}
