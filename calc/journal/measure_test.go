package journal_test

import (
	"math"
	"math/rand"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/journal"
)

// Diameters as printed in inches and millimetres by the United States Mint ("Coin Specifications"): the inches are a second
// printing of the same sizes.
func TestCoins_of_the_United_States_agree_with_the_Mint_in_inches(t *testing.T) {
	for id, inches := range map[string]float64{"us_cent": 0.750, "us_nickel": 0.835, "us_dime": 0.705, "us_quarter": 0.955, "us_half": 1.205, "us_dollar": 1.043} {
		c, ok := journal.CoinByID(id)
		if !ok {
			t.Fatal(id)
		}
		calctest.Near(t, c.DiameterM, inches*0.0254, 0.001, "three decimals of an inch, two of a millimetre")
	}
}

// Council Regulation (EC) No 975/98, Annex I, diameters in mm.
func TestCoins_of_the_euro_are_those_of_the_regulation(t *testing.T) {
	for id, mm := range map[string]float64{"eur_2": 25.75, "eur_1": 23.25, "eur_050": 24.25, "eur_020": 22.25, "eur_010": 19.75, "eur_005": 21.25, "eur_002": 18.75, "eur_001": 16.25} {
		c, ok := journal.CoinByID(id)
		if !ok {
			t.Fatal(id)
		}
		calctest.Near(t, c.DiameterM, mm/1e3, 1e-12, "printed exactly")
	}
}

// The stated error is what picking really does: points moved at random, normally, as far as Off says, give widths that spread
// by half the stated error (k = 2).
func TestMeasureWidth_states_the_spread_that_random_picking_gives(t *testing.T) {
	r := rand.New(rand.NewSource(11))
	for range 20 {
		angle, at := 2*math.Pi*r.Float64(), 2*math.Pi*r.Float64()
		k, b, off := 200+600*r.Float64(), 60+300*r.Float64(), 0.5+2*r.Float64()
		known := [2]journal.Pick{{X: 900, Y: 700, Off: off}, {X: 900 + k*math.Cos(angle), Y: 700 + k*math.Sin(angle), Off: off}}
		bead := [2]journal.Pick{{X: 400, Y: 300, Off: off}, {X: 400 + b*math.Cos(at), Y: 300 + b*math.Sin(at), Off: off}}
		width, stated, ok := journal.MeasureWidth(known, 0.024, bead)
		if !ok {
			t.Fatal("not measured")
		}
		calctest.Near(t, width, 0.024*b/k, 1e-12, "the ratio of the lines")
		const n = 4000
		sum, squares := 0.0, 0.0
		for range n {
			w, _, _ := journal.MeasureWidth(shaken(r, known), 0.024, shaken(r, bead))
			sum, squares = sum+w, squares+w*w
		}
		spread := math.Sqrt(squares/n - sum/n*sum/n)
		calctest.Near(t, spread, stated/2, 0.06, "a spread of 4000 draws is itself known to 1.1 %; 6 % leaves room for five of these and the curvature of the quotient")
	}
}

func shaken(r *rand.Rand, p [2]journal.Pick) [2]journal.Pick {
	for i := range p {
		p[i].X += p[i].Off * r.NormFloat64()
		p[i].Y += p[i].Off * r.NormFloat64()
	}
	return p
}

// Law: the same picture stored larger gives the same width and the same error.
func TestMeasureWidth_does_not_depend_on_the_size_of_the_picture(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	for range 500 {
		known := [2]journal.Pick{{100 * r.Float64(), 100 * r.Float64(), 1}, {300 + 100*r.Float64(), 100 * r.Float64(), 2}}
		bead := [2]journal.Pick{{50 * r.Float64(), 50 * r.Float64(), 1}, {80 + 50*r.Float64(), 90, 1}}
		width, off, ok := journal.MeasureWidth(known, 0.025, bead)
		times := 1 + 5*r.Float64()
		width2, off2, ok2 := journal.MeasureWidth(larger(known, times), 0.025, larger(bead, times))
		if !ok || !ok2 {
			t.Fatal("not measured")
		}
		calctest.Near(t, width2, width, 1e-9, "rounding of the computer alone")
		calctest.Near(t, off2, off, 1e-9, "rounding of the computer alone")
	}
}

func larger(p [2]journal.Pick, times float64) [2]journal.Pick {
	for i := range p {
		p[i] = journal.Pick{X: p[i].X * times, Y: p[i].Y * times, Off: p[i].Off * times}
	}
	return p
}

func TestMeasureWidth_refuses_what_measures_nothing(t *testing.T) {
	line := [2]journal.Pick{{X: 0, Off: 1}, {X: 100, Off: 1}}
	short := [2]journal.Pick{{X: 0, Off: 1}, {X: journal.MinScalePixels - 1, Off: 1}}
	nan := [2]journal.Pick{{X: math.NaN()}, {X: 100}}
	for name, c := range map[string]struct {
		known, bead [2]journal.Pick
		m           float64
	}{"short known line": {short, line, 0.02}, "no known length": {line, line, 0}, "no bead": {line, [2]journal.Pick{}, 0.02}, "not a number": {nan, line, 0.02},
		"infinite length": {line, line, math.Inf(1)}} {
		if w, _, ok := journal.MeasureWidth(c.known, c.m, c.bead); ok || w != 0 {
			t.Errorf("%s gave %v", name, w)
		}
	}
}
