package setup

import (
	"math"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/words"
)

// The exit velocities of a flame, m/s, as plain numbers. Common practice, from memory; see flame.ClassifyExit.
const (
	slowest = float64(flame.SlowestExit)
	soft    = float64(flame.NormalExit)
	harsh   = float64(flame.HarshExit)
	fastest = float64(flame.FastestExit)
	// aim is the upper half of normal: it stands farther from popping back, and small tips then run near the 5 psi of common
	// practice.
	aim = 115.0
)

// aimWeight is how much the exit velocity counts against the flow when tips are compared, both on a log scale.
const aimWeight = 0.5

// candidate is one tip with everything worked out for the question.
type candidate struct {
	tip               *Tip
	burner            *Tip      // the holes that burn: of a cutting tip those of its preheat
	cut               *cutTip   // of a cutting tip; nil for other works
	cylinders         *stock    // of the fuel, for the holes that are advised; nil where nothing is advised
	row               *ChartRow // the maker's row that holds for the question, nil when there is none
	need              estimate  // the fuel flow the work asks for, before the tip has its say
	ratio             estimate
	fuelFlow, oxyFlow estimate
	torch             torchPair
	regulator         torchPair
	exit              *float64
	score             float64 // lower is better
	rejected          *Refusal
	lesser            bool // a smaller flame than the work asks for, see lesserFlames
}

// newCandidate works out one tip. Only an impossible model gives an error; a tip that does not suit is marked rejected.
func newCandidate(in Input, t *Tip, need, ratio estimate) (candidate, error) {
	c := candidate{tip: t, burner: t.burner(in.Work), row: matchRow(t, in), ratio: ratio}
	c.rejected = suits(in, t)
	if c.rejected != nil {
		return c, nil
	}
	if err := c.settle(in, need); err != nil || c.rejected != nil {
		return c, err
	}
	c.rejected = first(c.rejected, c.checkPressures(in), c.outsideMakers(in))
	return c, nil
}

// settle works out flows and pressures.
func (c *candidate) settle(in Input, need estimate) error {
	if in.Work == Cut {
		return c.settleCut(in, need.value)
	}
	c.setFlows(in, need)
	if c.rejected != nil {
		return nil
	}
	return c.setPressures(in)
}

// suits rejects a tip that is not made for the fuel or the work.
func suits(in Input, t *Tip) *Refusal {
	fuel := in.Rig.FuelCylinder.Fuel
	fuels := t.Fuels
	if len(fuels) == 0 {
		fuels = []gas.Gas{gas.Acetylene}
	}
	if !known(fuels, fuel) {
		return &Refusal{Code: "tip_fuel", Field: words.S("tip %s", t.Label), Read: fuel.Name(), Allowed: commas(fuels), Why: "the tip is made for another fuel",
			WaysOut: []string{words.S("add a tip made for %s under Rig", fuel.Name()), words.S("put a cylinder of %s in use under Rig", anyOf(fuels))}}
	}
	if in.Work == Cut && len(t.Works) == 0 {
		return &Refusal{Code: "tip_work", Field: words.S("tip %s", t.Label), Read: "a flame tip", Allowed: "a cutting tip", Why: "a flame tip has no hole for the cutting oxygen",
			WaysOut: []string{wayCuttingTip}}
	}
	if len(t.Works) > 0 && !known(t.Works, in.Work) && !(in.Work == Bend && known(t.Works, Heat)) {
		return &Refusal{Code: "tip_work", Field: words.S("tip %s", t.Label), Read: string(in.Work), Allowed: commas(t.Works), Why: "the tip is for other work",
			WaysOut: []string{words.S("add a tip for %s under Rig", string(in.Work)), words.S("with this tip choose %s as the work", anyOf(t.Works))}}
	}
	return nil
}

// matchRow finds the maker's row that holds for the question, the narrowest thickness range first.
func matchRow(t *Tip, in Input) *ChartRow {
	var best *ChartRow
	width := math.Inf(1)
	for i := range t.Chart {
		if w, ok := rowHolds(&t.Chart[i], in); ok && w < width {
			best, width = &t.Chart[i], w
		}
	}
	return best
}

// rowHolds reports whether a row holds for the question and how wide its thickness range is.
func rowHolds(r *ChartRow, in Input) (float64, bool) {
	work := r.Work == "" || r.Work == in.Work || r.Work == Heat && in.Work == Bend
	if !work || r.Metal != "" && r.Metal != in.Metal || r.Fuel != "" && r.Fuel != in.Rig.FuelCylinder.Fuel {
		return 0, false
	}
	if r.ThicknessM == nil {
		return 1, true // any thickness: beaten by every row that names one
	}
	const slack = 2e-3 // charts round fractions of an inch to whole tenths of a millimetre
	in1 := in.ThicknessM >= r.ThicknessM.Low*(1-slack) && in.ThicknessM <= r.ThicknessM.High*(1+slack)
	return r.ThicknessM.High - r.ThicknessM.Low, in1
}

const sourceChart = "the torch maker's chart, as typed in by the owner"

