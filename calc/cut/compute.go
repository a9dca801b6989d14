package cut

import (
	"torchside/calc/units"
)

// Result is one cut.
type Result struct {
	Orifice       units.Length
	Gauge         units.GaugePressure  // of the cutting oxygen at the torch
	Regulator     *units.GaugePressure // with the loss of the hose; nil without a hose
	Cutting       units.Band           // m³/s, standard, of cutting oxygen
	PreheatFuel   units.StandardFlow
	PreheatFuels  units.Band // PreheatFuel with its band
	PreheatOxygen units.StandardFlow
	PreheatRatio  float64    // oxygen to fuel, neutral
	Speed         units.Band // m/s
	Hand          units.Band // the part of Speed for a hand
	Machine       units.Band // the part for a machine
	Kerf          units.Band // m
	Drag          units.Band // m, how far the bottom lags behind the top
	Start         units.Band // s, before the cutting oxygen is opened
	Time          units.Band // s, cutting alone
	Oxygen        units.Band // m³, standard: cutting and preheat, start included
	Fuel          units.Band // m³, standard: start included
	IronPower     float64    // W, of the burning iron
	FlamePower    float64    // W, what the torch oxygen releases in the preheat flame
	IronShare     units.Band // IronPower over both
	Balance       HeatBalance
	Purity        Impurity
	Notes         []Note // what to know before the numbers, what stops first
	FromMemory    bool   // true outside the printed 6 to 100 mm
}

// Compute answers one question. With the orifice chosen every number of the result but Balance moves one way with the thickness.
//
// Errors: *MetalError, *WordError, *gas.RangeError; *flow.ChokedError when the hose cannot pass the flow.
func Compute(in Input) (Result, error) {
	in = in.defaulted()
	if err := in.check(); err != nil {
		return Result{}, err
	}
	a, purity := at(in.Thickness), ImpurityAt(in.Purity)
	j, err := in.jetOf(a, purity)
	if err != nil {
		return Result{}, err
	}
	p, err := in.preheatOf(j.chosenFlow)
	if err != nil {
		return Result{}, err
	}
	r := Result{Orifice: j.orifice, Gauge: j.upstream.Gauge(in.Ambient), Cutting: j.flow, PreheatFuel: p.fuel, PreheatFuels: p.fuels, PreheatOxygen: p.oxygen,
		PreheatRatio: p.ratio, FlamePower: p.primary, Purity: purity, FromMemory: a.memory, Start: startTime(in.Thickness, in.Start)}
	if r.Regulator, err = in.regulator(j.upstream, units.StandardFlow(j.flow.Value)+p.oxygen); err != nil {
		return Result{}, err
	}
	r.Speed, r.Hand, r.Machine = speeds(a.speed * purity.Speed)
	d, t := float64(j.orifice), float64(in.Thickness)
	r.Kerf = units.Band{Value: kerfOrifice * d, Low: kerfLow * d, High: kerfHigh * d, Reason: reasonKerf}
	r.Drag = units.Band{Value: 0.1 * t, Low: 0, High: 0.2 * t, Reason: "a tenth of the thickness at full speed, from memory"}
	r.use(float64(in.Length))
	r.heat(in)
	r.Notes = in.notes(r, j)
	return r, nil
}

// For returns the result for a cut of another length in m; only times and gas are others. Flows that were changed count as they are now.
func (r Result) For(length units.Length) Result {
	r.use(float64(length))
	return r
}

// use adds times and gas for a length in m.
func (r *Result) use(length float64) {
	r.Time = units.Band{Value: length / r.Speed.Value, Low: length / r.Speed.High, High: length / r.Speed.Low, Reason: r.Speed.Reason}
	fuel, preheat := float64(r.PreheatFuel), float64(r.PreheatOxygen)
	r.Fuel = units.Band{Value: fuel * (r.Time.Value + r.Start.Value), Low: fuel * (r.Time.Low + r.Start.Low),
		High: fuel * (r.Time.High + r.Start.High), Reason: "speed and starting time"}
	cut := r.Cutting
	r.Oxygen = units.Band{Value: cut.Value*r.Time.Value + preheat*(r.Time.Value+r.Start.Value), Low: cut.Low*r.Time.Low + preheat*(r.Time.Low+r.Start.Low),
		High: cut.High*r.Time.High + preheat*(r.Time.High+r.Start.High), Reason: "speed, starting time and discharge coefficient"}
}

// heat adds what burning gives.
func (r *Result) heat(in Input) {
	iron := steelDensity * r.Kerf.Value * float64(in.Thickness) * r.Speed.Value // kg/s
	r.IronPower = iron * burntShare * heatToFeO
	share := func(burnt, heat float64) float64 { return iron * burnt * heat / (iron*burnt*heat + r.FlamePower) }
	r.IronShare = units.Band{Value: share(burntShare, heatToFeO), Low: share(burntLow, heatToFeO), High: share(burntHigh, heatToFe3O4),
		Reason: "60 to 70 % of the iron burns, from memory; low end to FeO, high end to Fe3O4 (CRC Handbook)"}
	if in.Brief {
		return
	}
	r.Balance = Balance(units.Length(r.Kerf.Value), units.Speed(r.Speed.Value), in.Temperature)
}
