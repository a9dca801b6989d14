package state

import (
	"slices"

	"torchside/calc/cylinder"
	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

// leakLine is one gas's line of the rig in use.
func (a App) leakLine(line string) leak.Line {
	var l leak.Line
	if h, ok := a.inUse(KindHose, line); ok {
		if d, n := h.number("inside_diameter"), h.number("length"); d != nil && n != nil {
			l.Hoses = append(l.Hoses, leak.Hose{InsideDiameter: units.Length(*d), Length: units.Length(*n)})
		}
	}
	for _, p := range a.parts(KindArrestor) {
		if !p.Retired && p.Line() == line {
			l.Arrestors++
		}
	}
	return l
}

// leakParts are the parts of the rig a section is made of, by id, sorted.
func (a App) leakParts(s leak.Section, line string) []string {
	var ids []string
	add := func(k Kind) {
		if p, ok := a.inUse(k, line); ok {
			ids = append(ids, p.ID)
		}
	}
	add(KindRegulator)
	switch s {
	case leak.RegulatorCreep:
		return ids
	case leak.OxygenSupply, leak.FuelSupply, leak.WholeRig:
		add(KindCylinder)
	}
	if s != leak.OxygenSupply && s != leak.FuelSupply {
		add(KindHose)
		for _, p := range a.parts(KindArrestor) {
			if !p.Retired && p.Line() == line {
				ids = append(ids, p.ID)
			}
		}
		if t, ok := a.inUse(KindTorch, ""); ok {
			ids = append(ids, t.ID)
		}
	}
	slices.Sort(ids)
	return ids
}

// leakGas is the gas of a line: oxygen, or the fuel in use; acetylene, the strictest, when there is none.
func (a App) leakGas(line string) gas.Gas {
	if line == LineOxygen {
		return gas.Oxygen
	}
	if g := gas.Gas(a.fuelInUse()); g.Known() {
		return g
	}
	return gas.Acetylene
}

// room is the owner's room; until it is told, the small shut shop behind the default allowed leak.
func (a App) room() leak.Room {
	r := leak.ShutShop()
	if v := a.Prefs.given(PrefRoomVolume); v != nil {
		r.Volume = units.Volume(*v)
	}
	if v := a.Prefs.given(PrefAirChanges); v != nil {
		r.AirChanges = *v
	}
	return r
}

// allowed is the owner's allowed leak, or the default.
func (a App) allowed() units.StandardFlow {
	if v := a.Prefs.given(PrefAllowedLeak); v != nil {
		return units.StandardFlow(*v)
	}
	return leak.DefaultAllowed
}

// priceOf is the price of a gas; 0 when it is not known.
func (a App) priceOf(g gas.Gas) units.MoneyPerVolume {
	line, key := lineOf(g), PrefFuelPrice
	if line == LineOxygen {
		key = PrefOxygenPrice
	}
	if c, ok := a.inUse(KindCylinder, line); ok && c.Choices["gas"] == string(g) {
		return units.MoneyPerVolume(c.numberOr("price", a.Prefs.number(key)))
	}
	return units.MoneyPerVolume(a.Prefs.number(key))
}

// contentsOf is what is in the cylinder in use; nil when that cannot be told.
func (a App) contentsOf(g gas.Gas) *units.StandardVolume {
	c, ok := a.inUse(KindCylinder, lineOf(g))
	if !ok || c.Choices["gas"] != string(g) {
		return nil
	}
	if g.Storage() != gas.StoredCompressed {
		v := units.StandardVolume((c.numberOr("gross_mass", 0) - c.numberOr("tare_mass", 0)) / float64(g.StandardDensity()))
		return positive(v)
	}
	contents, err := cylinder.Compressed{
		Gas: g, WaterVolume: units.Volume(c.numberOr("water_volume", 0)), Gauge: units.GaugePressure(c.numberOr("gauge_pressure", 0)),
		Temperature: units.Temperature(a.Prefs.number(PrefTemperature)), Ambient: units.StandardAtmosphere,
	}.Contents()
	if err != nil {
		return nil
	}
	return positive(contents.Deliverable)
}

// positive is a volume, nil for none.
func positive(v units.StandardVolume) *units.StandardVolume {
	if v <= 0 {
		return nil
	}
	return &v
}

// Line is the line of the section that is being prepared.
func (l Leak) Line() string {
	if l.Gas == gas.Oxygen {
		return LineOxygen
	}
	return LineFuel
}
