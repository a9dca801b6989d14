package flame

// unknownCount is the largest number of unknowns of a step: five element potentials, temperature, moles of gas, graphite.
const unknownCount = elementCount + 3

// state is one minimisation of Gibbs energy at constant enthalpy and pressure. Energies are in units of RT, amounts in mol per
// mol of fuel.
type state struct {
	// The mixture.
	elements        composition
	scarcest        float64 // amount of the scarcest element present
	enthalpy        float64 // H/R, K
	pressure        float64 // Pa
	logP            float64 // logarithm of pressure over 1 bar
	graphite        bool    // graphite is allowed
	mayFormGraphite bool    // allowed, and there is carbon
	plain           bool    // neither nitrogen nor argon
	candidates      [gasCount]uint8
	candidateCount  int // of gases whose elements are all there
	// Where the iteration stands.
	t, logT      float64
	potential    composition // element potentials
	total, logN  float64     // moles of gas
	soot         float64     // moles of graphite
	sooty        bool        // graphite is among the unknowns
	active       [gasCount]uint8
	activeCount  int
	moles, logs  [gasCount]float64 // of the active gases, and their logarithms
	logFractions [gasCount]float64 // of the candidates, as the potentials last had them
	iterations   int
	// The polynomials at t.
	basis               basis
	ranges              ranges
	heats, mismatch     [gasCount]float64 // of the active gases: enthalpy; chemical potential less that of their elements
	sootHeat, sootGibbs float64
	// The step: potentials first, then temperature, moles of gas and graphite.
	matrix [unknownCount][unknownCount]float64
	step   [unknownCount]float64
}

// elementRows is how many rows of the step are potentials; temperature follows.
func (s *state) elementRows() int {
	if s.plain {
		return nitrogen
	}
	return elementCount
}

// rows is the size of the step.
func (s *state) rows() int {
	if s.sooty {
		return s.elementRows() + 3
	}
	return s.elementRows() + 2
}

// sums over the gases of C, H and O: of moles times atom counts, enthalpy q and mismatch e, alone and in pairs.
type sums struct {
	cc, ch, co, hh, ho, oo float64
	c, h, o                float64
	cq, hq, oq, q, qq      float64
	ce, he, oe, qe, e      float64
	capacity               float64
}

// assemble fills matrix and right side of one Newton step: NASA RP-1311 part I, equations 2.24 to 2.27, with the change of the
// potentials as unknowns, so that rounding shrinks with the step.
func (s *state) assemble() {
	s.basis.set(s.t, s.logT)
	s.ranges.set(s.t)
	s.matrix = [unknownCount][unknownCount]float64{}
	var a sums
	s.sumPlain(&a)
	m, x, t := &s.matrix, &s.step, s.elementRows()
	m[carbon][carbon], m[hydrogen][carbon], m[hydrogen][hydrogen] = a.cc, a.ch, a.hh
	m[oxygen][carbon], m[oxygen][hydrogen], m[oxygen][oxygen] = a.co, a.ho, a.oo
	m[t][carbon], m[t][hydrogen], m[t][oxygen], m[t][t] = a.cq, a.hq, a.oq, a.qq+a.capacity
	m[t+1][carbon], m[t+1][hydrogen], m[t+1][oxygen], m[t+1][t] = a.c, a.h, a.o, a.q
	x[carbon], x[hydrogen], x[oxygen] = s.elements[carbon]-a.c+a.ce, s.elements[hydrogen]-a.h+a.he, s.elements[oxygen]-a.o+a.oe
	x[t], x[t+1] = s.enthalpy/s.t-a.q+a.qe, a.e
	if !s.plain {
		s.sumOthers()
	}
	if s.mayFormGraphite {
		s.sootGibbs, s.sootHeat = s.ranges.graphite.dot(&s.basis.gibbs), s.ranges.graphite.dot(&s.basis.enthalpy)
	}
	if s.sooty {
		s.assembleGraphite()
	}
	for i := range t {
		if s.elements[i] == 0 { // keeps the potential of an absent element
			m[i][i], x[i] = 1, 0
		}
	}
}

// traceShare of the gas is left out of the heat capacity, which steers the step and not the result.
const traceShare = 1e-5

