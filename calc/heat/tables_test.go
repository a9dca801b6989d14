package heat

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/units"
)

// Every row of the reference tables of colours that was read is here, in its order.
func TestColours_areThoseOfTheReference(t *testing.T) {
	for _, c := range []struct {
		file string
		rows []Colour
	}{{"heat_colours.csv", GlowColours()}, {"temper_colours.csv", TemperColours()}} {
		i := 0
		for _, r := range calctest.Where(t, calctest.Reference(t, c.file), "trust", "B") {
			name := r.Text("colour")
			if strings.HasPrefix(name, "temperature step") || strings.Contains(name, "range used") {
				continue // no colour
			}
			want := Colour{Name: name, Low: r.Number("temp_low_degC"), Source: r.Text("source")}
			if r.Has("temp_high_degC") {
				want.High = r.Number("temp_high_degC")
			}
			if i >= len(c.rows) || c.rows[i] != want {
				t.Fatalf("%s: %d is not %+v", c.file, i, want)
			}
			i++
		}
		if i != len(c.rows) {
			t.Errorf("%s: %d rows, reference %d", c.file, len(c.rows), i)
		}
	}
}

// At 850 °C the sources disagree; at 300 °C nothing glows and all of them see blue or purple.
func TestColours_atATemperature(t *testing.T) {
	names := func(rows []Colour) string {
		var out []string
		for _, r := range rows {
			out = append(out, r.Name)
		}
		return strings.Join(out, ", ")
	}
	for _, c := range []struct{ got, want string }{
		{names(GlowAt(850 + zeroCelsius)), "cherry red, dull cherry, dull cherry red, dark cherry"},
		{names(GlowAt(300 + zeroCelsius)), ""},
		{names(TemperAt(300 + zeroCelsius)), "blue, dark purple, dark blue"},
		{names(TemperAt(400 + zeroCelsius)), ""},
		{names(TemperAt(100 + zeroCelsius)), ""},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
	if low, high, n := Spread(GlowColours(), "cherry"); low != 593 || high != 1000 || n < 9 {
		t.Errorf("cherry from %v to %v in %d sources", low, high, n)
	}
}

// The glow shows earlier in the dark than in the sun.
func TestFirstGlow_risesWithTheLight(t *testing.T) {
	last := units.Temperature(0)
	for _, l := range Lights() {
		k, source := FirstGlow(l)
		if k <= last || source == "" {
			t.Errorf("%s: %v after %v, source %q", l, k, last, source)
		}
		last = k
	}
	if k, _ := FirstGlow("moonlight"); k != 0 {
		t.Error("a light nobody knows")
	}
}

// A working range lies below melting, and bending heat within it.
func TestWorkingRange_isSolid(t *testing.T) {
	for _, m := range Metals() {
		w, ok := WorkingRange(m)
		if !ok {
			if m != CastIron {
				t.Errorf("%s has no range", m)
			}
			continue
		}
		heat := float64(w.BendingHeat())
		if p := properties[m]; w.Range.Low >= w.Range.High || w.Range.High >= p.Melts.Low || heat < w.Range.Low || heat > w.Range.High || w.Source == "" {
			t.Errorf("%s: %+v, melts at %v", m, w, p.Melts.Low)
		}
	}
}

// A ring of 360° is as long as the circle of its middle line; two halves are as long as the whole.
func TestBend_isGeometry(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		b := Bend{InsideRadius: r.Float64(), Thickness: 0.001 + 0.2*r.Float64(), Angle: 360, Legs: [2]float64{r.Float64(), r.Float64()}}
		ring, err := b.Work()
		if err != nil {
			t.Fatal(err)
		}
		calctest.Near(t, ring.Allowance.Value, math.Pi*(2*b.InsideRadius+b.Thickness), 1e-12, "circle of the middle line")
		b.Angle = 180
		half, err := b.Work()
		if err != nil {
			t.Fatal(err)
		}
		calctest.Near(t, 2*half.Allowance.Value, ring.Allowance.Value, 1e-12, "two halves")
		calctest.Near(t, half.Developed.Value-half.Allowance.Value, b.Legs[0]+b.Legs[1], 1e-12, "legs")
		if half.Allowance.Low > half.Allowance.Value || half.Zone < half.Allowance.Value {
			t.Errorf("%+v", half)
		}
		// The outer fibre is longer than the middle line by its strain.
		outer := math.Pi * (b.InsideRadius + b.Thickness)
		calctest.Near(t, half.Allowance.Value*(1+half.OutsideStrain), outer, 1e-12, "length of the outer arc")
	}
}

