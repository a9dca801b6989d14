package heat

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"torchside/calc/calctest"
)

// plain makes curves of a metal that does not change with temperature, with a loss in proportion to the temperature above air.
func plain(density, specific, conductivity, film, ambient float64) curves {
	const n = highest - lowest + 1
	c := curves{make([]float64, n), make([]float64, n), make([]float64, n)}
	for i := range n {
		c.enthalpy[i] = density * specific * float64(i)
		c.conductivity[i] = conductivity
		c.loss[i] = film * (float64(lowest+i) + zeroCelsius - ambient)
	}
	return c
}

// Carslaw and Jaeger, Conduction of Heat in Solids, section 2.9: constant flux q into a semi-infinite solid without loss warms a
// depth x by (2q/k)·√(αt/π)·exp(−x²/4αt) − (qx/k)·erfc(x/2√(αt)). A bar heated over a zone far shorter than the heat runs is
// that solid, seen from its middle. Allowed is 0.5 %: the zone is not a point.
func TestSolver_followsConstantFluxIntoASemiInfiniteBar(t *testing.T) {
	const rho, c, k, area, power, start = 7850.0, 500.0, 45.0, 2e-4, 40.0, 293.15
	v := newSolver(plain(rho, c, k, 0, start), section{area: area}, 4, 0.001, grid{8, 1.015})
	w := calctest.NewWorst("constant flux into a semi-infinite bar", 0.005, "a zone of 1 mm is not a point")
	v.start(start, power)
	alpha, flux := k/(rho*c), power/area
	dt, now := 0.0002, 0.0
	for n := 0; now < 300; n++ {
		implicit := 0.5
		if n < smoothing {
			implicit = 1
		}
		if !v.step(dt, implicit) {
			t.Fatalf("no step at %v s", now)
		}
		now += dt
		dt = min(dt*1.1, 0.01*now+0.0002)
		if now < 20 {
			continue
		}
		for _, x := range []float64{0.01, 0.03, 0.06} {
			s := math.Sqrt(alpha * now)
			want := 2*flux/k*s/math.SqrtPi*math.Exp(-x*x/(4*s*s)) - flux*x/k*math.Erfc(x/(2*s))
			w.Add(t, v.at(x)-start, want, fmt.Sprintf("%.0f s, %.0f mm", now, x*1e3))
		}
	}
	w.Report(t)
}

// The fin of Incropera, section 3.6: heated at one end and losing heat along its length L, with an adiabatic tip, it comes to
// rest at θ(x) = q·cosh m(L−x) / (√(hPkA)·sinh mL), m² = hP/(kA). Allowed is 0.2 %: cells of the outer bar are wide.
func TestSolver_comesToRestAsAFin(t *testing.T) {
	const k, film, power, air, length = 45.0, 40.0, 30.0, 293.15, 0.5
	s := section{area: 2e-4, perimeter: 0.05}
	v := newSolver(plain(7850, 500, k, film, air), s, 2*length, 0.002, grid{8, 1.02})
	v.surface[len(v.surface)-1] -= s.area // an adiabatic tip
	v.start(air, power)
	for n := range 400 {
		if implicit := 1.0; !v.step(1+20*float64(n), implicit) {
			t.Fatal("no step")
		}
	}
	m := math.Sqrt(film * s.perimeter / (k * s.area))
	w := calctest.NewWorst("fin at rest", 0.002, "cells grow to some mm away from the zone")
	for x := 0.005; x < 0.3; x += 0.01 {
		want := power * math.Cosh(m*(length-x)) / (math.Sqrt(film*s.perimeter*k*s.area) * math.Sinh(m*length))
		w.Add(t, v.at(x)-air, want, fmt.Sprintf("%.0f mm", x*1e3))
	}
	w.Report(t)
}

