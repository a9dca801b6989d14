package leak

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// roomTemperature is 20 °C: the air around a rig when nothing else is said.
const roomTemperature units.Temperature = 293.15

// Oxygen in air and where air counts as rich or flammable.
const (
	// OxygenInAir is the oxygen in dry air by volume: ISO 2533:1975, table 1, 20.9476 %, rounded as the reference table does.
	OxygenInAir = 0.2095
	// OxygenRich is 23.5 %: 29 CFR 1910.146(b), oxygen-enriched atmosphere.
	OxygenRich = 0.235
	// HazardousShare is a tenth of the lower flammable limit: 29 CFR 1910.146(b), hazardous atmosphere.
	HazardousShare = 0.1
)

// Limits of Room and Exposure.
const (
	// RoomMinimum and RoomMaximum run from a cupboard to a hall.
	RoomMinimum units.Volume = 0.05
	RoomMaximum units.Volume = 1e6
	// AirChangesMaximum is that of a strong fan in a small booth.
	AirChangesMaximum = 1000
	// MixingFactorMinimum is that of a corner no draught reaches.
	MixingFactorMinimum = 0.01
)

const (
	whyRoomVolume = "a room, from a cupboard to a hall"
	whyAirChanges = "air changes an hour: 0 sealed, about 0.3 a closed garage, several with the door open"
	whyMixing     = "the share of the fresh air that mixes with the room's: 1 for all of it, a third in a still corner"
	whyLeak       = "a leak into the room is zero or more"
	whyAfter      = "a time from now to a year"
)

// Room is the air a leak goes into. It is taken as well mixed, which no real room is: near the leak, under the ceiling (hydrogen, methane,
// acetylene) or on the floor and in pits (propane, propylene, oxygen from a cold cylinder) there is much more.
type Room struct {
	Volume       units.Volume
	AirChanges   float64                // of fresh air, per hour
	MixingFactor float64                // share of the fresh air that mixes in; 0 means 1
	Temperature  units.Temperature      // 0 means 20 °C
	Ambient      units.AbsolutePressure // barometer; 0 means units.StandardAtmosphere
}

// filled sets what was left at zero.
func (r Room) filled() Room {
	if r.MixingFactor == 0 {
		r.MixingFactor = 1
	}
	if r.Temperature == 0 {
		r.Temperature = roomTemperature
	}
	if r.Ambient == 0 {
		r.Ambient = units.StandardAtmosphere
	}
	return r
}

// check refuses what is no room.
func (r Room) check() error {
	r = r.filled()
	return firstError(
		inRange("room_volume_m3", r.Volume, RoomMinimum, RoomMaximum, "cubic metres", whyRoomVolume),
		gas.InRange("air_changes_per_hour", r.AirChanges, 0, AirChangesMaximum, "", whyAirChanges),
		gas.InRange("mixing_factor", r.MixingFactor, MixingFactorMinimum, 1, "", whyMixing),
		inRange("temperature_k", r.Temperature, gas.TemperatureMinimum, gas.TemperatureMaximum, "K", whyRoom),
		inRange("ambient_abs_pa", r.Ambient, AmbientMinimum, AmbientMaximum, "Pa", whyAmbient),
	)
}

// fresh is the flow of fresh air that mixes in, in m³/s.
func (r Room) fresh() float64 {
	r = r.filled()
	return r.MixingFactor * r.AirChanges * float64(r.Volume) / units.Hour
}

// expansion is the room's volume of gas over its standard volume: the gas law between two states near one atmosphere. Real gas
// densities follow it within 0.12 % at 20 °C and 0.5 % from 0 to 40 °C, which a test checks; no room is known so well.
func (r Room) expansion() float64 {
	r = r.filled()
	return float64(r.Temperature/units.StandardTemperature) * float64(units.StandardAtmosphere/r.Ambient)
}

// Exposure is a steady leak of a gas into a room.
type Exposure struct {
	Gas  gas.Gas
	Leak units.StandardFlow
	Room Room
}

