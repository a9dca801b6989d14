package heat

// longestHeating is 4 h, s: no hand holds a torch longer.
const longestHeating = 4 * 3600

// pace says how time is cut.
type pace struct {
	first  float64 // share of the time that the zone alone would take
	growth float64 // of a step over the one before, and the largest step as a share of the time gone
	rise   float64 // of the zone in one step, as a share of the whole rise
}

// usualPace goes with usual; together they keep the error of time below 1 %.
var usualPace = pace{1. / 300, 0.12, 1. / 30}

// mostSteps ends a run that gets nowhere; a usual one takes 60.
const mostSteps = 20000

// smoothing is the number of steps by backward Euler at the start, which damp the jump when the flame comes on; then Crank and
// Nicolson.
const smoothing = 4

// reach heats until the mean of the zone is at target. It returns the time, and false when the losses balance the flame first or
// longestHeating is over.
func (v *solver) reach(target float64, p pace) (float64, bool) {
	start := v.mean()
	dt := p.first * v.alone(start, target)
	now := 0.0
	for n := 0; now < longestHeating && n < mostSteps; n++ {
		implicit := 0.5
		if n < smoothing {
			implicit = 1
		}
		was, in, lost := v.mean(), v.in, v.lost
		if !v.step(dt, implicit) {
			dt /= 2
			continue
		}
		now += dt
		if v.mean() >= target {
			return now - dt + v.land(target, was, dt, implicit, in, lost), true
		}
		room := p.rise * (target - start) / max(v.mean()-was, 1e-12)
		dt = min(dt*(1+p.growth), dt*room, p.growth*now+dt)
	}
	return now, false
}

// alone is the time that the zone would take without any loss, s.
func (v *solver) alone(start, target float64) float64 {
	volume := v.area * v.width[0] * float64(v.zone)
	return volume * (v.content(target) - v.content(start)) / v.power
}

// land repeats the last step so that it ends at the target, and returns its length. was, in and lost are those before the step.
func (v *solver) land(target, was, dt, implicit, in, lost float64) float64 {
	const near = 1e-6 // K
	low, high, below, above := 0.0, dt, was-target, v.mean()-target
	again := func(length float64) bool {
		copy(v.t, v.before)
		v.in, v.lost = in, lost
		return v.step(length, implicit)
	}
	for n := 0; n < 40 && above > near; n++ {
		guess := low + (high-low)*min(max(-below/(above-below), 0.02), 0.98)
		if !again(guess) {
			break // not met: a shorter step settles where a longer one did
		}
		if off := v.mean() - target; off < -near {
			low, below = guess, off
		} else {
			high, above = guess, max(off, 0)
		}
	}
	again(high)
	return high
}

// soak lets the bar cool in still air and notes the highest temperature at every distance, and when after the flame it came.
func (v *solver) soak(at []float64) (peak, when []float64) {
	peak, when = make([]float64, len(at)), make([]float64, len(at))
	for i, x := range at {
		peak[i] = v.at(x)
	}
	v.power = 0
	dt, now := 0.5, 0.0
	for n := 0; now < longestHeating && n < mostSteps; n++ {
		implicit := 0.5
		if n < smoothing {
			implicit = 1
		}
		if !v.step(dt, implicit) {
			dt /= 2
			continue
		}
		now += dt
		rising := false
		for i, x := range at {
			if t := v.at(x); t > peak[i] {
				peak[i], when[i] = t, now
			}
			rising = rising || when[i] > 0.8*now
		}
		if !rising && now > 5 {
			return peak, when
		}
		dt = min(dt*1.2, 0.1*now+0.5)
	}
	return peak, when
}
