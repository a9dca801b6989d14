package flame_test

import (
	"math"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
)

// At exactly one O2 to one acetylene all oxygen and all carbon go into CO, and every oxidizer is a trace (flame_README.md,
// pitfalls). The row of the table holds there in every digit, and on both sides as near as numbers go.
func TestSolve_at_exactly_ratio_one(t *testing.T) {
	for _, ratio := range []float64{math.Nextafter(1, 0), 1, math.Nextafter(1, 2), 1 - 1e-9, 1 + 1e-9} {
		e := solved(t, acetyleneOxygen(ratio))
		calctest.Near(t, float64(e.Temperature), 3327.552, 1e-6, "NASA CEA, flame_equilibrium.csv, seven digits")
		calctest.Near(t, e.Fraction("CO"), 6.06625e-1, 1e-5, "NASA CEA, six digits")
		calctest.Near(t, e.Fraction("CO2"), 1.14597e-5, 1e-4, "NASA CEA, six digits; a billionth of oxygen more counts here")
		calctest.Near(t, e.Fraction("O2"), 3.30513e-10, 2e-4, "NASA CEA, six digits; goes with the square of the oxygen over")
		calctest.Near(t, e.Fraction("C2H2"), 1.51929e-5, 2e-4, "NASA CEA, six digits")
	}
	steep := float64(solved(t, acetyleneOxygen(1.1)).Temperature - solved(t, acetyleneOxygen(1)).Temperature)
	calctest.Near(t, steep, 55.643, 1e-3, "3383.195 K less 3327.552 K, NASA CEA")
}

// sootEdge finds the ratio below which graphite appears, to the last bit.
func sootEdge(t *testing.T, in flame.Reactants, low, high float64) float64 {
	t.Helper()
	for {
		middle := low + (high-low)/2
		if middle <= low || middle >= high {
			return high
		}
		in.Ratio = middle
		e := solved(t, in)
		if e.Fraction("C(gr)") > 0 {
			low = middle
		} else {
			high = middle
		}
	}
}

// Graphite appears below 0.887 (flame_README.md); the slope breaks there, about 2.4 K to a hundredth below and 10 K above, and
// temperature and composition go through without a jump.
func TestSolve_at_the_edge_of_graphite(t *testing.T) {
	in := acetyleneOxygen(0)
	edge := sootEdge(t, in, 0.8, 0.95)
	calctest.Near(t, edge, 0.887, 6e-4, "three digits are given")
	at := func(ratio float64) float64 { return float64(solved(t, acetyleneOxygen(ratio)).Temperature) }
	calctest.Near(t, at(edge)-at(edge-0.01), 2.4, 0.1, "about 2.4 K is given")
	calctest.Near(t, at(edge+0.01)-at(edge), 10, 0.1, "about 10 K is given")
	calctest.Near(t, at(math.Nextafter(edge, 0)), at(edge), 1e-9, "continuous")
	with, without := acetyleneOxygen(edge), acetyleneOxygen(edge)
	without.Graphite = false
	calctest.Near(t, float64(solved(t, with).Temperature), float64(solved(t, without).Temperature), 1e-9, "no graphite at the edge")
}

// The edge of every fuel, with oxygen and air, is crossed without failing, to the last bit of the ratio.
func TestSolve_at_the_edge_of_graphite_of_every_fuel(t *testing.T) {
	for _, fuel := range gas.Fuels() {
		if fuel == gas.Hydrogen {
			continue
		}
		for _, oxidizer := range []gas.Gas{gas.Oxygen, gas.Air} {
			in := acetyleneOxygen(0)
			in.Fuel, in.Oxidizer = gas.Pure(fuel), oxidizer
			edge := sootEdge(t, in, 0.3, 2)
			if edge <= 0.31 || edge >= 1.99 {
				t.Errorf("%s with %s: no edge found, %v", fuel, oxidizer, edge)
			}
			for _, ratio := range []float64{edge, math.Nextafter(edge, 0), math.Nextafter(edge, 9), edge - 1e-12, edge + 1e-12} {
				in.Ratio = ratio
				if e := solved(t, in); e.Fraction("C(gr)") > 1e-9 || e.ElementResidual > 1e-9 {
					t.Errorf("%s with %s at %v: %v graphite, elements off by %g", fuel, oxidizer, ratio, e.Fraction("C(gr)"), e.ElementResidual)
				}
			}
		}
	}
}

// Without graphite the rich flame is far colder: 2884 K, not 3139 K, at 0.6 (flame_README.md), and no graphite is listed.
func TestSolve_without_graphite(t *testing.T) {
	in := acetyleneOxygen(0.6)
	in.Graphite = false
	e := solved(t, in)
	calctest.Near(t, float64(e.Temperature), 2883.951, 1e-6, "NASA CEA")
	if e.Fraction("C(gr)") != 0 {
		t.Errorf("%v graphite", e.Fraction("C(gr)"))
	}
}

