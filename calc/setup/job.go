package setup

import (
	"errors"
	"math"
	"strings"

	"torchside/calc/braze"
	"torchside/calc/gas"
	"torchside/calc/heat"
	"torchside/calc/units"
	"torchside/calc/words"
)

// gasIn is what a gas of the card, by its name there, burns in a time; the bands of flow and time are multiplied.
func (c Card) gasIn(name string, flow float64, time units.Band) units.Band {
	p := c.Provenance[name+".flow_std_m3_s"]
	return units.Band{Value: flow * time.Value, Low: min(flow, p.Low) * time.Low, High: max(flow, p.High) * time.High}
}

var limitSeam = limit{0.001, 100, "the length of a weld"}

// WithWeld answers what a weld of a length takes: time, gas and cost. The card given is not changed. The error is a *Refusal.
func (c Card) WithWeld(in Input, lengthM float64) (Card, error) {
	if no := limitSeam.refuse("length_m", lengthM, lengthText); no != nil {
		return c, no
	}
	if c.SpeedMS == nil {
		return c, nil
	}
	out := c.copied()
	s := *c.SpeedMS
	time := units.Band{Value: lengthM / math.Sqrt(s.Low*s.High), Low: lengthM / s.High, High: lengthM / s.Low, Reason: "the printed speeds of a hand; starts, stops and tacks are not in it"}
	out.job(time, words.S("length ÷ travel speed: %s", sourceCarvill), false)
	priced(&out, in, jobUse{oxygen: c.gasIn("oxygen", c.Oxygen.FlowStdM3S, time), fuel: c.gasIn("fuel", c.Fuel.FlowStdM3S, time), why: "flow × time of the weld; without the rod"}, WholeJob)
	return out, nil
}

// job notes the time the flame burns for the job.
func (c *Card) job(time units.Band, source string, memory bool) {
	c.JobTimeS = &time
	if memory {
		source = memoryMark(source)
	}
	c.Provenance[KeyJobTime] = Provenance{Kind: Computed, Source: source, FromMemory: memory, Low: time.Low, High: time.High, Reason: time.Reason}
}

// How a joint is reckoned to be heated; our choices. A long seam is heated in pieces, each over the overlap and a margin on either side.
const (
	pieceOfSeam = 0.05 // m
	heatMargin  = 0.01 // m
	reachBeyond = 0.3  // m of metal on either side of the zone into which the heat runs
	overLow     = 20   // K above the low end of the brazing range
)

// heated works out how long the flame takes to bring the joint to its heat, of all pieces and joints together; ok is false where it never
// does, or the piece is none that is reckoned; weak where it may not.
func (c Card) heated(in Input, r braze.Result, b braze.Input) (time units.Band, ok, weak bool) {
	seam, n := float64(b.Length), float64(max(b.Count, 1))
	if b.Joint == braze.Socket {
		seam = math.Pi * float64(b.Diameter)
	}
	width := min(seam, pieceOfSeam)
	zone := max(float64(r.Overlap), float64(r.Leg), in.ThicknessM) + 2*heatMargin
	metal := faster(in)
	melts, err := heat.PropertiesOf(metal)
	if err != nil || seam == 0 {
		return time, false, false
	}
	low, high := c.NetHeatW.Low/c.PowerW, math.Min(1, c.NetHeatW.High/c.PowerW)
	got, err := heat.Compute(heat.Input{Metal: metal, Piece: heat.Piece{Shape: heat.Flat, Width: max(width, 2*in.ThicknessM), Height: 2 * in.ThicknessM, Length: zone + 2*reachBeyond},
		Zone: units.Length(zone), Target: units.Temperature(min(r.HeatTo.Low+overLow, r.HeatTo.High, melts.Melts.Low)), Start: units.Temperature(in.TemperatureK),
		Ambient: units.Temperature(in.TemperatureK), Power: units.Power(c.PowerW), Efficiency: math.Sqrt(low * high), EfficiencyLow: low, EfficiencyHigh: high})
	if err != nil {
		var outside *gas.RangeError
		return time, false, errors.As(err, &outside) && strings.Contains(outside.Why, "larger flame")
	}
	reason := "how much of the flame's heat enters the metal; a long seam is heated in pieces of 50 mm (2 in); feeding is not in it"
	most := got.Time.High
	if got.NeverHigh {
		most = got.Time.Value * got.Time.Value / got.Time.Low
		reason += words.T("; with the least of its heat the flame never gets there: the upper end is set as far above the middle as the lower is below")
	}
	pieces := n * seam / width
	return units.Band{Value: got.Time.Value * pieces, Low: got.Time.Low * pieces, High: most * pieces, Reason: reason}, true, got.NeverHigh
}

// faster is the metal of the two that leads heat away faster: the time is then on the long side.
func faster(in Input) heat.Metal {
	a := heat.Metal(in.Metal)
	b := heat.Metal(in.OtherMetal)
	pa, errA := heat.PropertiesOf(a)
	pb, errB := heat.PropertiesOf(b)
	const warm = 400 + zeroCelsius
	if errB != nil || errA == nil && pa.Conductivity(warm) >= pb.Conductivity(warm) {
		return a
	}
	return b
}

// withHeat adds time, gas and cost of the joint.
func (w *joiningWriter) withHeat(r braze.Result, b braze.Input) {
	u := r.Used
	if u == nil {
		return
	}
	time, ok, weak := w.card.heated(w.in, r, b)
	if weak {
		w.card.Warnings = append(w.card.Warnings, Warning{"flame_weak_for_joint", Check, "With the least of its heat this flame may not bring the joint to brazing heat: a larger tip, or firebricks around it, is surer.",
			"conduction along the parts (from memory: the share of the flame's heat)", KeyJointHeat})
	}
	use := jobUse{rodKg: u.Mass, fluxKg: u.Flux, family: r.Filler.Family, why: "rod and flux of the joint; the gas is not in it"}
	if ok {
		w.card.job(time, words.S("conduction into both parts, finite volumes; share of the flame's heat: %s", sourceNetHeat), true)
		use.oxygen, use.fuel = w.card.gasIn("oxygen", w.card.Oxygen.FlowStdM3S, time), w.card.gasIn("fuel", w.card.Fuel.FlowStdM3S, time)
		use.why = "flow × time to heat the joint; rod and flux of the joint"
	}
	priced(&w.card, w.in, use, WholeJob)
}