// Air is what becomes of the room's air, from clean air at the start. Fractions are by volume.
type Air struct {
	Concentration float64 // added gas after the time asked for
	Steady        float64 // added gas in the end: q/(Q + q); 1 in a sealed room, which takes very long
	Oxygen        float64 // oxygen after the time asked for
	SteadyOxygen  float64

	Limit    *FlammableLimit // lower flammable limit; nil for a gas that does not burn
	ToTenth  *units.Duration // until a tenth of the limit; nil: never
	ToLimit  *units.Duration // until the limit itself; nil: never
	ToOxygen *units.Duration // until 23.5 % oxygen; nil: never

	Notes []Note // cautions first
}

// After returns the air after a time. Well mixed: C(t) = C_ss (1 - exp(-(Q+q) t/V)), C_ss = q/(Q+q), with the leak q brought to the
// room's temperature and Q the fresh air that mixes in. Errors: *gas.RangeError, gas.ErrUnknown.
func (e Exposure) After(after units.Duration) (Air, error) {
	if err := firstError(e.check(), inRange("hours", after/units.Hour, 0, DurationMaximum/units.Hour, "h", whyAfter)); err != nil {
		return Air{}, err
	}
	a := Air{Steady: e.steady(), Limit: LowerFlammableLimit(e.Gas)}
	a.Concentration = a.Steady * -math.Expm1(-e.outflow()/float64(e.Room.Volume)*float64(after))
	a.Oxygen, a.SteadyOxygen = e.oxygen(a.Concentration), e.oxygen(a.Steady)
	if a.Limit != nil {
		a.ToTenth, a.ToLimit = e.until(HazardousShare*a.Limit.Fraction), e.until(a.Limit.Fraction)
	}
	if e.Gas == gas.Oxygen {
		a.ToOxygen = e.until(oxygenHazard)
	}
	a.Notes = e.notes(a)
	return a, nil
}

// check refuses what is no exposure.
func (e Exposure) check() error {
	if _, err := gas.Parse(string(e.Gas)); err != nil {
		return err
	}
	return firstError(inRange("leak_std_m3_s", e.Leak, 0, FlowMaximum, "m³/s", whyLeak), e.Room.check())
}

// inflow is the leak at the state of the room, in m³/s; the last bit below zero is none.
func (e Exposure) inflow() float64 { return max(0, float64(e.Leak)) * e.Room.expansion() }

// outflow is what leaves the room, in m³/s: as much as comes in.
func (e Exposure) outflow() float64 { return e.inflow() + e.Room.fresh() }

// steady is the concentration in the end.
func (e Exposure) steady() float64 {
	if e.Leak <= 0 {
		return 0
	}
	return e.inflow() / e.outflow()
}

// until is the time to a concentration: -V/(Q+q) ln(1 - C/C_ss); nil when it is never reached.
func (e Exposure) until(concentration float64) *units.Duration {
	steady := e.steady()
	if concentration >= steady {
		return nil
	}
	d := units.Duration(-float64(e.Room.Volume) / e.outflow() * math.Log1p(-concentration/steady))
	return &d
}

// oxygen is the share of oxygen in air with that much added gas.
func (e Exposure) oxygen(added float64) float64 {
	switch e.Gas {
	case gas.Oxygen:
		return OxygenInAir + added*(1-OxygenInAir)
	case gas.Air:
		return OxygenInAir
	}
	return OxygenInAir * (1 - added)
}

// oxygenHazard is the share of added oxygen that makes 23.5 % of it.
const oxygenHazard = (OxygenRich - OxygenInAir) / (1 - OxygenInAir)

// hazard is the share of added gas at which air counts as hazardous; 0 for a gas without one.
func (e Exposure) hazard() float64 {
	if e.Gas == gas.Oxygen {
		return oxygenHazard
	}
	if l := LowerFlammableLimit(e.Gas); l != nil {
		return HazardousShare * l.Fraction
	}
	return 0
}