// The hottest acetylene flame is near 1.435, at 3434.1 K, and within 1 K of it from 1.39 to 1.49 (flame_README.md).
func TestSolve_hottest_acetylene_flame(t *testing.T) {
	top, at := 0.0, 0.0
	for ratio := 1.2; ratio < 1.8; ratio += 0.001 {
		if now := float64(solved(t, acetyleneOxygen(ratio)).Temperature); now > top {
			top, at = now, ratio
		}
	}
	calctest.Near(t, top, 3434.1, 2e-5, "five digits are given")
	calctest.Near(t, at, 1.435, 2e-3, "the top is flat")
	for _, ratio := range []float64{1.39, 1.49} {
		if now := float64(solved(t, acetyleneOxygen(ratio)).Temperature); now < top-1 {
			t.Errorf("%v K at %v, the top is %v K", now, ratio, top)
		}
	}
}

// A flame at the joint of two ranges of the polynomials, 1000 K for gases, is found like any other: enthalpies differ by 0.04
// J/mol there. Hydrogen with air crosses it near 2.1.
func TestSolve_at_a_joint_of_the_polynomials(t *testing.T) {
	in := acetyleneOxygen(0)
	in.Fuel, in.Oxidizer = gas.Pure(gas.Hydrogen), gas.Air
	low, high := 1.8, 2.4 // hotter and colder than 1000 K
	for range 60 {
		in.Ratio = low + (high-low)/2
		e := solved(t, in)
		if e.Iterations > 20 || math.Abs(e.EnthalpyResidual) > 1e-6 {
			t.Errorf("ratio %v: %d iterations, enthalpy off by %g", in.Ratio, e.Iterations, e.EnthalpyResidual)
		}
		if e.Temperature > 1000 {
			low = in.Ratio
		} else {
			high = in.Ratio
		}
	}
}

// Every flame within the limits that Reactants takes converges, at their corners too: ratio 0.01 to 100, 220 to 400 K, 10 kPa to
// 1 MPa, with oxygen down to 20 %.
func TestSolve_converges_at_the_limits(t *testing.T) {
	most := 0
	for _, fuel := range gas.Fuels() {
		for corner := range 64 {
			in := acetyleneOxygen(0.01)
			in.Fuel = gas.Pure(fuel)
			in.Graphite = corner&1 == 0
			if corner&2 != 0 {
				in.Ratio = 100
			}
			if corner&4 != 0 {
				in.Temperature = 400
			} else {
				in.Temperature = 220
			}
			if corner&8 != 0 {
				in.Pressure = 1e6
			} else {
				in.Pressure = 1e4
			}
			if corner&16 != 0 {
				in.Purity = 0.2
			}
			if corner&32 != 0 {
				in.Oxidizer, in.Purity = gas.Air, 1
			}
			e := solved(t, in)
			most = max(most, e.Iterations)
			if e.ElementResidual > 1e-9 || math.Abs(e.EnthalpyResidual) > 1e-6 {
				t.Errorf("%+v: elements off by %g, enthalpy by %g", in, e.ElementResidual, e.EnthalpyResidual)
			}
		}
	}
	t.Logf("most iterations: %d", most)
}

// Mixing two fuels lies between them in what can be lost to none: a mixture of one fuel with itself is that fuel, and methyl-
// acetylene with propadiene has a temperature between those of its parts, because both are C3H4.
func TestSolve_of_mixtures(t *testing.T) {
	temperature := func(m gas.Mixture) float64 {
		in := acetyleneOxygen(2.5)
		in.Fuel = m
		return float64(solved(t, in).Temperature)
	}
	propyne, allene := temperature(gas.Pure(gas.Methylacetylene)), temperature(gas.Pure(gas.Propadiene))
	last := propyne
	for _, x := range []float64{0.25, 0.5, 0.75, 1} {
		now := temperature(gas.Mixture{gas.Propadiene: x, gas.Methylacetylene: 1 - x})
		calctest.Near(t, now-propyne, x*(allene-propyne), 1e-2, "enthalpy is mixed in proportion, and 4 K is a small step")
		if now <= last {
			t.Errorf("%v K at %v, %v K before", now, x, last)
		}
		last = now
	}
}

// Argon in the oxygen cools the flame, and never heats it, at any purity.
func TestSolve_cools_with_impure_oxygen(t *testing.T) {
	last := 0.0
	for purity := 0.2; purity < 1; purity += 0.05 {
		in := acetyleneOxygen(1.1)
		in.Purity = purity
		e := solved(t, in)
		if now := float64(e.Temperature); now <= last {
			t.Errorf("%v K at purity %v, %v K before", now, purity, last)
		} else {
			last = now
		}
		argon := 1.1 * (1 - purity) / purity
		calctest.Near(t, e.Fraction("Ar")/e.Fraction("CO"), argon/(2-carbonBesidesCO(&e)), 1e-9, "argon takes no part")
	}
}

// carbonBesidesCO is the carbon of one mol of acetylene that is not in CO.
func carbonBesidesCO(e *flame.Equilibrium) float64 {
	all, rest := 0.0, 0.0
	for name, x := range e.All() {
		n := x * carbonIn(name)
		all += n
		if name != "CO" {
			rest += n
		}
	}
	return 2 * rest / all
}

// carbonIn counts the carbon atoms of a formula of the tables.
func carbonIn(name string) float64 {
	formula, _, _ := strings.Cut(name, "_")
	count := 0.0
	for i := range len(formula) {
		if formula[i] != 'C' {
			continue
		}
		if i+1 < len(formula) && formula[i+1] >= '2' && formula[i+1] <= '9' {
			count += float64(formula[i+1] - '0')
		} else {
			count++
		}
	}
	return count
}
