package flame

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"torchside/calc/calctest"
)

// The generated tables are nasa9.csv to the last digit: every gas in both ranges and graphite in three, with composition and
// molar mass. "go generate" makes them anew when this fails.
func TestTables_are_those_of_the_reference(t *testing.T) {
	rows := calctest.Reference(t, "nasa9.csv")
	for j, p := range products {
		compareRange(t, rows, p.name, 200, gasJoint, &coldPolynomials[j])
		compareRange(t, rows, p.name, gasJoint, 6000, &hotPolynomials[j])
		for _, r := range calctest.Where(t, rows, "species", p.name) {
			calctest.Near(t, p.mass, r.Number("molar_mass_g_per_mol")/1e3, 1e-15, "copied")
			if got := atomsIn(t, r); got != p.atoms {
				t.Errorf("%s: atoms %v, the table has %v", p.name, p.atoms, got)
			}
		}
	}
	for i, limits := range [][2]float64{{200, graphiteFirstJoint}, {graphiteFirstJoint, graphiteLastJoint}, {graphiteLastJoint, 6000}} {
		compareRange(t, rows, graphiteName, limits[0], limits[1], &graphitePolynomials[i])
	}
}

func compareRange(t *testing.T, rows []calctest.Row, name string, low, high float64, got *polynomial) {
	t.Helper()
	for _, r := range calctest.Where(t, rows, "species", name) {
		if r.Number("t_low_K") != low || r.Number("t_high_K") != high {
			continue
		}
		for i, column := range []string{"a1", "a2", "a3", "a4", "a5", "a6", "a7", "b1", "b2"} {
			if got[i] != r.Number(column) {
				t.Errorf("%s: %s is %v, want %v", r, column, got[i], r.Number(column))
			}
		}
		return
	}
	t.Errorf("%s has no range %v to %v K in the table", name, low, high)
}

// atomsIn reads "C:2 H:2".
func atomsIn(t *testing.T, r calctest.Row) (atoms composition) {
	t.Helper()
	for _, part := range strings.Fields(r.Text("composition")) {
		element, count, _ := strings.Cut(part, ":")
		n, err := strconv.ParseFloat(count, 64)
		if err != nil {
			t.Fatal(err)
		}
		atoms[slices.Index([]string{"C", "H", "O", "N", "Ar"}, element)] = n
	}
	return atoms
}

// Law: enthalpy is what heat capacity adds up to, Gibbs energy over T falls by enthalpy over T² (Gibbs and Helmholtz), for every
// species at every temperature.
func TestPolynomials_keep_the_laws_of_thermodynamics(t *testing.T) {
	const step = 1e-3 // of temperature
	at := func(temperature float64) (b basis) {
		b.set(temperature, math.Log(temperature))
		return b
	}
	for _, temperature := range []float64{298.15, 700, 1500, 2500, 3500, 5000} {
		var r ranges
		r.set(temperature)
		low, mid, high := at(temperature*(1-step)), at(temperature), at(temperature*(1+step))
		for j := range products {
			p := &r.gases[j]
			capacity := (p.dot(&high.enthalpy)*(1+step) - p.dot(&low.enthalpy)*(1-step)) / (2 * step)
			calctest.Near(t, capacity, p.heatCapacity(&mid), 1e-5, "differences of a thousandth")
			enthalpy := -(p.dot(&high.gibbs) - p.dot(&low.gibbs)) / (2 * step)
			if off := math.Abs(enthalpy - p.dot(&mid.enthalpy)); off > 1e-5*(1+math.Abs(enthalpy)) {
				t.Errorf("%s at %v K: enthalpy %v by Gibbs energies, %v by itself", products[j].name, temperature, enthalpy, p.dot(&mid.enthalpy))
			}
		}
	}
}

// Ranges change at their joints and not to and fro beside them.
func TestRanges_hold_on_over_a_joint(t *testing.T) {
	var r ranges
	for _, c := range []struct {
		t    float64
		cold bool
	}{{999, true}, {1000.05, true}, {1000.2, false}, {999.95, false}, {999.8, true}} {
		if r.set(c.t); (r.gases == &coldPolynomials) != c.cold {
			t.Errorf("wrong range at %v K", c.t)
		}
	}
	for _, c := range []struct {
		t    float64
		want int
	}{{599, 0}, {600.05, 0}, {601, 1}, {1999.95, 1}, {2000.05, 1}, {2001, 2}, {1999.95, 2}, {300, 0}} {
		if r.set(c.t); r.graphite != &graphitePolynomials[c.want] {
			t.Errorf("wrong range of graphite at %v K", c.t)
		}
	}
}
