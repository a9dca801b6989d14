package main

import (
	"errors"

	"torchside/calc/units"
	"torchside/calc/vent"
)

type ventilationQuestion struct {
	Place          vent.Place      `json:"place,omitempty"`
	RoomVolumeM3   float64         `json:"room_volume_m3,omitempty"`
	CeilingHeightM float64         `json:"ceiling_height_m,omitempty"`
	Welders        int             `json:"welders,omitempty"`
	Obstructed     bool            `json:"obstructed,omitempty"`
	Materials      []vent.Material `json:"materials,omitempty"`
}

// ventilationDefaults are the fields that may be missing.
var ventilationDefaults = ventilationQuestion{Place: vent.Room, Welders: 1}

type ventilationHood struct {
	NearM   float64 `json:"near_m"`
	FarM    float64 `json:"far_m"`
	FlowM3S float64 `json:"flow_m3_s"`
	DuctM   float64 `json:"duct_m"`
}

type ventilationAnswer struct {
	Measures           []noteOut         `json:"measures"`
	MechanicalRequired bool              `json:"mechanical_required"`
	NaturalSuffices    bool              `json:"natural_suffices"`
	MinimumFlowM3S     float64           `json:"minimum_flow_m3_s"`
	AirChangesPerHour  float64           `json:"air_changes_per_hour"`
	VolumePerWelderM3  float64           `json:"volume_per_welder_m3"`
	Reasons            []noteOut         `json:"reasons"`
	Notes              []noteOut         `json:"notes"`
	Hoods              []ventilationHood `json:"hoods"`
	HoodsSource        string            `json:"hoods_source"`
}

func answerVentilation(q ventilationQuestion) (any, error) {
	r, err := vent.Compute(vent.Input{Place: q.Place, Volume: units.Volume(q.RoomVolumeM3), Ceiling: units.Length(q.CeilingHeightM),
		Welders: q.Welders, Obstructed: q.Obstructed, Materials: q.Materials})
	if err != nil {
		var word *vent.WordError
		if errors.As(err, &word) {
			return nil, fieldError{word.Field, `read "` + word.Read + `"; allowed is one of ` + word.Allowed}
		}
		return nil, err
	}
	a := ventilationAnswer{MechanicalRequired: r.Mechanical, NaturalSuffices: r.Natural, MinimumFlowM3S: r.Flow, AirChangesPerHour: r.AirChanges,
		VolumePerWelderM3: float64(r.PerWelder), Measures: ventNotes(r.Measures), Reasons: ventNotes(r.Reasons), Notes: ventNotes(r.Notes), HoodsSource: vent.SourceHoods}
	for _, h := range vent.Hoods() {
		a.Hoods = append(a.Hoods, ventilationHood{float64(h.Near), float64(h.Far), h.Flow, float64(h.Duct)})
	}
	return a, nil
}

// ventNotes writes notes out; a list, never null.
func ventNotes(list []vent.Note) []noteOut {
	out := []noteOut{}
	for _, n := range list {
		out = append(out, noteOut{n.Code, n.Text, n.Source})
	}
	return out
}

const helpVentilation = `ventilation: whether a room needs a fan for work with a torch, how much, and what the metal asks besides

in   place                 optional, room when missing; room, confined or open_air
     room_volume_m3        0.5 to 1e6; not needed in the open air
     ceiling_height_m      0.3 to 100; not needed in the open air
     welders               optional, 1 when missing: who work at once
     obstructed            optional: partitions, balconies or other barriers stop air from crossing
     materials             optional, any of beryllium, cadmium, lead, mercury, chromium, zinc, fluoride: in base metal, coating, filler or flux
out  measures [ {code, text, source} ]   what material and place ask besides; read them first
     mechanical_required   by 29 CFR 1910.252(c)(2)
     natural_suffices      the rule takes natural ventilation for sufficient; never with one of the materials
     minimum_flow_m3_s     of the fan, for all who work; 0 where none is required
     air_changes_per_hour  of that flow
     volume_per_welder_m3
     reasons, notes [ {code, text, source} ]
     hoods [ {near_m, far_m, flow_m3_s, duct_m} ], hoods_source   what a hood must draw by its distance from the work

Where feet and metres of the rule differ in the last digit the stricter holds. No answer measures what is breathed.

A rounded example: {"room_volume_m3":90,"ceiling_height_m":2.5,"materials":["zinc"]}
`