// fromRange is the middle of a maker's range.
func fromRange(r *Range) estimate {
	return newEstimate(MakersChart, sourceChart, false, (r.Low+r.High)/2, r.Low, r.High, "the range of the chart row")
}

// setFlows settles fuel and oxygen flow, exit velocity and score. Which tip is taken must not hang on a few degrees in the
// shop, so tips are compared at 15 °C.
func (c *candidate) setFlows(in Input, need estimate) {
	fuel := in.Rig.FuelCylinder.Fuel
	c.need, c.fuelFlow = need, need
	if c.row != nil && c.row.FuelFlowStd != nil {
		c.fuelFlow = fromRange(c.row.FuelFlowStd).over(need)
		c.fuelFlow.prov.Others = append(c.fuelFlow.prov.Others, need.prov.Others...)
	} else if c.tip.OrificeDiameterM != nil && c.row == nil {
		c.fuelFlow = c.byTheHole(in)
	}
	c.settleOxygen(fuel, in.Ratio > 0)
	if c.tip.OrificeDiameterM == nil {
		return
	}
	u := c.exitVelocity(in, c.fuelFlow.value)
	c.exit = &u
	standard := c.exitVelocity(compared(in), c.fuelFlow.value)
	c.score = math.Abs(math.Log(c.fuelFlow.value/need.value)) + aimWeight*math.Abs(math.Log(standard/aim))
	if c.row == nil && (standard < slowest || standard > fastest) {
		c.rejected = c.wrongHole(in, standard)
	}
}

// settleOxygen takes the maker's oxygen flow, or else the ratio's; a chart with both flows settles the ratio. A ratio that was
// asked for beats the chart: oxygen flow, class and cautions are then those of the flame that is wanted.
func (c *candidate) settleOxygen(fuel gas.Gas, asked bool) {
	byRatio := newEstimate(Computed, "fuel flow × ratio", c.fuelFlow.prov.FromMemory, oxygenFlow(fuel, c.fuelFlow.value, c.ratio.value),
		oxygenFlow(fuel, c.fuelFlow.prov.Low, c.ratio.prov.Low), oxygenFlow(fuel, c.fuelFlow.prov.High, c.ratio.prov.High), "the bands of fuel flow and ratio").
		withFormula("fuel flow × moles of oxygen per mole of fuel", NamedValue{Name: "fuel flow", Quantity: "standard_flow", SI: c.fuelFlow.value, Gas: string(fuel)},
			NamedValue{Name: "ratio", Quantity: "number", SI: c.ratio.value})
	c.oxyFlow = byRatio
	if c.row == nil || c.row.OxygenFlowStd == nil {
		return
	}
	chart := fromRange(c.row.OxygenFlowStd)
	if asked {
		c.oxyFlow = byRatio.over(chart)
		return
	}
	c.oxyFlow = chart.over(byRatio)
	if c.row.FuelFlowStd != nil {
		c.ratio = ratioOfRow(fuel, c.row).over(c.ratio)
	}
}

// ratioOfRow is the ratio of a row with both flows: its band runs from the least oxygen on the most fuel to the most on the least.
func ratioOfRow(fuel gas.Gas, row *ChartRow) estimate {
	moles := molesPerVolume(gas.Oxygen) / molesPerVolume(fuel)
	oxygen, of := row.OxygenFlowStd, row.FuelFlowStd
	return newEstimate(MakersChart, sourceChart, false, (oxygen.Low+oxygen.High)/(of.Low+of.High)*moles, oxygen.Low/of.High*moles, oxygen.High/of.Low*moles,
		"the flow ranges of the chart row: least oxygen on most fuel to most oxygen on least fuel")
}

// setPressures settles the pressures at torch and regulator.
func (c *candidate) setPressures(in Input) error {
	ratio := c.ratio.value
	torch, err := physicalPressures(in, c.tip, c.fuelFlow.value, ratio)
	if err != nil {
		return err
	}
	if in.Rig.Torch.Mixing == EqualPressure && in.Rig.FuelCylinder.Fuel == gas.Acetylene {
		torch.fuel, torch.oxygen = capped(torch.fuel), capped(torch.oxygen)
	}
	fuel := in.Rig.FuelCylinder.Fuel
	if c.torch.fuel, c.regulator.fuel, err = c.onePressure(in, in.Rig.FuelHose, fuel, torch.fuel, c.fuelFlow.value, chartPressure(c.row, true)); err != nil {
		return err
	}
	if c.torch.oxygen, c.regulator.oxygen, err = c.onePressure(in, in.Rig.OxygenHose, gas.Oxygen, torch.oxygen, c.oxyFlow.value, chartPressure(c.row, false)); err != nil {
		return err
	}
	c.demoteOxygen(in)
	return nil
}

// capped cuts the high end of a band at the acetylene limit; the value itself is left for checkPressures to judge.
func capped(e estimate) estimate {
	e.prov.High = max(e.value, min(e.prov.High, maxAcetyleneGaugePa))
	return e
}

