package setup

import (
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// builder fills a card and its provenance together, so that no number gets in without one.
type builder struct {
	in   Input
	c    *candidate
	card Card
}

// build writes the card of the chosen tip.
func build(in Input, c *candidate, s stocks) Card {
	fuel := in.Rig.FuelCylinder.Fuel
	b := &builder{in: in, c: c, card: Card{Work: in.Work, Metal: in.Metal, FuelName: string(fuel), Mixing: in.Rig.Torch.Mixing, Provenance: map[string]Provenance{}}}
	b.tip()
	b.line("oxygen", &b.card.Oxygen, c.torch.oxygen, c.regulator.oxygen, c.oxyFlow, s.oxygen, in.Rig.OxygenRegulator)
	b.line("fuel", &b.card.Fuel, c.torch.fuel, c.regulator.fuel, c.fuelFlow, s.fuel, in.Rig.FuelRegulator)
	hold := b.flame(fuel)
	b.endurance()
	b.cost()
	b.rod()
	b.cutting()
	b.jobOfCut()
	b.card.Warnings = append(b.ofJoint(standing(in)), ofRig(in, c)...)
	b.card.Warnings = append(b.card.Warnings, s.oxygen.notes...)
	b.card.Warnings = append(b.card.Warnings, s.fuel.notes...)
	b.card.Warnings = append(b.card.Warnings, ofWithdrawal(in, c, s.fuel)...)
	b.card.Warnings = append(b.card.Warnings, b.ofPauses(s.fuel)...)
	b.card.Warnings = append(b.card.Warnings, ofFlame(in, c, hold)...)
	b.cutNotes()
	return b.card
}

func (b *builder) put(field string, e estimate) float64 {
	b.card.Provenance[field] = e.prov
	return e.value
}

func (b *builder) tip() {
	t := b.c.tip
	b.card.Tip = t.Label
	b.card.TipDetail = TipDetail{t.OrificeDiameterM, holes(t), nil, 0}
	p := Provenance{Kind: Computed, Source: words.S("flow wanted and exit velocity %s (common practice, from memory)", speedText(slowest, fastest)), FromMemory: true,
		Reason: "the tip whose flow and exit velocity come nearest to what is wanted"}
	if b.in.Work == Cut {
		b.card.TipDetail = TipDetail{t.OrificeDiameterM, 1, t.PreheatDiameterM, t.PreheatCount}
		p = Provenance{Kind: Handbook, Source: sourceCutting, FromMemory: b.c.cut.result.FromMemory, Reason: "the hole for the cutting oxygen nearest to the printed one"}
	}
	if b.c.row != nil {
		p = Provenance{Kind: MakersChart, Source: sourceChart, Reason: "a row of its chart holds for this work and thickness"}
	}
	if b.in.TipLabel != "" {
		p.Reason = words.S("chosen by hand; %s", p.Reason)
	}
	if t.OrificeDiameterM != nil {
		p.Inputs = []NamedValue{{Name: "hole", Quantity: "length", SI: *t.OrificeDiameterM}}
	}
	b.card.Provenance["tip"] = p
}

// line fills one gas.
func (b *builder) line(name string, l *GasLine, torch, regulator, flow estimate, s stock, r *Regulator) {
	l.TorchGaugePa = b.put(name+".torch_gauge_pa", torch)
	l.RegulatorGaugePa = b.put(name+".regulator_gauge_pa", regulator)
	l.FlowStdM3S = b.put(name+".flow_std_m3_s", flow)
	if r != nil {
		scale := r.MaxGaugePa
		l.RegulatorMaxPa = &scale
	}
	b.lasting(name, l, flow, s)
}

// flame fills ratio, class, power, exit velocity, cone and the pop-back estimate.
func (b *builder) flame(fuel gas.Gas) *flame.HoldOnResult {
	c := b.c
	b.card.Ratio = b.put("ratio", c.ratio)
	b.card.FlameClass = flame.Classify(fuel, c.ratio.value)
	heat := heatPerVolume(fuel)
	power := c.fuelFlow.scaled(heat)
	b.card.PowerW = b.put("power_w", newEstimate(Computed, "fuel flow × lower heating value (NASA/TP-2002-211556 heats of formation)", power.prov.FromMemory, power.value, power.prov.Low, power.prov.High, "the band of the fuel flow; what reaches the work is much less"))
	b.heat(fuel)
	hold, cone := holdOn(b.in, c)
	if cone != nil {
		b.card.ConeLengthM = &cone.Value
	}
	if c.exit == nil {
		return nil
	}
	u := *c.exit
	b.card.ExitVelocityMS = &u
	b.card.ExitClass = string(flame.ClassifyExit(units.Speed(u)))
	spread := c.fuelFlow.prov
	b.put("exit_velocity_m_s", newEstimate(Computed, "mixture flow ÷ area of the hole; classes are common practice, from memory", true, u, max(u*spread.Low/c.fuelFlow.value, slowest), min(u*spread.High/c.fuelFlow.value, fastest), "the band of the flow, as far as a flame burns on the tip").
		withFormula("flow at ambient state ÷ area of the hole", NamedValue{Name: "hole", Quantity: "length", SI: *c.burner.OrificeDiameterM}))
	b.popBack(hold, cone)
	return hold
}

// popBack fills the pop-back estimate and the cone.
func (b *builder) popBack(hold *flame.HoldOnResult, cone *units.Band) {
	if hold == nil {
		return
	}
	m := hold.Margin.Value
	b.card.HoldOnMargin = &m
	b.put("hold_on_margin", newEstimate(Computed, hold.Source, true, m, hold.Margin.Low, hold.Margin.High, hold.Margin.Reason).
		withFormula("the smaller of exit velocity ÷ burning velocity and wall gradient ÷ flash-back gradient", NamedValue{Name: "exit ÷ burning velocity", Quantity: "number", SI: hold.VelocityRatio},
			NamedValue{Name: "wall ÷ flash-back gradient", Quantity: "number", SI: hold.GradientRatio}))
	if cone == nil {
		return
	}
	b.put("cone_length_m", newEstimate(Computed, "Gouy's law, sin α = burning velocity ÷ exit velocity", true, cone.Value, cone.Low, cone.High, cone.Reason))
}

// rod fills shade, filler, flux and travel speed.
func (b *builder) rod() {
	if b.in.Work == Braze {
		b.joining()
		return
	}
	b.card.Shade, b.card.Provenance["shade"] = shadeFor(b.in)
	if b.in.Work == Cut {
		return
	}
	if b.in.Work != Weld {
		b.card.Flux = "none"
		return
	}
	b.card.Filler, b.card.Flux = steelRod(b.in.ThicknessM), sourceNoFlux
	b.card.Provenance["filler"] = Provenance{Kind: Handbook, Source: words.S("%s; diameter %s", sourceA52, sourceCarvill)}
	b.card.Provenance["flux"] = Provenance{Kind: CommonPractice, Source: memoryMark("brazing and welding practice"), FromMemory: true}
	_, speed := rodRow(b.in.ThicknessM)
	b.card.SpeedMS = &speed
	b.card.Provenance["speed_m_s"] = Provenance{Kind: Handbook, Source: sourceCarvill, Low: speed.Low, High: speed.High, Reason: "by hand, steel; the row nearest in thickness"}
}
