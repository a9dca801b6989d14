package main

import (
	"errors"

	"torchside/calc/heat"
	"torchside/calc/units"
)

type heatQuestion struct {
	Metal          heat.Metal `json:"metal,omitempty"`
	Shape          heat.Shape `json:"shape"`
	DiameterM      float64    `json:"diameter_m,omitempty"`
	WidthM         float64    `json:"width_m,omitempty"`
	HeightM        float64    `json:"height_m,omitempty"`
	ThicknessM     float64    `json:"thickness_m,omitempty"`
	WallM          float64    `json:"wall_m,omitempty"`
	LengthM        float64    `json:"length_m"`
	ZoneM          float64    `json:"zone_m"`
	TargetK        float64    `json:"target_k"`
	StartK         float64    `json:"start_k"`
	AmbientK       *float64   `json:"ambient_k,omitempty"`
	FlamePowerW    float64    `json:"flame_power_w"`
	Efficiency     float64    `json:"efficiency"`
	EfficiencyLow  *float64   `json:"efficiency_low,omitempty"`
	EfficiencyHigh *float64   `json:"efficiency_high,omitempty"`
	AtM            []float64  `json:"at_m,omitempty"`
}

// heatDefaults are the fields of a heat question that may be missing.
var heatDefaults = heatQuestion{Metal: heat.MildSteel}

// timeBand is a band whose high end may be missing: with the worst efficiency the target is never reached.
type timeBand struct {
	Value  float64  `json:"value"`
	Low    float64  `json:"low"`
	High   *float64 `json:"high"`
	Reason string   `json:"reason"`
}

type heatPoint struct {
	XM         float64 `json:"x_m"`
	K          float64 `json:"k"`
	PeakK      float64 `json:"peak_k"`
	PeakAfterS float64 `json:"peak_after_s"`
}

type heatAnswer struct {
	TimeS          timeBand    `json:"time_s"`
	EnergyJ        float64     `json:"energy_j"`
	StoredJ        float64     `json:"stored_j"`
	LostJ          float64     `json:"lost_j"`
	MiddleK        float64     `json:"middle_k"`
	TemperatureAtM []heatPoint `json:"temperature_at_m"`
	MeltsK         float64     `json:"melts_k"`
	Source         string      `json:"source"`
	Notes          []noteOut   `json:"notes"`
}

func (q heatQuestion) input() (heat.Input, error) {
	in := heat.Input{Metal: q.Metal, Zone: units.Length(q.ZoneM), Target: units.Temperature(q.TargetK), Start: units.Temperature(q.StartK),
		Power: units.Power(q.FlamePowerW), Efficiency: q.Efficiency,
		Piece: heat.Piece{Shape: q.Shape, Diameter: q.DiameterM, Width: q.WidthM, Height: q.HeightM, Thickness: q.ThicknessM, Wall: q.WallM, Length: q.LengthM}}
	for _, o := range []struct {
		field string
		given *float64
		set   func(float64)
	}{
		{"ambient_k", q.AmbientK, func(v float64) { in.Ambient = units.Temperature(v) }},
		{"efficiency_low", q.EfficiencyLow, func(v float64) { in.EfficiencyLow = v }},
		{"efficiency_high", q.EfficiencyHigh, func(v float64) { in.EfficiencyHigh = v }},
	} {
		if o.given == nil {
			continue
		}
		if *o.given == 0 {
			return in, fieldError{o.field, "read 0; allowed is more than 0: leave it out to take what is usual"}
		}
		o.set(*o.given)
	}
	for _, x := range q.AtM {
		in.At = append(in.At, units.Length(x))
	}
	return in, nil
}

func answerHeat(q heatQuestion) (any, error) {
	in, err := q.input()
	if err != nil {
		return nil, err
	}
	r, err := heat.Compute(in)
	if err != nil {
		return nil, heatError(err)
	}
	p, err := heat.PropertiesOf(in.Metal)
	if err != nil {
		return nil, heatError(err)
	}
	a := heatAnswer{TimeS: timeBand{Value: r.Time.Value, Low: r.Time.Low, Reason: r.Time.Reason}, EnergyJ: r.Energy, StoredJ: r.Stored, LostJ: r.Lost,
		MiddleK: float64(r.Middle), TemperatureAtM: []heatPoint{}, MeltsK: p.Melts.Low, Source: markedMemory(p.Source, p.FromMemory), Notes: []noteOut{}}
	if !r.NeverHigh {
		a.TimeS.High = &r.Time.High
	}
	for _, p := range r.Points {
		a.TemperatureAtM = append(a.TemperatureAtM, heatPoint{float64(p.At), float64(p.Temperature), float64(p.Peak), float64(p.PeakAfter)})
	}
	for _, n := range r.Notes {
		a.Notes = append(a.Notes, noteOut{n.Code, n.Text, markedMemory(n.Source, n.FromMemory)})
	}
	return a, nil
}

// heatError puts a word that is not known on its field.
func heatError(err error) error {
	var word *heat.WordError
	if errors.As(err, &word) {
		return fieldError{word.Field, `read "` + word.Read + `"; allowed is one of ` + word.Allowed}
	}
	return err
}

const helpHeat = `heat: how long a flame needs to bring a zone of a bar or plate to a temperature, and how hot the rest gets

in   metal            optional, mild_steel when missing; mild_steel, medium_carbon_steel, galvanised_steel, stainless_steel, cast_iron,
                      copper, brass or aluminium
     shape            round (diameter_m), flat (width_m, height_m), tube (diameter_m, wall_m) or plate (thickness_m, width_m)
     length_m         along which the heat flows
     zone_m           length under the flame, in the middle of the piece; of a plate a band over its whole width
     target_k         mean of the zone, below the melting point
     start_k          of the whole piece
     ambient_k        optional, of the air; 293.15 when missing, or start_k when that is colder
     flame_power_w    lower heating value of the fuel burned
     efficiency       share of it that enters the metal
     efficiency_low   optional, 30 % less when missing
     efficiency_high  optional, 30 % more when missing, at most 1
     at_m             optional, distances from the middle of the zone
out  time_s {value, low, high, reason}  high is null when the lowest efficiency never gets there
     energy_j         the flame gave to the metal: power, efficiency and time; stored_j of it is in the metal, lost_j went to the air
     middle_k         in the middle of the zone
     temperature_at_m [ {x_m, k, peak_k, peak_after_s} ]  k when the zone is at its target; peak_k the highest it gets later, while the
                      piece cools after the weakest flame of the band, peak_after_s from the end of heating
     melts_k          where melting starts
     source           of the heat data
     notes [ {code, text, source} ]

Air is still. Refused: a target above melting or below the start, a zone longer than the piece, a flame too weak to get there in 4 h.

A rounded example: {"shape":"round","diameter_m":0.016,"length_m":1,"zone_m":0.06,"target_k":1223,"start_k":293,"flame_power_w":5000,"efficiency":0.3,"at_m":[0.15]}
`
