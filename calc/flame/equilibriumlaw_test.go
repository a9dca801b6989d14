package flame_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// species is one record of nasa9.csv, read and evaluated apart from the program under test.
type species struct {
	atoms  map[string]float64
	ranges []nasa9Range
}

type nasa9Range struct{ low, high, a1, a2, a3, a4, a5, a6, a7, b1, b2 float64 }

// nasa9 reads all species of nasa9.csv.
func nasa9(t testing.TB) map[string]*species {
	t.Helper()
	table := map[string]*species{}
	for _, r := range calctest.Reference(t, "nasa9.csv") {
		s, ok := table[r.Text("species")]
		if !ok {
			s = &species{atoms: map[string]float64{}}
			for _, part := range strings.Fields(r.Text("composition")) {
				element, count, _ := strings.Cut(part, ":")
				n, err := strconv.ParseFloat(count, 64)
				if err != nil {
					t.Fatal(err)
				}
				s.atoms[element] = n
			}
			table[r.Text("species")] = s
		}
		s.ranges = append(s.ranges, nasa9Range{r.Number("t_low_K"), r.Number("t_high_K"), r.Number("a1"), r.Number("a2"), r.Number("a3"),
			r.Number("a4"), r.Number("a5"), r.Number("a6"), r.Number("a7"), r.Number("b1"), r.Number("b2")})
	}
	return table
}

func (s *species) at(t float64) nasa9Range {
	for _, r := range s.ranges {
		if t <= r.high {
			return r
		}
	}
	return s.ranges[len(s.ranges)-1]
}

// enthalpy over RT and entropy over R, as flame_README.md writes them.
func (s *species) enthalpy(t float64) float64 {
	r := s.at(t)
	return -r.a1/(t*t) + r.a2*math.Log(t)/t + r.a3 + r.a4*t/2 + r.a5*t*t/3 + r.a6*t*t*t/4 + r.a7*t*t*t*t/5 + r.b1/t
}

func (s *species) entropy(t float64) float64 {
	r := s.at(t)
	return -r.a1/(2*t*t) - r.a2/t + r.a3*math.Log(t) + r.a4*t + r.a5*t*t/2 + r.a6*t*t*t/3 + r.a7*t*t*t*t/4 + r.b2
}

// amounts are moles of species.
type amounts map[string]float64

func (a amounts) elements(table map[string]*species) map[string]float64 {
	sum := map[string]float64{}
	for name, n := range a {
		for element, count := range table[name].atoms {
			sum[element] += n * count
		}
	}
	return sum
}

// enthalpyKelvin is H/R.
func (a amounts) enthalpyKelvin(table map[string]*species, t float64) float64 {
	sum := 0.0
	for name, n := range a {
		sum += n * t * table[name].enthalpy(t)
	}
	return sum
}

// gibbs is G/(RT) at t in K and p in Pa.
func (a amounts) gibbs(table map[string]*species, t, p float64) float64 {
	gas, sum := 0.0, 0.0
	for name, n := range a {
		if name != "C(gr)" {
			gas += n
		}
	}
	for name, n := range a {
		if n == 0 {
			continue
		}
		potential := table[name].enthalpy(t) - table[name].entropy(t)
		if name != "C(gr)" {
			potential += math.Log(n/gas) + math.Log(p/1e5)
		}
		sum += n * potential
	}
	return sum
}

var nasa9Names = map[gas.Gas]string{gas.Acetylene: "C2H2", gas.Propane: "C3H8", gas.Propylene: "C3H6", gas.Methylacetylene: "C3H4_propyne",
	gas.Propadiene: "C3H4_allene", gas.Methane: "CH4", gas.Hydrogen: "H2"}

// unburnt are the moles before burning, per mol of fuel.
func unburnt(r flame.Reactants) amounts {
	a := amounts{}
	for g, x := range r.Fuel {
		a[nasa9Names[g]] += x
	}
	a["O2"] += r.Ratio
	if r.Oxidizer == gas.Air {
		for name, x := range (amounts{"N2": 0.78084, "Ar": 0.009365, "CO2": 0.000319}) {
			a[name] += r.Ratio * x / 0.209476
		}
	} else {
		a["Ar"] += r.Ratio * (1 - r.Purity) / r.Purity
	}
	return a
}

// products are the moles of an equilibrium, scaled to the mass of the unburnt mixture by its commonest element.
func productsOf(e *flame.Equilibrium, table map[string]*species, before amounts) amounts {
	a := amounts{}
	for name, x := range e.All() {
		a[name] = x
	}
	have, want := 0.0, 0.0
	for _, n := range a.elements(table) {
		have += n
	}
	for _, n := range before.elements(table) {
		want += n
	}
	for name := range a {
		a[name] *= want / have
	}
	return a
}

