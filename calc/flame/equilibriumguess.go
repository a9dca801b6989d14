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

// guessLean has all carbon burnt to CO at least; what oxygen is left burns CO and H2, and dissociation undoes a share of that.
func (s *state) guessLean(c, h, o float64) {
	burnt := min((o-c)/(c+h/2), 1)
	spare := max(o-2*c-h/2, 0)
	heat := s.enthalpy + c*(heatOfCO+burnt*heatOfCO2FromCO) + h/2*burnt*heatOfH2O
	capacity := c*(4.2+2.6*burnt) + h/2*(4+1.6*burnt) + spare/2*4.3 + s.inert()*4.1
	s.t = softened(roomTemperature+heat/capacity, 1800, 1600)
	split := min(max((s.t-2000)/1800, 0.001), 0.75)
	co2 := c * burnt * (1 - split)
	h2o := h / 2 * burnt * (1 - 0.6*split)
	if c > 0 {
		s.put(gasCO, c-co2)
		s.put(gasCO2, co2)
	}
	rest := h - 2*h2o
	s.put(gasH2O, h2o)
	s.put(gasH2, 0.3*rest)
	s.put(gasH, 0.2*rest)
	s.put(gasOH, 0.2*rest)
	free := max(o-c-co2-h2o-0.2*rest, 1e-4*o)
	s.put(gasO, 0.3*split*free)
	s.put(gasO2, (1-0.3*split)/2*free)
}

// guessRich has all oxygen in CO; carbon left over goes to soot and to hydrocarbons.
func (s *state) guessRich(c, h, o float64) {
	spare := max(c-o, 1e-4*c)
	heat := s.enthalpy + o*heatOfCO
	capacity := o*4.2 + h/2*4 + spare*2.8 + s.inert()*4.1
	s.t = softened(roomTemperature+heat/capacity, 2200, 1100)
	s.put(gasCO, min(o, c))
	s.put(gasH2, 0.4*h)
	s.put(gasH, 0.2*h)
	if s.mayFormGraphite && spare > 0.12*c {
		s.sooty, s.soot = true, 0.8*spare
		spare *= 0.2
	}
	s.put(gasC2H2, 0.35*spare)
	s.put(gasC2H, 0.06*spare)
	s.put(gasC, 0.01*spare)
	s.put(gasC2, 0.01*spare)
	s.put(gasC3, 0.04*spare)
	s.put(gasC4H2, 0.02*spare)
	s.put(gasCH4, 1e-4*h)
	s.put(gasH2O, 1e-4*h)
	s.put(gasCO2, 1e-5*h)
	s.put(gasO, 1e-5*h)
	s.put(gasOH, 1e-5*h)
}
