package flame

//go:generate sh -c "go run ../../.ci/nasa9gen < ../../testdata/reference/nasa9.csv > equilibriumdata_gen.go"

// elementCount is how many elements a flame holds.
const elementCount = 5

// The elements by their place in a composition.
const (
	carbon = iota
	hydrogen
	oxygen
	nitrogen
	argon
)

// composition counts the atoms of a molecule, or of a mixture in mol.
type composition [elementCount]float64

// product is one gas a flame can hold.
type product struct {
	name  string // as in nasa9.csv
	atoms composition
	mass  float64 // kg/mol
}

// graphiteName is the key of graphite among the fractions, graphiteMass its molar mass in kg/mol; both as in nasa9.csv.
const (
	graphiteName = "C(gr)"
	graphiteMass = 12.0107e-3
)

// polynomial are the NASA-9 coefficients a1 to a7, b1, b2 of one species in one range of temperature. The standard pressure is
// 1 bar.
type polynomial [9]float64

// basis are the functions of temperature that a polynomial weights: for enthalpy/(RT), for Gibbs energy/(RT), which is enthalpy
// less entropy, and for heat capacity/R. Source: NASA/TP-2002-211556, equations 1 to 3.
type basis struct {
	enthalpy, gibbs polynomial
	capacity        [7]float64
}

// set fills the basis for a temperature in K; logT is its natural logarithm.
func (b *basis) set(t, logT float64) {
	i, t2 := 1/t, t*t
	i2, t3, t4 := i*i, t2*t, t2*t2
	b.enthalpy = polynomial{-i2, logT * i, 1, t / 2, t2 / 3, t3 / 4, t4 / 5, i, 0}
	b.gibbs = polynomial{-i2 / 2, (logT + 1) * i, 1 - logT, -t / 2, -t2 / 6, -t3 / 12, -t4 / 20, i, -1}
	b.capacity = [7]float64{i2, i, 1, t, t2, t3, t4}
}

// dot weights the functions of a basis; in three sums, which a processor can run side by side.
func (p *polynomial) dot(f *polynomial) float64 {
	return p[0]*f[0] + p[3]*f[3] + p[6]*f[6] + (p[1]*f[1] + p[4]*f[4] + p[7]*f[7]) + (p[2]*f[2] + p[5]*f[5] + p[8]*f[8])
}

// heatCapacity is cp/R.
func (p *polynomial) heatCapacity(b *basis) float64 {
	c := &b.capacity
	return p[0]*c[0] + p[3]*c[3] + p[6]*c[6] + (p[1]*c[1] + p[4]*c[4]) + (p[2]*c[2] + p[5]*c[5])
}

// The joints between the ranges of the polynomials in K, and how far over a joint a range is kept, so that an iteration cannot
// go to and fro between two ranges: enthalpies differ by 0.04 J/mol there.
const (
	gasJoint           = 1000
	graphiteFirstJoint = 600
	graphiteLastJoint  = 2000
	jointOverlap       = 0.1
)

// ranges tells which polynomials hold.
type ranges struct {
	gases    *[gasCount]polynomial
	graphite *polynomial
}

// set picks the polynomials for a temperature in K, the ones in use where two ranges meet.
func (r *ranges) set(t float64) {
	switch {
	case t < gasJoint-jointOverlap || r.gases == nil && t < gasJoint:
		r.gases = &coldPolynomials
	case t > gasJoint+jointOverlap || r.gases == nil:
		r.gases = &hotPolynomials
	}
	near := func(joint float64) bool { return t > joint-jointOverlap && t < joint+jointOverlap }
	if r.graphite != nil && (near(graphiteFirstJoint) || near(graphiteLastJoint)) {
		return
	}
	switch {
	case t < graphiteFirstJoint:
		r.graphite = &graphitePolynomials[0]
	case t < graphiteLastJoint:
		r.graphite = &graphitePolynomials[1]
	default:
		r.graphite = &graphitePolynomials[2]
	}
}