// randomReactants draws a mixture within what the solver promises never to fail in.
func randomReactants(r *rand.Rand, fuel gas.Gas) flame.Reactants {
	in := flame.Reactants{Fuel: gas.Pure(fuel), Oxidizer: gas.Oxygen, Ratio: 0.3 + 5.7*r.Float64(), Purity: 1,
		Temperature: units.Temperature(230 + 100*r.Float64()), Pressure: units.AbsolutePressure(60e3 + 50e3*r.Float64()), Graphite: r.IntN(2) == 0}
	switch r.IntN(4) {
	case 0:
		in.Oxidizer = gas.Air
	case 1:
		in.Purity = 0.2 + 0.8*r.Float64()
	case 2:
		x := r.Float64()
		fuels := gas.Fuels()
		in.Fuel = gas.Mixture{fuel: x}
		in.Fuel[fuels[r.IntN(len(fuels))]] += 1 - x
	}
	return in
}

// Laws on random mixtures of every fuel: the iteration converges in few steps, elements are conserved to 1e-9 and enthalpy to
// 1e-6 (of RT a mole) by an evaluation of nasa9.csv apart from the program, no fraction is negative, they sum to 1, and no
// neighbour with the same elements has less Gibbs energy at the temperature and pressure found.
func TestSolve_keeps_the_laws_on_random_mixtures(t *testing.T) {
	table := nasa9(t)
	r := rand.New(rand.NewPCG(31, 7))
	slowest, elements, enthalpy := extreme{what: "iterations"}, extreme{what: "elements"}, extreme{what: "enthalpy/RT"}
	cases := 0
	for _, fuel := range gas.Fuels() {
		for range 300 {
			cases++
			in := randomReactants(r, fuel)
			where := fmt.Sprintf("%+v", in)
			e := solved(t, in)
			before := unburnt(in)
			after := productsOf(&e, table, before)
			slowest.add(float64(e.Iterations), where)
			sum := 0.0
			for name, x := range e.All() {
				sum += x
				if !(x >= 0) {
					t.Fatalf("%s: fraction %v of %s", where, x, name)
				}
			}
			calctest.Near(t, sum, 1, 1e-12, "fractions of a whole")
			got := after.elements(table)
			for element, want := range before.elements(table) {
				if want > 0 {
					elements.add(got[element]/want-1, where+" "+element)
				}
			}
			T := float64(e.Temperature)
			enthalpy.add((after.enthalpyKelvin(table, T)-before.enthalpyKelvin(table, float64(in.Temperature)))/T, where)
			wantLowestGibbs(t, r, table, after, T, float64(in.Pressure), where)
		}
	}
	slowest.report(t, cases)
	elements.report(t, cases)
	enthalpy.report(t, cases)
	if slowest.off > 60 || math.Abs(elements.off) > 1e-9 || math.Abs(enthalpy.off) > 1e-6 {
		t.Error("a law is broken")
	}
}

// exchanges are independent reactions; any mixture of the same elements is reached by them.
var exchanges = []amounts{
	{"CO": -1, "H2O": -1, "CO2": 1, "H2": 1}, {"H2": -1, "H": 2}, {"O2": -1, "O": 2}, {"CO2": -2, "CO": 2, "O2": 1},
	{"H2O": -2, "OH": 2, "H2": 1}, {"C2H2": -1, "C2H": 1, "H": 1}, {"C2H2": -1, "C(gr)": 2, "H2": 1}, {"CO": -2, "C(gr)": 1, "CO2": 1},
	{"CH4": -2, "C2H2": 1, "H2": 3}, {"C2H2": -2, "C4H2": 1, "H2": 1}, {"C3": -1, "C": 3}, {"N2": -1, "O2": -1, "NO": 2}, {"C": -1, "C(gr)": 1},
}

// wantLowestGibbs moves along random mixtures of exchanges, as far as no amount turns negative, and compares Gibbs energies.
func wantLowestGibbs(t *testing.T, r *rand.Rand, table map[string]*species, found amounts, T, p float64, where string) {
	t.Helper()
	lowest := found.gibbs(table, T, p)
	for range 4 {
		neighbour := amounts{}
		for name, n := range found {
			neighbour[name] = n
		}
		for _, x := range exchanges {
			if _, soot := x["C(gr)"]; soot && found["C(gr)"] == 0 && !strings.Contains(where, "Graphite:true") {
				continue
			}
			extent := reach(neighbour, x, r.IntN(2) == 0) * math.Pow(10, -4*r.Float64()) * r.Float64()
			for name, n := range x {
				neighbour[name] = max(neighbour[name]+extent*n, 0)
			}
		}
		if g := neighbour.gibbs(table, T, p); g < lowest-1e-9*math.Abs(lowest) {
			t.Errorf("%s: a neighbour has Gibbs energy lower by %g", where, lowest-g)
		}
	}
}

// reach is how far an exchange can go forward or back, negative then, before a species is used up.
func reach(a, exchange amounts, forward bool) float64 {
	sign := 1.0
	if !forward {
		sign = -1
	}
	far := math.Inf(1)
	for name, n := range exchange {
		if n*sign < 0 {
			far = min(far, a[name]/math.Abs(n))
		}
	}
	return sign * far
}
