package state

import (
	"torchside/calc/gas"
	"torchside/calc/setup"
)

// rigSI is the rig in use as calc takes it. Arrestors and check valves count on the hose of their line.
func (a App) rigSI() *setup.Rig {
	rig := &setup.Rig{
		OxygenCylinder: a.oxygenSI(), FuelCylinder: a.fuelSI(),
		OxygenRegulator: a.regulatorSI(LineOxygen), FuelRegulator: a.regulatorSI(LineFuel),
		OxygenHose: a.hoseSI(LineOxygen), FuelHose: a.hoseSI(LineFuel),
		Tips: a.tipsSI(), WithdrawalRule: a.Prefs.WithdrawalRule, Prices: a.pricesSI(),
	}
	if t, ok := a.inUse(KindTorch, ""); ok {
		rig.Torch = &setup.Torch{Mixing: setup.Mixing(t.Choices["mixing"])}
		if rig.Torch.Mixing == setup.Injector {
			rig.Torch.InjectorDiameterM = t.number("injector_diameter")
		}
	}
	return rig
}

func (a App) oxygenSI() *setup.OxygenCylinder {
	c, ok := a.inUse(KindCylinder, LineOxygen)
	if !ok {
		return nil
	}
	volume, gauge := c.number("water_volume"), c.number("gauge_pressure")
	if volume == nil || gauge == nil {
		return nil // missing is not zero: the card then says that the contents are not known
	}
	return &setup.OxygenCylinder{
		WaterVolumeM3: *volume, GaugePressurePa: *gauge,
		ReserveGaugePa: firstOf(c.number("reserve_gauge"), a.Prefs.given(PrefOxygenReserve)),
		Count:          int(c.numberOr("count", 1)),
	}
}

func (a App) fuelSI() *setup.FuelCylinder {
	c, ok := a.inUse(KindCylinder, LineFuel)
	if !ok {
		return nil
	}
	f := &setup.FuelCylinder{
		Fuel: gas.Gas(c.Choices["gas"]), Count: int(c.numberOr("count", 1)),
	}
	if isCompressed(fill{choices: c.Choices}) {
		f.WaterVolumeM3, f.GaugePressurePa = c.number("water_volume"), c.number("gauge_pressure")
		return f
	}
	f.GrossMassKg, f.TareMassKg, f.FullMassKg = c.number("gross_mass"), c.number("tare_mass"), c.number("full_mass")
	f.ReserveFraction = firstOf(c.number("reserve_fraction"), a.Prefs.given(PrefFuelReserve))
	if f.Fuel == gas.Acetylene {
		f.GaugePressurePa = c.number("gauge_pressure_fuel")
	}
	return f
}

func firstOf(list ...*float64) *float64 {
	for _, v := range list {
		if v != nil {
			return v
		}
	}
	return nil
}

func (a App) regulatorSI(line string) *setup.Regulator {
	r, ok := a.inUse(KindRegulator, line)
	if !ok {
		return nil
	}
	return &setup.Regulator{MaxGaugePa: r.numberOr("max_gauge", 0)}
}

func (a App) hoseSI(line string) *setup.Hose {
	h, ok := a.inUse(KindHose, line)
	if !ok {
		return nil
	}
	out := &setup.Hose{
		InsideDiameterM: h.numberOr("inside_diameter", 0), LengthM: h.numberOr("length", 0), LossCoefficient: h.numberOr("loss_coefficient", 0),
	}
	if line == LineFuel {
		out.Grade = setup.HoseGrade(h.Choices["grade"])
	}
	for _, p := range a.parts(KindArrestor) {
		switch {
		case p.Retired || p.Line() != line:
		case p.Choices["type"] == "check_valve":
			out.CheckValves++
		default:
			out.Arrestors++
		}
	}
	return out
}

// tipsSI are the tips that are not retired and say enough to be used: a hole or a chart row.
func (a App) tipsSI() []setup.Tip {
	var list []setup.Tip
	for _, p := range a.parts(KindTip) {
		t := setup.Tip{Label: p.Name, OrificeDiameterM: p.number("orifice_diameter"), OrificeCount: int(p.numberOr("orifice_count", 1))}
		if f := p.Choices["fuel"]; f != "" {
			t.Fuels = []gas.Gas{gas.Gas(f)}
		}
		if w := p.Choices["work"]; w != "" {
			t.Works = []setup.Work{setup.Work(w)}
		}
		if p.Choices["work"] == string(setup.Cut) {
			t.OrificeCount, t.PreheatDiameterM, t.PreheatCount = 1, p.number("preheat_diameter"), int(p.numberOr("preheat_count", 0))
		}
		for _, r := range a.rows(p.ID) {
			t.Chart = append(t.Chart, rowSI(r))
		}
		if !p.Retired && (t.OrificeDiameterM != nil || len(t.Chart) > 0) {
			list = append(list, t)
		}
	}
	return list
}

// rowSI is one chart row as calc takes it.
func rowSI(p Part) setup.ChartRow {
	return setup.ChartRow{
		Work: setup.Work(p.Choices["work"]), Metal: setup.Metal(p.Choices["metal"]), PressuresAt: setup.ChartPlace(p.Choices["pressures_at"]),
		ThicknessM: rangeSI(p, "thickness"), OxygenGaugePa: rangeSI(p, "oxygen"), FuelGaugePa: rangeSI(p, "fuel"),
		OxygenFlowStd: rangeSI(p, "oxygen_flow"), FuelFlowStd: rangeSI(p, "fuel_flow"), Note: p.Note,
		Mixing: setup.Mixing(p.Choices["mixing"]),
	}
}

// rangeSI is a range; one end given alone is both.
func rangeSI(p Part, name string) *setup.Range {
	low, high := p.number(name+"_low"), p.number(name+"_high")
	switch {
	case low == nil && high == nil:
		return nil
	case low == nil:
		low = high
	case high == nil:
		high = low
	}
	return &setup.Range{Low: *low, High: *high}
}