// sumPlain adds up the gases of C, H and O.
func (s *state) sumPlain(a *sums) {
	shift, trace := s.logP-s.logN, traceShare*s.total
	pc, ph, po := s.potential[carbon], s.potential[hydrogen], s.potential[oxygen]
	for _, j := range s.active[:s.activeCount] {
		if j >= plainCount {
			continue
		}
		p, atoms, n := &s.ranges.gases[j], &products[j].atoms, s.moles[j]
		c, h, o := atoms[carbon], atoms[hydrogen], atoms[oxygen]
		q := p.dot(&s.basis.enthalpy)
		e := p.dot(&s.basis.gibbs) + s.logs[j] + shift - (c*pc + h*ph + o*po)
		s.heats[j], s.mismatch[j] = q, e
		nc, nh, no, nq := n*c, n*h, n*o, n*q
		a.cc += nc * c
		a.ch += nc * h
		a.co += nc * o
		a.hh += nh * h
		a.ho += nh * o
		a.oo += no * o
		a.c += nc
		a.h += nh
		a.o += no
		a.cq += nc * q
		a.hq += nh * q
		a.oq += no * q
		a.q += nq
		a.qq += nq * q
		a.ce += nc * e
		a.he += nh * e
		a.oe += no * e
		a.qe += nq * e
		a.e += n * e
		if n > trace {
			a.capacity += n * p.heatCapacity(&s.basis)
		}
	}
}

// sumOthers adds the gases with nitrogen or argon to matrix and right side.
func (s *state) sumOthers() {
	shift := s.logP - s.logN
	m, x, t := &s.matrix, &s.step, s.elementRows()
	x[nitrogen], x[argon] = s.elements[nitrogen], s.elements[argon]
	for _, j := range s.active[:s.activeCount] {
		if j < plainCount {
			continue
		}
		p, atoms, n := &s.ranges.gases[j], &products[j].atoms, s.moles[j]
		q := p.dot(&s.basis.enthalpy)
		e := p.dot(&s.basis.gibbs) + s.logs[j] + shift
		for i, count := range atoms {
			e -= count * s.potential[i]
		}
		s.heats[j], s.mismatch[j] = q, e
		for i, count := range atoms {
			if count == 0 {
				continue
			}
			for k := range i + 1 {
				m[i][k] += n * count * atoms[k]
			}
			m[t][i] += n * count * q
			m[t+1][i] += n * count
			x[i] += n * count * (e - 1)
		}
		m[t][t] += n * (q*q + p.heatCapacity(&s.basis))
		m[t+1][t] += n * q
		x[t] += n * q * (e - 1)
		x[t+1] += n * e
	}
}

// assembleGraphite adds graphite as an unknown.
func (s *state) assembleGraphite() {
	m, x, t := &s.matrix, &s.step, s.elementRows()
	m[t][t] += max(s.soot, 0) * s.ranges.graphite.heatCapacity(&s.basis)
	m[t+2][carbon], m[t+2][t] = 1, s.sootHeat
	x[carbon] -= s.soot
	x[t] -= s.soot * s.sootHeat
	x[t+2] = s.sootGibbs - s.potential[carbon]
}

// solve replaces step by the solution of matrix · x = step. The matrix is symmetric and quasi-definite, a positive definite
// block for potentials and temperature bordered by constraints, so that L D Lᵀ exists without exchanging rows (Vanderbei, SIAM
// J. Optimization 5, 1995). Only the lower triangle is read.
func (s *state) solve() {
	size := s.rows()
	m, x := &s.matrix, &s.step
	for j := range size {
		row := &m[j]
		var scaled [unknownCount]float64
		d := row[j]
		for k := range j {
			scaled[k] = row[k] * m[k][k]
			d -= row[k] * scaled[k]
		}
		row[j] = d
		inverse := 1 / d
		for i := j + 1; i < size; i++ {
			v := m[i][j]
			for k := range j {
				v -= m[i][k] * scaled[k]
			}
			m[i][j] = v * inverse
		}
		for k := range j {
			x[j] -= row[k] * x[k]
		}
	}
	for i := size - 1; i >= 0; i-- {
		x[i] /= m[i][i]
		for k := i + 1; k < size; k++ {
			x[i] -= m[k][i] * x[k]
		}
	}
}
