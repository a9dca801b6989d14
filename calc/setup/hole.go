package setup

import (
	"math"
	"strconv"
	"strings"

	"torchside/calc/units"
	"torchside/calc/words"
)

// exitVelocity is the mean velocity of the mixture out of the hole, at ambient pressure and the temperature of the shop.
func (c *candidate) exitVelocity(in Input, fuelFlow float64) float64 {
	total := float64(mixedFlow(in.Rig.FuelCylinder.Fuel, fuelFlow, c.ratio.value))
	d := *c.burner.OrificeDiameterM
	area := math.Pi / 4 * d * d * float64(holes(c.burner))
	return total * (in.TemperatureK / 288.15) * (101325 / in.AmbientAbsPa) / area
}

// compared is the question as tips are compared: at the temperature of the standard state.
func compared(in Input) Input {
	in.TemperatureK = float64(units.StandardTemperature)
	return in
}

// flowAt is the fuel flow at which the tip is left at a velocity, at 15 °C.
func (c *candidate) flowAt(in Input, velocity float64) float64 {
	return velocity / c.exitVelocity(compared(in), 1)
}

const (
	sourceByTheHole  = "flow at which the gas leaves the hole of this tip at a usual speed (80 to 130 m/s (262 to 427 ft/s), common practice, from memory), as near to what the work asks as the tip goes"
	formulaByTheHole = "exit velocity × area of the hole ÷ gas for one part of fuel"
)

// byTheHole moves the wanted flow inside its band so that the tip burns neither soft nor harsh, as far as the band lets it. A
// flow that was moved is no longer the handbook's: what the handbook asks stays beside it.
func (c *candidate) byTheHole(in Input) estimate {
	need := c.need
	want := min(max(need.value, c.flowAt(in, soft)), c.flowAt(in, harsh))
	want = min(max(want, need.prov.Low), need.prov.High)
	low, high := max(need.prov.Low, c.flowAt(in, slowest)), min(need.prov.High, c.flowAt(in, fastest))
	if want == need.value {
		need.prov.Low, need.prov.High = min(low, want), max(high, want) // what the tip does not burn is no band of it
		return need
	}
	e := newEstimate(Computed, sourceByTheHole, true, want, low, high,
		"the flows that work and tip both allow").
		withFormula(formulaByTheHole, NamedValue{Name: "hole", Quantity: "length", SI: *c.tip.OrificeDiameterM},
			NamedValue{Name: "exit velocity", Quantity: "speed", SI: c.exitVelocity(compared(in), want)})
	e = e.over(need)
	e.prov.Others = append(e.prov.Others, need.prov.Others...)
	return e
}

// farOff is how many times the usable speeds a speed may be and still be told. Our choice.
const farOff = 1.5

// wrongHole rejects a tip whose gas would leave too slowly or too fast, and says which hole would do.
func (c *candidate) wrongHole(in Input, u float64) *Refusal {
	size := "too large"
	if u > fastest {
		size = "too small"
	}
	why := words.S("the hole is %s: the gas would leave at %s at 15 °C (59 °F), usable are %s (common practice, from memory)", size, speedText(u), speedText(slowest, fastest))
	if u > farOff*fastest || u < slowest/farOff { // such a speed is never reached, and says nothing
		why = words.S("the hole is much %s for this work", size)
	}
	r := &Refusal{Code: "tip_hole", Field: words.S("tip %s", c.tip.Label), Read: words.S("hole %s", lengthText(*c.tip.OrificeDiameterM)),
		Allowed: words.S("a hole near %s", lengthText(c.holeFor(in, aim))), Why: why}
	return r
}

// neitherWould begins what stands against every hole.
const neitherWould = ". A tip of the right hole would not do either: "

// advised adds to the rejection of a hole the hole that would do; one that would be refused itself is not advised, what it is
// refused for is said instead. Nil for a tip that is not rejected.
func (c *candidate) advised(in Input) *Refusal {
	if c.rejected == nil || c.rejected.Code != "tip_hole" {
		return c.rejected
	}
	r := *c.rejected
	way, no := c.holeThatFits(in)
	switch {
	case no != nil:
		r.Why += words.S("%s%s, %s", neitherWould, no.Read, no.Allowed)
		for _, w := range no.WaysOut {
			if !strings.HasPrefix(w, "fit a ") {
				r.WaysOut = append(r.WaysOut, w)
			}
		}
	case way != "":
		r.WaysOut = []string{words.S("fit a tip with %s", way), "if you own such a tip, add it under Rig"}
	}
	return &r
}

// tried is the refusal of a tip with one hole, which has been advised to nobody yet; nil when it would do.
func (c *candidate) tried(in Input, hole float64) *Refusal {
	need := c.need
	t, err := newCandidate(in, &Tip{Label: "with the hole advised", OrificeDiameterM: &hole, Fuels: c.tip.Fuels}, need, c.ratio)
	switch {
	case err != nil:
		return refusalOf(words.S("tip %s", t.tip.Label), err)
	case t.rejected != nil:
		return t.rejected
	}
	return overdrawn(in, &t, *c.cylinders)
}

// holeFor is the one hole out of which the wanted flow leaves at a velocity, m.
func (c *candidate) holeFor(in Input, velocity float64) float64 {
	one := Tip{OrificeDiameterM: c.tip.OrificeDiameterM}
	single := candidate{tip: &one, burner: &one, ratio: c.ratio}
	return *one.OrificeDiameterM * math.Sqrt(single.exitVelocity(compared(in), c.need.value)/velocity)
}

// holeThatFits names the hole for the wanted flow as a drill and its size, with the range that burns neither soft nor harsh;
// nothing when one hole of that size is no flame tip, and what refuses it when cylinders, hose or regulator do not stand it.
func (c *candidate) holeThatFits(in Input) (string, *Refusal) {
	d := c.holeFor(in, aim)
	if limitHole.refuse("", d, lengthText) != nil || c.cylinders == nil {
		return "", nil
	}
	least, most := c.holeFor(in, harsh), c.holeFor(in, soft)
	text := words.S("one hole of %s", lengthText(d))
	if n, size := nearestDrill(d); size >= least && size <= most {
		d = size
		text = words.S("one hole of drill #%s, %s", strconv.Itoa(n), lengthText(size))
	}
	if no := c.tried(in, d); no != nil {
		return "", no
	}
	return words.S("%s; from %s to %s mm (%s to %s in) will do", text, number(round(least*1000, 2)), number(round(most*1000, 2)), number(round(least/units.Inch, 3)), number(round(most/units.Inch, 3))), nil
}

// nearestDrill is the numbered drill nearest to a hole, and its size in m.
func nearestDrill(hole float64) (number int, size float64) {
	for n := 1; ; n++ {
		d, ok := units.NumberDrill(n)
		if !ok {
			return number, size
		}
		if number == 0 || math.Abs(math.Log(float64(d)/hole)) < math.Abs(math.Log(size/hole)) {
			number, size = n, float64(d)
		}
	}
}
