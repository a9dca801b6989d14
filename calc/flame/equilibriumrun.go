package flame

import "math"

const (
	// maxIterations bounds the work. The slowest of 300 000 random mixtures took 46.
	maxIterations = 100
	// convergedChange is the largest change (see advance) of a last step: steps converge quadratically, so that what is left is of
	// the order of its square.
	convergedChange = 4e-6
	// settledChange is small enough for the potentials to tell which traces matter.
	settledChange = 0.1
	// Gases whose logarithm of moles over those of the scarcest element passes logAdmitted come in; they stay to logDropped. What
	// is left out is below 1e-9 of any element.
	logAdmitted = -25
	logDropped  = -28
	// highestLogX limits a gas that comes in, whatever potentials still far off say.
	highestLogX = -3
	// Damping as in NASA RP-1311 part I, equation 3.1: no amount grows by more than e² in a step, temperature and moles of gas
	// change by no more than e^0.4.
	maxGrowth         = 2
	temperatureWeight = 5 // maxGrowth over 0.4
)

// The range of the polynomials in logarithms of K, with a margin; no flame comes near its ends.
var logColdest, logHottest = math.Log(201), math.Log(5900)

// run minimises from a cold start and reports whether it converged.
func (s *state) run() bool {
	s.guess()
	admitted := false
	for s.iterations = 1; s.iterations <= maxIterations; s.iterations++ {
		s.assemble()
		s.solve()
		change := s.advance()
		if change < settledChange && !admitted {
			admitted = true
			s.admit()
			s.exchangeGraphite()
			continue
		}
		if change < convergedChange && !s.exchangeGraphite() && !s.admit() {
			return true
		}
	}
	return false
}

// advance makes the step, shortened when it is long. It returns how far the balances can still be off: the largest relative
// change of temperature, of graphite and of a gas, the gas weighted so that its square is what it lacks of the scarcest element;
// 1 for a shortened step.
func (s *state) advance() float64 {
	t := s.elementRows()
	heat, grow := s.step[t], s.step[t+1]
	dc, dh, do := s.step[carbon], s.step[hydrogen], s.step[oxygen]
	rise, lack := temperatureWeight*max(math.Abs(heat), math.Abs(grow)), 0.0
	for _, j := range s.active[:s.activeCount] {
		atoms := &products[j].atoms
		d := grow + s.heats[j]*heat - s.mismatch[j] + (atoms[carbon]*dc + atoms[hydrogen]*dh + atoms[oxygen]*do)
		if j >= plainCount {
			d += atoms[nitrogen]*s.step[nitrogen] + atoms[argon]*s.step[argon]
		}
		s.mismatch[j] = d
		rise = max(rise, d)
		lack = max(lack, d*d*s.moles[j])
	}
	if rise > maxGrowth {
		s.move(maxGrowth / rise)
		return 1
	}
	change := max(math.Abs(heat), math.Sqrt(lack/s.scarcest))
	if s.sooty {
		change = max(change, math.Abs(s.step[t+2])/s.total)
	}
	s.move(1)
	return change
}

// move goes a share of the step; mismatch holds the change of the logarithms of the gases.
func (s *state) move(factor float64) {
	t := s.elementRows()
	s.total = 0
	for _, j := range s.active[:s.activeCount] {
		s.logs[j] += factor * s.mismatch[j]
		s.moles[j] = math.Exp(s.logs[j])
		s.total += s.moles[j]
	}
	s.logN = math.Log(s.total)
	for i := range t {
		s.potential[i] += factor * s.step[i]
	}
	if s.sooty {
		s.soot += factor * s.step[t+2]
	}
	s.logT = min(max(s.logT+factor*s.step[t], logColdest), logHottest)
	s.t = math.Exp(s.logT)
}

// exchangeGraphite takes graphite in when its activity passes 1 and out when its amount is negative, and reports whether it did.
func (s *state) exchangeGraphite() bool {
	switch {
	case s.sooty && s.soot < 0:
		s.sooty, s.soot = false, 0
		return true
	case !s.sooty && s.mayFormGraphite && s.potential[carbon] > s.sootGibbs+rounding:
		s.sooty, s.soot = true, 0
		return true
	}
	return false
}

// rounding is how far a potential may be off by the last digits.
const rounding = 1e-10

// logFraction is the logarithm of the mole fraction in the gas of product j, as the potentials have it.
func (s *state) logFraction(j int) float64 {
	atoms := &products[j].atoms
	l := s.potential[carbon]*atoms[carbon] + s.potential[hydrogen]*atoms[hydrogen] + s.potential[oxygen]*atoms[oxygen]
	if j >= plainCount {
		l += s.potential[nitrogen]*atoms[nitrogen] + s.potential[argon]*atoms[argon]
	}
	return l - s.ranges.gases[j].dot(&s.basis.gibbs) - s.logP
}

// admit takes in the gases that matter at the present potentials and leaves out those that do not. It reports whether any came
// in.
func (s *state) admit() bool {
	var in [gasCount]bool
	for _, j := range s.active[:s.activeCount] {
		in[j] = true
	}
	s.basis.set(s.t, s.logT)
	scarce := math.Log(s.scarcest) - s.logN
	count, added := 0, false
	for _, j := range s.candidates[:s.candidateCount] {
		l := s.logFraction(int(j))
		s.logFractions[j] = l
		switch {
		case in[j] && l < scarce+logDropped, !in[j] && l < scarce+logAdmitted:
			continue
		case !in[j]:
			added = true
			s.logs[j] = min(l, highestLogX) + s.logN
			s.moles[j] = math.Exp(s.logs[j])
			s.total += s.moles[j]
		}
		s.active[count] = j
		count++
	}
	s.activeCount = count
	if added {
		s.logN = math.Log(s.total)
	}
	return added
}
