package leak

import (
	"math"

	"torchside/calc/units"
	"torchside/calc/words"
)

// fit is the straight line of density against time, as a loss: kg/(m³ s), positive when gas is lost.
type fit struct {
	value, low, high float64 // low and high: the band that the reading errors and the scatter leave
	standardError    float64 // of value, from the scatter alone; 0 with two readings, which have none
}

// leastSquares fits the loss: the slope is Σ c·ρ with c = -(t - mean)/Σ(t - mean)². With two readings that is the plain difference over
// the time. In the band each density is off in the worse direction.
func leastSquares(states []state) fit {
	mean, square := centre(states)
	var f fit
	for _, s := range states {
		c := -(s.at - mean) / square
		f.value += c * s.mid
		if c > 0 {
			f.low, f.high = f.low+c*s.low, f.high+c*s.high
		} else {
			f.low, f.high = f.low+c*s.high, f.high+c*s.low
		}
	}
	if n := len(states); n > 2 {
		f.standardError = math.Sqrt(residuals(states, mean, f.value) / float64(n-2) / square)
		half := student(n-2) * f.standardError
		f.low, f.high = min(f.low, f.value-half), max(f.high, f.value+half)
	}
	return f
}

// centre returns the mean time and the sum of squares about it.
func centre(states []state) (mean, square float64) {
	for _, s := range states {
		mean += s.at / float64(len(states))
	}
	for _, s := range states {
		square += (s.at - mean) * (s.at - mean)
	}
	return mean, square
}

// residuals is the sum of squares of the densities about the fitted line.
func residuals(states []state, mean, loss float64) float64 {
	level := 0.0
	for _, s := range states {
		level += s.mid / float64(len(states))
	}
	sum := 0.0
	for _, s := range states {
		r := s.mid - (level - loss*(s.at-mean))
		sum += r * r
	}
	return sum
}

// Student's t for a two-sided confidence of 95 % by degrees of freedom, from 1: NIST/SEMATECH e-Handbook of Statistical
// Methods, section 1.3.6.7.2 (typed from memory; a test integrates the distribution to check every figure).
var studentTable = []float64{
	12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.160, 2.145, 2.131,
	2.120, 2.110, 2.101, 2.093, 2.086, 2.080, 2.074, 2.069, 2.064, 2.060, 2.056, 2.052, 2.048, 2.045, 2.042,
}

// student returns Student's t; beyond the table its last figure, which is on the wide side.
func student(freedom int) float64 {
	return studentTable[min(freedom, len(studentTable))-1]
}

// rate is a fit as a leak through the section's volume, in std m³/s.
type rate struct {
	band          units.Band
	smallest      float64 // readings must show more than this to prove a leak
	standardError float64
}

// rate scales a fit to the volume. The low end is above zero exactly when the value is above smallest: an error of the volume
// makes a leak larger or smaller, never one of nothing.
func (t Test) rate(f fit) rate {
	small, large := t.volumes()
	standard := float64(t.Gas.StandardDensity())
	scale := func(loss, ifPositive, ifNegative float64) float64 {
		if loss > 0 {
			return loss * ifPositive / standard
		}
		return loss * ifNegative / standard
	}
	v := float64(t.Volume)
	return rate{
		band: units.Band{
			Value: f.value * v / standard, Low: scale(f.low, small, large), High: scale(f.high, large, small),
			Reason: t.reason(),
		},
		smallest:      (f.value - f.low) * v / standard,
		standardError: f.standardError * v / standard,
	}
}

// reason says what the band is made of.
func (t Test) reason() string {
	text := "each gauge and thermometer reading off by its full error in the worse direction, and the volume too, all added"
	if len(t.Readings) > 2 {
		text += words.T("; at least the 95 % band of the scatter about the straight line")
	}
	return text
}