// A right angle in 16 mm round over 32 mm: the arc of a 40 mm radius, π/2 × 40 = 62.83 mm; a tight one has a note.
func TestBend_rightAngle(t *testing.T) {
	got, err := Bend{InsideRadius: 0.032, Thickness: 0.016, Angle: 90, Legs: [2]float64{0.1, 0.2}}.Work()
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, got.Allowance.Value, 0.0628319, 1e-5, "π/2 × 40 mm")
	calctest.Near(t, got.Developed.Value, 0.3628319, 1e-5, "legs and arc")
	calctest.Near(t, got.Zone, 0.0948319, 1e-5, "arc and a thickness on either side")
	if len(got.Notes) != 0 {
		t.Errorf("%+v", got.Notes)
	}
	if tight, err := (Bend{InsideRadius: 0.005, Thickness: 0.016, Angle: 90}).Work(); err != nil || len(tight.Notes) != 1 {
		t.Errorf("%+v %v", tight, err)
	}
	for _, b := range []Bend{{0, 0, 90, [2]float64{}}, {-1, 0.01, 90, [2]float64{}}, {0.01, 0.01, 0, [2]float64{}}, {0.01, 0.01, 400, [2]float64{}}, {0.01, 0.01, 90, [2]float64{-1, 0}}, {0.01, 0.01, math.NaN(), [2]float64{}}} {
		if _, err := b.Work(); err == nil {
			t.Errorf("%+v is laid out", b)
		}
	}
}

// The formulas of preheat.csv, worked by hand for C 0.2, Mn 0.6, Si 0.3, Cr 0.1, Mo 0.05, V 0.01, Ni 0.2, Cu 0.3, B 0.0005.
func TestEquivalents_followTheFormulas(t *testing.T) {
	e := Steel{0.2, 0.6, 0.3, 0.1, 0.05, 0.01, 0.2, 0.3, 0.0005}.Equivalents()
	calctest.Near(t, e.IIW, 0.2+0.1+0.032+0.0333333333, 1e-9, "IIW IX-535-67")
	calctest.Near(t, e.D11, e.IIW+0.05, 1e-9, "D1.1 adds Si/6")
	calctest.Near(t, e.Pcm, 0.2+0.01+0.03+0.015+0.0033333333+0.005+0.0033333333+0.001+0.0025, 1e-9, "API 5L")
	for ce, want := range map[float64]string{0.35: "excellent", 0.38: "very good", 0.45: "good", 0.5: "fair", 0.6: "poor"} {
		if got := (Equivalents{IIW: ce}).Weldability(); got != want {
			t.Errorf("%v: %s, want %s", ce, got, want)
		}
	}
}

// Category A of the table of AWS D1.1 in preheat.csv, for a steel so lean that no stricter rule holds.
func TestPreheat_isThatOfTheTable(t *testing.T) {
	lean := Steel{C: 0.18, Mn: 0.3}
	rows := calctest.Where(t, calctest.Reference(t, "preheat.csv"), "case", "category A: non-low-hydrogen process")
	for _, r := range rows {
		low := r.Number("thickness_low_mm")
		p, err := lean.Preheat(units.Length((low + 0.5) / 1000))
		if err != nil {
			t.Fatal(err)
		}
		want := r.Number("preheat_degC")
		if want < 20 {
			want = -zeroCelsius // none beyond a warm shop
		}
		calctest.Near(t, float64(p.Lowest), want+zeroCelsius, 1e-3, "AWS D1.1 table, °C rounded to a degree")
		if p.FromMemory || p.Source != sourceD11 {
			t.Errorf("%+v", p)
		}
	}
	if len(rows) != 4 {
		t.Errorf("%d rows", len(rows))
	}
}

// More carbon or thickness never asks for less; what is from memory is marked and only raises.
func TestPreheat_neverFalls(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 500 {
		s := Steel{C: r.Float64() * 0.6, Mn: r.Float64() * 1.6, Cr: r.Float64()}
		d := units.Length(0.001 + 0.1*r.Float64())
		a, err := s.Preheat(d)
		if err != nil {
			t.Fatal(err)
		}
		more := s
		more.Mn += 0.2
		b, err := more.Preheat(d)
		if err != nil {
			t.Fatal(err)
		}
		c, err := s.Preheat(d * 1.2)
		if err != nil {
			t.Fatal(err)
		}
		if b.Lowest < a.Lowest || c.Lowest < a.Lowest {
			t.Errorf("%+v %v: %v, then %v and %v", s, d, a.Lowest, b.Lowest, c.Lowest)
		}
		if a.FromMemory != strings.Contains(a.Source, "memory") {
			t.Errorf("%+v", a)
		}
	}
	if _, err := (Steel{C: -0.1}).Preheat(0.01); err == nil {
		t.Error("less than no carbon")
	}
	if _, err := (Steel{C: 0.1}).Preheat(0); err == nil {
		t.Error("no thickness")
	}
}
