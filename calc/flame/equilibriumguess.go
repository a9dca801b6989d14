package flame

import "math"

// guess sets where the iteration starts: a temperature and amounts of the main gases as a simple balance of heat and oxygen has
// them. The numbers are rough shares at flame temperature; they decide how many steps are needed and nothing else.
func (s *state) guess() {
	s.potential = composition{}
	s.ranges = ranges{}
	s.activeCount, s.total, s.soot, s.sooty = 0, 0, 0, false
	c, h, o := s.elements[carbon], s.elements[hydrogen], s.elements[oxygen]
	if c > 0 && o < sootingOxygen*c {
		s.guessRich(c, h, o)
	} else {
		s.guessLean(c, h, o)
	}
	if n := s.elements[nitrogen]; n > 0 {
		s.put(gasN2, n/2)
		s.put(gasNO, n/200)
	}
	if n := s.elements[argon]; n > 0 {
		s.put(gasAr, n)
	}
	s.logN, s.logT = math.Log(s.total), math.Log(s.t)
}

// sootingOxygen is how many atoms of oxygen to one of carbon leave no carbon over, with a little more.
const sootingOxygen = 1.02

// put takes a gas in with an amount in mol.
func (s *state) put(j uint8, moles float64) {
	s.active[s.activeCount] = j
	s.activeCount++
	s.moles[j], s.logs[j] = moles, math.Log(moles)
	s.total += moles
}

// Heats of formation over R in K (NASA/TP-2002-211556, rounded), for the balance of heat of a guess.
const (
	heatOfCO        = 13293
	heatOfCO2FromCO = 34034
	heatOfH2O       = 29085
	roomTemperature = 298
)

// inert is how many mol of nitrogen and argon are heated.
func (s *state) inert() float64 { return s.elements[nitrogen]/2 + s.elements[argon] }

// softened bends an undissociated flame temperature down above the knee: dissociation takes up heat.
func softened(ideal, knee, span float64) float64 {
	if ideal <= knee {
		return max(ideal, roomTemperature)
	}
	return knee + span*(1-math.Exp((knee-ideal)/span))
}

// guessLean has all carbon burnt to CO at least. The oxygen left over burns CO and H2; heat splits up a part of what it makes.
func (s *state) guessLean(c, h, o float64) {
	free := max(o-c, 1e-4*o)
	burnt := min(free/(c+h/2), 1)
	heat := s.enthalpy + c*(heatOfCO+burnt*heatOfCO2FromCO) + h/2*burnt*heatOfH2O
	capacity := c*(4.2+2.6*burnt) + h/2*(4+1.6*burnt) + max(o-2*c-h/2, 0)*2.15 + s.inert()*4.1
	s.t = softened(roomTemperature+heat/capacity, 1800, 1600)
	hot := min(max((s.t-1900)/1500, 0.001), 1)
	co2 := c * burnt * (1 - 0.74*hot)
	h2o := h / 2 * (burnt + hot*(math.Sqrt(burnt)-burnt)) * (1 - 0.55*hot)
	oh := 0.2 * hot * min(free, h)
	rest := max(h-2*h2o-oh, 1e-4*h)
	if c > 0 {
		s.put(gasCO, c-co2)
		s.put(gasCO2, co2)
	}
	s.put(gasH2O, h2o)
	s.put(gasOH, oh)
	s.put(gasH, 0.43*hot*rest)
	s.put(gasH2, (1-0.43*hot)/2*rest)
	s.put(gasO, 0.17*hot*free)
	s.put(gasO2, max(free-co2-h2o-oh-0.17*hot*free, 0.02*burnt*free)/2)
}

// guessRich has all oxygen in CO. Carbon left over goes to soot, to acetylene and its fragments where it is hot, to methane,
// ethylene and benzene where it is cold; there some CO2 and water are left too.
func (s *state) guessRich(c, h, o float64) {
	spare := max(c-o, 1e-4*c)
	heat := s.enthalpy + o*heatOfCO
	capacity := o*4.2 + h/2*4 + spare*2.8 + s.inert()*4.1
	s.t = max(softened(roomTemperature+heat/capacity, 2200, 1100), 900)
	hot := min(max((s.t-900)/1400, 0.001), 1)
	cold := 1 - hot
	if s.mayFormGraphite && spare > 0.12*c {
		s.sooty, s.soot = true, 0.8*spare
		spare *= 0.2
	}
	burnt := min(o, c)
	s.put(gasCO, burnt*(1-0.3*cold))
	s.put(gasCO2, burnt*(1e-5+0.1*cold*cold))
	s.put(gasH2O, burnt*(1e-4+0.1*cold*cold))
	s.put(gasH2, (0.5-0.1*hot*hot)*h)
	s.put(gasH, (1e-6+0.2*hot*hot*hot)*h)
	s.put(gasCH4, (1e-4+0.3*cold*cold)*spare)
	s.put(gasC2H2, 0.35*spare*hot)
	s.put(gasC2H, 0.06*spare*hot*hot*hot)
	s.put(gasC, 0.01*spare*hot*hot*hot)
	s.put(gasC2, 0.01*spare*hot*hot*hot)
	s.put(gasC3, 0.04*spare*hot*hot*hot)
	s.put(gasC4H2, 0.02*spare*hot)
	if s.sooty || cold == 0 {
		return
	}
	s.put(gasC2H4, 0.1*cold*spare)
	s.put(gasC6H6, 0.1*cold*spare)
}
