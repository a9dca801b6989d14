package setup

import (
	"math"

	"torchside/calc/cut"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// cutTip is what a cutting tip does for the question.
type cutTip struct {
	result  cut.Result // its flows are those of the card
	cutting estimate   // cutting oxygen alone, m³/s standard
	preheat estimate   // oxygen of the preheat flame, likewise
}

// lostInTorch is how many times the pressure at the cutting orifice the torch inlet may stand at, for what valve and tubes lose at
// the flow of cutting oxygen; nobody publishes it. From memory. Only the high end of the band has it.
const lostInTorch = 1.3

const (
	sourceCutting   = "cutting data: Carvill, Mechanical Engineer's Data Handbook, p. 210 (read second-hand)"
	sourceCutOxygen = "choked flow through the hole for the cutting oxygen; " + sourceCutting
	sourcePreheat   = "10 to 25 % of all oxygen as acetylene: Sheet and Plate Metal Work (read second-hand); by thickness, from memory"
)

// burner is the tip with the holes that burn.
func (t *Tip) burner(w Work) *Tip {
	if w != Cut {
		return t
	}
	b := &Tip{Label: t.Label, OrificeDiameterM: t.PreheatDiameterM, OrificeCount: t.PreheatCount}
	if t.PreheatCount == 0 {
		b.OrificeDiameterM = nil // one hole of unknown many says nothing of the flame
	}
	return b
}

// usualPreheat is the share that stands for the usual preheat flame where other works have the flow they want.
func usualPreheat() estimate { return exact(Handbook, sourcePreheat, 1, "") }

// settleCut works out a cutting tip whose preheat is a share of the usual one.
func (c *candidate) settleCut(in Input, share float64) error {
	q := in.cut().input(in)
	if c.tip.OrificeDiameterM != nil {
		q.Orifice = units.Length(*c.tip.OrificeDiameterM)
	}
	if c.row != nil && c.row.OxygenFlowStd != nil {
		q.Flow = units.StandardFlow((c.row.OxygenFlowStd.Low + c.row.OxygenFlowStd.High) / 2)
	}
	usual, err := cut.Compute(withoutOrifice(q))
	if err != nil {
		return err
	}
	if err := c.chartTorch(in, &q, usual); err != nil {
		return err
	}
	r, err := cut.Compute(q)
	if err != nil {
		c.rejected = cutRefusal(c.tip.Label, err)
		return nil
	}
	c.cut = &cutTip{result: r}
	c.score = math.Abs(math.Log(float64(r.Orifice / usual.Orifice)))
	c.cutFlows(in, share)
	if c.fuelFlow.value < r.PreheatFuels.Low*(1-1e-9) && c.fuelFlow.prov.Kind != MakersChart {
		c.rejected = &Refusal{Code: "preheat_too_small", Field: words.S("tip %s", c.tip.Label), Read: flowText(c.fuelFlow.value, in.Rig.FuelCylinder.Fuel), Allowed: words.S("at least %s", flowText(r.PreheatFuels.Low, in.Rig.FuelCylinder.Fuel)),
			Why: "no source prints so small a preheat flame", Source: sourcePreheat}
	}
	return c.cutPressures(in)
}

// withoutOrifice is the question for the hole that the thickness wants.
func withoutOrifice(q cut.Input) cut.Input {
	q.Orifice, q.Flow, q.Torch = 0, 0, 0
	return q
}

// chartTorch fills in the pressure at the torch that a maker's row leaves there. What the hose takes of a pressure at the regulator
// depends on the flow, and the flow on what is left: choked flow follows the absolute pressure, and halving finds where both meet.
func (c *candidate) chartTorch(in Input, q *cut.Input, usual cut.Result) error {
	row := chartPressure(c.row, false)
	if row == nil || q.Flow != 0 {
		return nil
	}
	set := (row.Low + row.High) / 2
	q.Torch = units.GaugePressure(max(set, 1e4))
	if c.row.PressuresAt == AtTorch || in.Rig.OxygenHose == nil {
		return nil
	}
	atSet, err := cut.Compute(*q)
	if err != nil {
		return nil // Compute refuses it again, and is heard there
	}
	low, high := 1e4, math.Max(set, 1e4)
	for range 30 {
		torch := (low + high) / 2
		flow := atSet.Cutting.Value*(torch+in.AmbientAbsPa)/(set+in.AmbientAbsPa) + float64(usual.PreheatOxygen)
		loss, err := hoseLoss(in.Rig.OxygenHose, gas.Oxygen, in, torch, flow)
		if err != nil {
			return err
		}
		if torch+loss.value < set {
			low = torch
		} else {
			high = torch
		}
	}
	q.Torch = units.GaugePressure(low)
	return nil
}

// cutFlows settles the flows: cutting oxygen by the hole or the maker's row, the preheat by the thickness or the row.
func (c *candidate) cutFlows(in Input, share float64) {
	r, fuel := &c.cut.result, in.Rig.FuelCylinder.Fuel
	c.cut.cutting = newEstimate(Computed, sourceCutOxygen, true, r.Cutting.Value, r.Cutting.Low, r.Cutting.High, r.Cutting.Reason)
	if c.row != nil && c.row.OxygenFlowStd != nil {
		c.cut.cutting = fromRange(c.row.OxygenFlowStd)
	}
	p := r.PreheatFuels
	c.fuelFlow = newEstimate(Handbook, sourcePreheat, true, p.Value*share, p.Low, p.High, p.Reason)
	if c.row != nil && c.row.FuelFlowStd != nil {
		c.fuelFlow = fromRange(c.row.FuelFlowStd).over(c.fuelFlow)
	}
	c.need = c.fuelFlow
	oxygen := oxygenFlow(fuel, c.fuelFlow.value, c.ratio.value)
	c.cut.preheat = newEstimate(Computed, "fuel flow × ratio", c.fuelFlow.prov.FromMemory, oxygen, oxygenFlow(fuel, c.fuelFlow.prov.Low, c.ratio.prov.Low),
		oxygenFlow(fuel, c.fuelFlow.prov.High, c.ratio.prov.High), "the bands of fuel flow and ratio")
	c.oxyFlow = c.cut.cutting.plus(c.cut.preheat)
	c.oxyFlow.prov.Kind, c.oxyFlow.prov.Others = weaker(c.cut.cutting.prov.Kind, Computed), nil
	c.oxyFlow.prov.Source = words.S("cutting oxygen (%s) + oxygen of the preheat flame", c.cut.cutting.prov.Source)
	c.oxyFlow = c.oxyFlow.withFormula("cutting oxygen + fuel flow × ratio", NamedValue{Name: "cutting oxygen", Quantity: "standard_flow", SI: c.cut.cutting.value, Gas: string(gas.Oxygen)},
		NamedValue{Name: "oxygen of the preheat", Quantity: "standard_flow", SI: oxygen, Gas: string(gas.Oxygen)})
	r.Cutting = units.Band{Value: c.cut.cutting.value, Low: c.cut.cutting.prov.Low, High: c.cut.cutting.prov.High, Reason: r.Cutting.Reason}
	r.PreheatFuel, r.PreheatOxygen, r.PreheatRatio = units.StandardFlow(c.fuelFlow.value), units.StandardFlow(oxygen), c.ratio.value
	if c.burner.OrificeDiameterM != nil {
		u := c.exitVelocity(in, c.fuelFlow.value)
		c.exit = &u
	}
}

// cutPressures settles the pressures. The oxygen line carries cutting and preheat together, so the loss is that of both.
func (c *candidate) cutPressures(in Input) error {
	g := float64(c.cut.result.Gauge)
	kind := Handbook
	if c.tip.OrificeDiameterM != nil {
		kind = Computed
	}
	oxygen := newEstimate(kind, sourceCutOxygen, true, g, g, lostInTorch*g, "what the torch loses before the hole is not published: up to 30 % (from memory)")
	if c.tip.OrificeDiameterM != nil {
		oxygen = oxygen.withFormula("pressure at which the hole passes the oxygen that the thickness asks for", NamedValue{Name: "hole", Quantity: "length", SI: *c.tip.OrificeDiameterM})
	}
	fuel, err := c.preheatPressure(in)
	if err != nil {
		return err
	}
	name := in.Rig.FuelCylinder.Fuel
	if c.torch.fuel, c.regulator.fuel, err = c.onePressure(in, in.Rig.FuelHose, name, fuel, c.fuelFlow.value, chartPressure(c.row, true)); err != nil {
		return err
	}
	c.torch.oxygen, c.regulator.oxygen, err = c.onePressure(in, in.Rig.OxygenHose, gas.Oxygen, oxygen, c.oxyFlow.value, chartPressure(c.row, false))
	return err
}

// printedPreheat is the acetylene pressure printed beside the cutting data, m → Pa: Carvill p. 210.
var printedPreheat = []point{{0.006, 0.14e5}, {0.013, 0.21e5}, {0.050, 0.14e5}, {0.100, 0.14e5}}

// preheatPressure is the fuel pressure at the torch: by the holes of the preheat when they are known, else as printed for acetylene.
func (c *candidate) preheatPressure(in Input) (estimate, error) {
	pair, err := physicalPressures(in, c.burner, c.fuelFlow.value, c.ratio.value)
	if err != nil || in.Rig.FuelCylinder.Fuel != gas.Acetylene || in.Rig.Torch.Mixing == Injector {
		return pair.fuel, err
	}
	if c.burner.OrificeDiameterM != nil {
		return capped(pair.fuel), nil
	}
	v := printedPreheat[0].value
	if in.ThicknessM > printedPreheat[0].thickness {
		v = interpolate(printedPreheat, in.ThicknessM)
	}
	return newEstimate(Handbook, sourceCutting, false, v, equalPressureLow, 5*units.PSI, "holes of the preheat not entered; other torches take up to 5 psi (0.34 bar) (common practice, no source)").over(pair.fuel), nil
}

// chartedOxygen is the oxygen flow as a maker's row counts it: for cutting without that of the preheat.
func (c *candidate) chartedOxygen() float64 {
	if c.cut != nil {
		return c.cut.cutting.value
	}
	return c.oxyFlow.value
}
