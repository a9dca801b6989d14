package present

import (
	"torchside/calc/setup"
	"torchside/calc/words"
)

// Refusal is an answer that no card can be given.
type Refusal struct {
	Code    string
	Head    string // "No settings for this"
	Field   string // "fuel cylinder, fuel"
	Read    string
	Allowed string
	Why     string
	Source  string
	WaysOut []string
}

// refusalFields are the fields of a question for a person; a field that is not in the list is written as calc spells it.
var refusalFields = map[string]string{
	"work": "work", "metal": "metal", "joint": "joint", "thickness_m": "thickness", "temperature_k": "temperature in the shop",
	"ambient_abs_pa": "air pressure (altitude)", "ratio": "oxygen to fuel", "tip_label": "tip", "rig": "rig", "rig.tips": "tips",
	"rig.torch": "torch", "rig.oxygen_cylinder": "oxygen cylinder", "rig.fuel_cylinder": "fuel cylinder", "rig.fuel_cylinder.fuel": "fuel in the cylinder",
	"rig.fuel_hose.grade": "grade of the fuel hose",
	"target_k":            "heat to", "start_k": "temperature in the shop", "zone_m": "length to heat", "at_m": "distance", "length_m": "whole length",
	"wall_m": "thickness", "diameter_m": "diameter", "width_m": "width", "inside_radius_m": "inside radius of the bend",
}

// NewRefusal writes a refusal for a person, in the owner's units.
func NewRefusal(r setup.Refusal, o Options) Refusal {
	said := func(text string) string { return plain(o.Units.Say(text)) }
	field, ok := refusalFields[r.Field]
	if !ok {
		field = fieldPath(r.Field)
	}
	out := Refusal{Code: r.Code, Head: "No settings for this", Field: words.Capital(field), Read: said(r.Read), Allowed: said(r.Allowed),
		Why: said(r.Why), Source: r.Source}
	for _, w := range r.WaysOut {
		out.WaysOut = append(out.WaysOut, words.Capital(said(w)))
	}
	return out
}