// What the flame gives is stored or lost, to 1e-6 of it, for every metal, shape and size.
func TestSolver_conservesEnergy(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 9))
	worst := 0.0
	for n := range 300 {
		in := anyQuestion(r)
		got, err := Compute(in)
		if err != nil {
			continue // the flame is too weak for it, which has a test of its own
		}
		off := math.Abs(got.Stored+got.Lost-got.Energy) / got.Energy
		if worst = max(worst, off); off > 1e-6 {
			t.Errorf("%d: in %v, stored %v, lost %v: off by %.2g (%+v)", n, got.Energy, got.Stored, got.Lost, off, in)
		}
	}
	fmt.Printf("worst error of heat in against stored and lost: %.2g (allowed 1e-06)\n", worst)
}

// Four times finer in space and time changes the time by less than 1 % and the temperatures by less than 0.5 % of the rise.
func TestSolver_settlesWhenTheGridIsRefined(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	time := calctest.NewWorst("heating time, usual grid against four times finer", 0.01, "the stated error of the usual grid")
	off := calctest.NewWorst("temperature along the bar, usual grid against four times finer", 0.005, "the stated error of the usual grid, as a share of the rise")
	for n := 0; time.Count() < 40; n++ {
		in := anyQuestion(r).withDefaults()
		p, err := in.check()
		if err != nil {
			t.Fatal(err)
		}
		run := func(g grid, pace pace) (*solver, float64, bool) {
			v := newSolver(curvesOf(p, float64(in.Ambient), in.Piece.section().height), in.Piece.section(), in.Piece.Length, float64(in.Zone), g)
			v.start(float64(in.Start), float64(in.Power)*in.Efficiency/2)
			s, ok := v.reach(float64(in.Target), pace)
			return v, s, ok
		}
		rough, s, ok := run(usual, usualPace)
		fine, want, ok2 := run(grid{4 * usual.zone, math.Pow(usual.growth, 0.25)}, pace{usualPace.first / 4, usualPace.growth / 4, usualPace.rise / 4})
		if !ok || !ok2 || want > 900 {
			continue // near rest the time itself says little
		}
		where := fmt.Sprintf("case %d", n)
		time.Add(t, s, want, where)
		rise := float64(in.Target - in.Start)
		for x := 0.0; x < min(0.3, in.Piece.Length/2); x += 0.02 {
			off.Add(t, 1+(rough.at(x)-fine.at(x))/rise, 1, where)
		}
	}
	time.Report(t)
	off.Report(t)
}

// The rows of materials.csv that were worked out from EN 1993-1-2: a value rounded to its last digit.
func TestSteel_hasTheHeatOfEN1993(t *testing.T) {
	rows := calctest.Reference(t, "materials.csv")
	specific := calctest.NewWorst("specific heat of steel, EN 1993-1-2", 1e-4, "four printed digits")
	for _, r := range calctest.Where(t, rows, "material", "steel (carbon)") {
		var c float64
		if _, err := fmt.Sscanf(r.Text("property"), "specific heat at %g degC", &c); err != nil {
			continue
		}
		specific.Add(t, steelSpecificHeat(c), r.Number("value"), r.Text("property"))
	}
	specific.Report(t)
	curve := curvesOf(properties[MildSteel], 293.15, 0.01)
	content := calctest.NewWorst("heat to warm steel, EN 1993-1-2", 6e-4, "printed to 0.1 kJ/kg of 88")
	for _, r := range calctest.Where(t, rows, "material", "steel (carbon)") {
		var low, high float64
		if _, err := fmt.Sscanf(r.Text("property"), "heat to warm from %g to %g degC", &low, &high); err != nil {
			continue
		}
		want, err := strconv.ParseFloat(r.Text("value"), 64)
		if err != nil {
			t.Fatal(err)
		}
		v := solver{curves: curve}
		content.Add(t, (v.content(high+zeroCelsius)-v.content(low+zeroCelsius))/7850/1000, want, r.Text("property"))
	}
	content.Report(t)
}

// The conductivity of EN 1993-1-2, as materials.csv has its formulas: 54 − 0.0333 T up to 800 °C, then 27.3.
func TestSteel_hasTheConductivityOfEN1993(t *testing.T) {
	for c, want := range map[float64]float64{20: 53.334, 500: 37.35, 799: 27.3933, 800: 27.3, 1200: 27.3} {
		calctest.Near(t, steelConductivity(c), want, 1e-9, "EN 1993-1-2, clause 3.4.1.3, exact")
	}
}
