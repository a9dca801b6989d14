package setup

import (
	"errors"
	"math/rand/v2"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
)

// someFlame is an invented flame: 260 L/h of acetylene on a hole of 1.1 mm.
func someFlame(ratio float64) FlameQuestion {
	return FlameQuestion{Fuel: gas.Acetylene, Ratio: ratio, FuelFlowStd: 260 * litresPerHour, OrificeDiameterM: 0.0011, Holes: 1, TemperatureK: 293.15, AmbientAbsPa: 101325}
}

// The flame of a card is the flame that FlameAt gives for the card's own ratio, flow and hole: the two cannot drift apart.
func TestFlameAt_agreesWithTheCard(t *testing.T) {
	c := must(t, eighth())
	a, err := FlameAt(c.Flame(eighth()))
	if err != nil {
		t.Fatal(err)
	}
	const same = 1e-9 // the same formulas in another order
	calctest.Near(t, a.TemperatureK, *c.FlameTemperatureK, same, "same flame")
	calctest.Near(t, a.PrimaryW, c.PrimaryPowerW, same, "same flame")
	calctest.Near(t, a.EnvelopeW, c.EnvelopePowerW, same, "same flame")
	calctest.Near(t, a.Tip.ExitVelocityMS, *c.ExitVelocityMS, same, "same flame")
	calctest.Near(t, a.Tip.Cone.Value, *c.ConeLengthM, same, "same flame")
	if a.Class != c.FlameClass || a.Printed != c.PrintedTemperature {
		t.Errorf("%s, %q; the card says %s, %q", a.Class, a.Printed, c.FlameClass, c.PrintedTemperature)
	}
}

// At every ratio the shares sum to one, a bigger flow makes a longer cone, and the lowest flow advised is never below the maker's.
func TestFlameAt_laws(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		q := someFlame(0.6 + 2*random.Float64())
		q.MakersMinimumStd = 1e-3 * random.Float64()
		a, err := FlameAt(q)
		if err != nil {
			t.Fatal(err)
		}
		s := a.Shares
		calctest.Near(t, s.CO+s.H2+s.H2O+s.CO2+s.O2+s.H+s.O+s.OH+s.Soot+s.Other, 1, 1e-12, "a sum, to rounding")
		more := q
		more.FuelFlowStd *= 1.1
		if b, err := FlameAt(more); err != nil || b.Tip.Cone.Value <= a.Tip.Cone.Value {
			t.Errorf("ratio %v: 10 %% more gas makes the cone %v from %v (%v)", q.Ratio, b.Tip.Cone.Value, a.Tip.Cone.Value, err)
		}
		if l, ok := q.LowestFlow(); !ok || float64(l.Advised) < q.MakersMinimumStd*(1-1e-12) {
			t.Errorf("advised %v, the maker's smallest is %v", l.Advised, q.MakersMinimumStd)
		}
	}
}

// Free oxygen grows and CO falls as the ratio rises beyond neutral; soot is there only far below 1 (graphite's edge is at 0.887,
// flame_README of the reference tables).
func TestFlameAt_sharesFollowTheRatio(t *testing.T) {
	at := func(ratio float64) FlameAnswer {
		a, err := FlameAt(someFlame(ratio))
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	low, neutral, high := at(0.8), at(1.1), at(1.5)
	if low.Shares.Soot == 0 || neutral.Shares.Soot != 0 {
		t.Errorf("soot %v at 0.8, %v at 1.1", low.Shares.Soot, neutral.Shares.Soot)
	}
	if !(high.Shares.O2 > neutral.Shares.O2 && high.Shares.CO < neutral.Shares.CO) {
		t.Errorf("neutral %+v, oxidizing %+v", neutral.Shares, high.Shares)
	}
	if low.Class != flame.Carburizing || neutral.Class != flame.Neutral || high.Class != flame.Oxidizing {
		t.Errorf("%s, %s, %s", low.Class, neutral.Class, high.Class)
	}
}

// Several holes share the flow: four holes with four times the flow make the cone of one.
func TestFlameAt_severalHoles(t *testing.T) {
	one, four := someFlame(1.1), someFlame(1.1)
	four.Holes, four.FuelFlowStd = 4, 4*one.FuelFlowStd
	a, err := FlameAt(one)
	b, err2 := FlameAt(four)
	if err := errors.Join(err, err2); err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, b.Tip.Cone.Value, a.Tip.Cone.Value, 1e-12, "the same gas out of each hole")
	l, _ := one.LowestFlow()
	m, _ := four.LowestFlow()
	calctest.Near(t, float64(m.Advised), 4*float64(l.Advised), 1e-12, "the same least flow for each hole")
}

// Without a hole or a burning velocity nothing of the tip is made up; what is no flame is refused.
func TestFlameAt_knowsWhatItDoesNotKnow(t *testing.T) {
	q := someFlame(1.1)
	q.OrificeDiameterM = 0
	if a, err := FlameAt(q); err != nil || a.Tip != nil || a.TemperatureK < 3000 {
		t.Errorf("%+v, %v", a, err)
	}
	q = someFlame(2.5)
	q.Fuel = gas.Propadiene
	if a, err := FlameAt(q); err != nil || a.Tip != nil {
		t.Errorf("propadiene: %+v, %v", a.Tip, err)
	}
	for _, bad := range []FlameQuestion{{Fuel: "oxygen", Ratio: 1, TemperatureK: 293, AmbientAbsPa: 1e5}, someFlame(0), someFlame(-1), someFlame(1e9)} {
		if a, err := FlameAt(bad); err == nil {
			t.Errorf("%+v gave %+v", bad, a)
		}
	}
}

// An example flame of every fuel is neutral, and its gas leaves in the middle of the usual exit velocities.
func TestExampleFlame(t *testing.T) {
	for _, g := range gas.Fuels() {
		a, err := FlameAt(ExampleFlame(g))
		if err != nil || a.Class != flame.Neutral {
			t.Errorf("%s: %s, %v", g, a.Class, err)
		}
		if a.Tip != nil && a.Tip.ExitClass != flame.NormalFlow {
			t.Errorf("%s leaves at %v m/s", g, a.Tip.ExitVelocityMS)
		}
	}
}

// The maker's minimum is the smallest of the tip's rows for the fuel.
func TestMakersMinimum(t *testing.T) {
	tip := chartRig().Rig.Tips[2]
	if got := tip.MakersMinimum(gas.Acetylene); got != 5e-5 {
		t.Errorf("%v, the smallest row begins at 5e-5", got)
	}
	if got := (&Tip{}).MakersMinimum(gas.Acetylene); got != 0 {
		t.Errorf("%v without a chart", got)
	}
	c := must(t, chartRig())
	if q := c.Flame(chartRig()); q.MakersMinimumStd != 5e-5 {
		t.Errorf("the card's flame has a maker's minimum of %v", q.MakersMinimumStd)
	}
}

func BenchmarkFlameAt(b *testing.B) {
	q := someFlame(1.1)
	for b.Loop() {
		if _, err := FlameAt(q); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLowestFlow(b *testing.B) {
	q := someFlame(1.1)
	for b.Loop() {
		if _, ok := q.LowestFlow(); !ok {
			b.Fatal("no lowest flow")
		}
	}
}
