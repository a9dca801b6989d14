package setup

import (
	"math"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// FlameQuestion is one flame on one tip: the fuel flow stays, the oxygen follows the ratio.
type FlameQuestion struct {
	Fuel  gas.Gas
	Ratio float64 // moles of torch oxygen to one of fuel
	// FuelFlowStd of the whole tip and OrificeDiameterM of one hole; a hole of 0 is not known.
	FuelFlowStd      float64
	OrificeDiameterM float64
	Holes            int
	// MakersMinimumStd is the smallest fuel flow of the maker's chart for this tip, 0 when not known.
	MakersMinimumStd           float64
	TemperatureK, AmbientAbsPa float64
}

// FlameAnswer is what such a flame is. Numbers of the tip are nil where the hole or the burning velocity is not known.
type FlameAnswer struct {
	Class             flame.Class
	Neutral           units.Band // practical neutral range of the fuel
	NeutralFromMemory bool
	TemperatureK      float64
	Shares            Shares
	PrimaryW          float64 // what the torch oxygen can release
	EnvelopeW         float64 // what the air adds
	OxygenFlowStd     float64
	Burns             flame.Flammability
	Printed           string // what handbooks print; empty without a figure for the class
	PrintedSplit      string // how handbooks split the heat, and why it differs; empty where none is known
	Tip               *FlameOnTip
}

// FlameOnTip is how the flame stands on the tip.
type FlameOnTip struct {
	ExitVelocityMS  float64
	ExitClass       flame.ExitClass
	BurningVelocity units.Band
	// Cone is the length of the inner cone in m; 0 when the gas burns faster than it leaves.
	Cone   units.Band
	HoldOn flame.HoldOnResult
	Lowest flame.LowestFlow // of the whole tip
}

// Shares are mole fractions of what is in the flame, gas and graphite together; Other is all the rest.
type Shares struct{ CO, H2, H2O, CO2, O2, H, O, OH, Soot, Other float64 }

// FlameAt works out one flame.
//
// Errors: gas.ErrUnknown for what is no fuel; *gas.RangeError for a number outside its limits; flame.ErrNoEquilibrium.
func FlameAt(q FlameQuestion) (FlameAnswer, error) {
	r := flame.Reactants{Fuel: gas.Pure(q.Fuel), Oxidizer: gas.Oxygen, Ratio: q.Ratio, Purity: 1,
		Temperature: units.Temperature(q.TemperatureK), Pressure: units.AbsolutePressure(q.AmbientAbsPa), Graphite: true}
	e, err := flame.Solve(r)
	if err != nil {
		return FlameAnswer{}, err
	}
	burns, err := flame.Burns(r)
	if err != nil {
		return FlameAnswer{}, err
	}
	heat, err := flame.HeatsAt(r.Fuel, q.Ratio)
	if err != nil {
		return FlameAnswer{}, err
	}
	neutral := flame.NeutralRatio(q.Fuel)
	primary, envelope, _ := heat.Flow(r.Fuel, units.StandardFlow(q.FuelFlowStd))
	a := FlameAnswer{Class: flame.Classify(q.Fuel, q.Ratio), Neutral: neutral.Neutral, NeutralFromMemory: neutral.FromMemory,
		TemperatureK: float64(e.Temperature), Shares: sharesOf(&e), PrimaryW: float64(primary), EnvelopeW: float64(envelope),
		OxygenFlowStd: oxygenFlow(q.Fuel, q.FuelFlowStd, q.Ratio), Burns: burns}
	a.Printed = printedAgainst(q.Fuel, a.Class, e.Temperature)
	a.PrintedSplit = splitAgainst(q.Fuel, q.Ratio)
	a.Tip = q.onTip()
	return a, nil
}

func sharesOf(e *flame.Equilibrium) Shares {
	s := Shares{CO: e.Fraction("CO"), H2: e.Fraction("H2"), H2O: e.Fraction("H2O"), CO2: e.Fraction("CO2"), O2: e.Fraction("O2"),
		H: e.Fraction("H"), O: e.Fraction("O"), OH: e.Fraction("OH"), Soot: e.Fraction("C(gr)")}
	s.Other = max(0, 1-(s.CO+s.H2+s.H2O+s.CO2+s.O2+s.H+s.O+s.OH+s.Soot))
	return s
}

// exitVelocity is the mean velocity in m/s of the mixture out of the holes, at ambient pressure and the temperature of the shop.
func (q FlameQuestion) exitVelocity() float64 {
	area := math.Pi / 4 * q.OrificeDiameterM * q.OrificeDiameterM * float64(q.Holes)
	return float64(mixedFlow(q.Fuel, q.FuelFlowStd, q.Ratio)) * (q.TemperatureK / 288.15) * (101325 / q.AmbientAbsPa) / area
}

// holdOnInput puts the tip together for the pop-back estimate.
func (q FlameQuestion) holdOnInput() flame.HoldOnInput {
	return flame.HoldOnInput{Fuel: q.Fuel, Ratio: q.Ratio, Diameter: units.Length(q.OrificeDiameterM), ExitVelocity: units.Speed(q.exitVelocity()),
		Temperature: units.Temperature(q.TemperatureK), Ambient: units.AbsolutePressure(q.AmbientAbsPa)}
}

// onTip is nil where the hole or the burning velocity is not known.
func (q FlameQuestion) onTip() *FlameOnTip {
	if !(q.OrificeDiameterM > 0) || q.Holes < 1 {
		return nil
	}
	in := q.holdOnInput()
	hold, err := flame.HoldOn(in)
	if err != nil {
		return nil
	}
	t := FlameOnTip{ExitVelocityMS: float64(in.ExitVelocity), ExitClass: flame.ClassifyExit(in.ExitVelocity), BurningVelocity: hold.BurningVelocity, HoldOn: hold}
	t.Cone = coneBand(in, hold.BurningVelocity)
	t.Lowest, _ = q.LowestFlow() // HoldOn has taken the same input
	return &t
}

// ConeLength is the length of the inner cone in m over each hole; 0 where no cone stands or nothing is known.
func (q FlameQuestion) ConeLength() float64 {
	if !(q.OrificeDiameterM > 0) || q.Holes < 1 {
		return 0
	}
	v, err := flame.NearestBurningVelocity(q.Fuel, q.Ratio)
	if err != nil {
		return 0
	}
	return coneBand(q.holdOnInput(), v).Value
}

// LowestFlow is the least fuel advised for the whole tip at the ratio: an estimate of an order of magnitude, never below the
// maker's minimum. ok is false where nothing is known of hole or burning velocity.
func (q FlameQuestion) LowestFlow() (l flame.LowestFlow, ok bool) {
	if !(q.OrificeDiameterM > 0) || q.Holes < 1 {
		return flame.LowestFlow{}, false
	}
	holes := float64(q.Holes)
	l, err := flame.LowestFlowAdvised(q.holdOnInput(), units.StandardFlow(q.MakersMinimumStd/holes))
	if err != nil {
		return flame.LowestFlow{}, false
	}
	l.Advised *= units.StandardFlow(holes)
	l.Estimate.Value, l.Estimate.Low, l.Estimate.High = l.Estimate.Value*holes, l.Estimate.Low*holes, l.Estimate.High*holes
	return l, true
}

// Flame is the flame of a card, for the question it answers.
func (c Card) Flame(in Input) FlameQuestion {
	q := FlameQuestion{Fuel: gas.Gas(c.FuelName), Ratio: c.Ratio, FuelFlowStd: c.Fuel.FlowStdM3S, Holes: c.TipDetail.OrificeCount,
		TemperatureK: in.TemperatureK, AmbientAbsPa: in.AmbientAbsPa}
	hole := c.TipDetail.OrificeDiameterM
	if c.Work == Cut { // the flame is that of the preheat
		hole, q.Holes = c.TipDetail.PreheatDiameterM, c.TipDetail.PreheatCount
	}
	if hole != nil {
		q.OrificeDiameterM = *hole
	}
	for i := range in.Rig.Tips {
		if t := &in.Rig.Tips[i]; t.Label == c.Tip {
			q.MakersMinimumStd = t.MakersMinimum(q.Fuel)
		}
	}
	return q
}

// ExampleHoleM is the hole of ExampleFlame: 1 mm, our choice.
const ExampleHoleM = 0.001

// ExampleFlame is the usual flame of a fuel on a hole of 1 mm, for whoever has no card: the gas leaves in the middle of what
// torches run at (common practice, from memory), at 20 °C and 1 atm.
func ExampleFlame(fuel gas.Gas) FlameQuestion {
	q := FlameQuestion{Fuel: fuel, Ratio: flame.NeutralRatio(fuel).Neutral.Value, FuelFlowStd: 1e-5, OrificeDiameterM: ExampleHoleM, Holes: 1,
		TemperatureK: 293.15, AmbientAbsPa: float64(units.StandardAtmosphere)}
	q.FuelFlowStd *= (soft + harsh) / 2 / q.exitVelocity()
	return q
}