func chartPressure(r *ChartRow, fuel bool) *Range {
	switch {
	case r == nil:
		return nil
	case fuel:
		return r.FuelGaugePa
	}
	return r.OxygenGaugePa
}

// onePressure settles one gas: from the chart, read at its place, or else from the torch pressure found by physics.
func (c *candidate) onePressure(in Input, h *Hose, g gas.Gas, physics estimate, flowStd float64, chart *Range) (torch, regulator estimate, err error) {
	byPhysics, err := throughHose(in, h, g, physics, flowStd)
	if err != nil || chart == nil {
		return physics, byPhysics, err
	}
	maker := fromRange(chart)
	if c.row.PressuresAt == AtTorch {
		regulator, err = throughHose(in, h, g, maker, flowStd)
		return maker.over(physics), regulator, err
	}
	torch, err = hoseGain(h, g, in, maker, flowStd)
	if err != nil {
		return physics, byPhysics, err
	}
	torch.prov.Source = "maker's regulator pressure less the loss in the hose"
	return torch.over(physics), maker.over(byPhysics), nil
}

// throughHose adds the loss of the hose to a torch pressure.
func throughHose(in Input, h *Hose, g gas.Gas, torch estimate, flowStd float64) (estimate, error) {
	loss, err := hoseLoss(h, g, in, torch.value, flowStd)
	if err != nil {
		return estimate{}, err
	}
	e := torch.plus(loss)
	e.prov.Kind = weaker(torch.prov.Kind, Computed)
	e.prov.Source = words.S("torch pressure (%s) + loss in the hose", torch.prov.Source)
	e.prov.Others = nil
	return e.withFormula("torch pressure + loss in the hose", NamedValue{Name: "torch pressure", Quantity: "pressure", SI: torch.value},
		NamedValue{Name: "loss in the hose", Quantity: "pressure", SI: loss.value}), nil
}

// weaker returns the weaker of two kinds, so that a sum is never called better than its parts.
func weaker(a, b Kind) Kind {
	rank := map[Kind]int{MakersChart: 0, Handbook: 1, Computed: 2, CommonPractice: 3}
	if rank[a] > rank[b] {
		return a
	}
	return b
}

// checkPressures rejects a tip that needs more than acetylene may have or a regulator can give.
func (c *candidate) checkPressures(in Input) *Refusal {
	fuel, oxygen := c.regulator.fuel.value, c.regulator.oxygen.value
	if in.Rig.FuelCylinder.Fuel == gas.Acetylene {
		if fuel > maxAcetyleneGaugePa*(1+1e-9) || fuel+in.AmbientAbsPa > maxAcetyleneAbsPa*(1+1e-9) {
			return &Refusal{Code: "acetylene_pressure", Field: words.S("tip %s", c.tip.Label), Read: words.S("%s of acetylene needed at the regulator", pressureText(fuel)),
				Allowed: words.S("at most %s", pressureText(min(maxAcetyleneGaugePa, maxAcetyleneAbsPa-in.AmbientAbsPa))), Why: words.S("it would need acetylene at %s, above %s free acetylene can decompose by itself", pressureText(fuel), pressureText(min(maxAcetyleneGaugePa, maxAcetyleneAbsPa-in.AmbientAbsPa))),
				Source: sourceAcetylenePressure, WaysOut: []string{"fit a smaller tip", "use a wider or shorter hose"}}
		}
	}
	return first(c.hoseTakesAll(in), overScale("fuel", c.tip.Label, in.Rig.FuelRegulator, fuel), overScale("oxygen", c.tip.Label, in.Rig.OxygenRegulator, oxygen))
}

// hoseTakesAll rejects a maker's pressure of which the hose leaves nothing at the torch. The fuel of an injector torch is
// drawn in and may arrive without pressure.
func (c *candidate) hoseTakesAll(in Input) *Refusal {
	for _, g := range []struct {
		name             string
		torch, regulator float64
		drawn            bool
	}{{"oxygen", c.torch.oxygen.value, c.regulator.oxygen.value, false}, {"fuel", c.torch.fuel.value, c.regulator.fuel.value, in.Rig.Torch.Mixing == Injector}} {
		if g.torch <= 0 && !g.drawn {
			return &Refusal{Code: "hose_takes_all", Field: words.S("tip %s", c.tip.Label), Read: words.S("%s of %s at the regulator", pressureText(g.regulator), g.name),
				Allowed: "enough to leave some pressure at the torch", Why: "at this flow the hose loses all of it",
				WaysOut: []string{"use a wider or shorter hose", "look at the pressure in the chart again"}}
		}
	}
	return nil
}

func overScale(which, label string, r *Regulator, pa float64) *Refusal {
	if r == nil || pa <= r.MaxGaugePa {
		return nil
	}
	return &Refusal{Code: "over_scale", Field: words.S("tip %s", label), Read: words.S("%s of %s needed", pressureText(pa), which), Allowed: words.S("at most %s, the end of the %s gauge", pressureText(r.MaxGaugePa), which),
		Why: "the regulator cannot show, and may not give, this pressure", WaysOut: []string{"fit a smaller tip"}}
}
