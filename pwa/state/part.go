package state

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"

	"torchside/calc/words"
	"torchside/storage"
)

// Part is one part of the rig as its record holds it, schema 1:
//
//	{"name": "Left hose", "choices": {"line": "fuel", "grade": "T"},
//	 "values": {"length": {"si": 5, "typed": "5", "unit": "m"}},
//	 "dates": {"replace_by": "2030-05-01"}, "note": "",
//	 "in_use": true, "retired": false, "sample": false}
//
// Choices and values are keyed as in [Specs]; si is in the SI unit of the field, typed is what the person typed, and unit is
// what was assumed or typed with it. Dates are days (ISO 8601). Fields this build does not know are kept when a part is
// written again.
type Part struct {
	ID      string
	Kind    Kind
	Name    string
	Choices map[string]string
	Values  map[string]Value
	Dates   map[string]string
	Note    string
	InUse   bool
	Retired bool
	Sample  bool

	extra  map[string]json.RawMessage
	record storage.Record
}

// Value is one number of a part.
type Value struct {
	SI    float64
	Typed string
	Unit  string

	extra map[string]json.RawMessage
}

// The names of the known fields of a body.
const (
	bodyName    = "name"
	bodyChoices = "choices"
	bodyValues  = "values"
	bodyDates   = "dates"
	bodyNote    = "note"
	bodyInUse   = "in_use"
	bodyRetired = "retired"
	bodySample  = "sample"
)

// targets are the places the known fields of a body are read into and written from.
func (p *Part) targets() map[string]any {
	return map[string]any{
		bodyName: &p.Name, bodyChoices: &p.Choices, bodyValues: &p.Values, bodyDates: &p.Dates, bodyNote: &p.Note,
		bodyInUse: &p.InUse, bodyRetired: &p.Retired, bodySample: &p.Sample,
	}
}

// ReadPart reads the body of a part's record. The error says what is wrong with it; the record stays as it is.
func ReadPart(r storage.Record) (Part, error) {
	p := Part{ID: string(r.ID), Kind: Kind(r.Kind), record: r}
	extra, err := readKnown(r.Body, p.targets())
	if err != nil {
		return Part{}, fmt.Errorf("part %s: %w", r.ID, err)
	}
	p.extra = extra
	return p, nil
}

// Body returns the part as it is stored, with the fields this build does not know.
func (p Part) Body() ([]byte, error) { return writeKnown(p.extra, p.targets()) }

// Line returns "oxygen" or "fuel" for a part of a line, "" for others.
func (p Part) Line() string {
	switch {
	case !kinds[p.Kind].lined:
		return ""
	case p.Kind == KindCylinder && p.Choices["gas"] == LineOxygen:
		return LineOxygen
	case p.Kind == KindCylinder:
		return LineFuel
	}
	return p.Choices["line"]
}

// number returns a value's SI number, or nil when it was not given.
func (p Part) number(key string) *float64 {
	v, ok := p.Values[key]
	if !ok {
		return nil
	}
	return &v.SI
}

// numberOr returns a value's SI number, or another one when it was not given.
func (p Part) numberOr(key string, other float64) float64 {
	if v := p.number(key); v != nil {
		return *v
	}
	return other
}

// clone returns a copy that shares no map with p.
func (p Part) clone() Part {
	p.Choices, p.Values, p.Dates = maps.Clone(p.Choices), maps.Clone(p.Values), maps.Clone(p.Dates)
	return p
}

// UnmarshalJSON reads a value and keeps what it does not know.
func (v *Value) UnmarshalJSON(text []byte) error {
	extra, err := readKnown(text, v.targets())
	var given struct {
		SI *float64 `json:"si"`
	}
	if err == nil {
		err = json.Unmarshal(text, &given)
	}
	if err == nil && given.SI == nil {
		err = errors.New("the number itself (si) is missing; it is not taken for zero")
	}
	if err == nil && (math.IsNaN(v.SI) || math.IsInf(v.SI, 0)) {
		err = fmt.Errorf(words.T("%v is no number"), v.SI)
	}
	v.extra = extra
	return err
}

// MarshalJSON writes a value with what it does not know.
func (v Value) MarshalJSON() ([]byte, error) { return writeKnown(v.extra, v.targets()) }

func (v *Value) targets() map[string]any {
	return map[string]any{"si": &v.SI, "typed": &v.Typed, "unit": &v.Unit}
}

// readKnown reads an object's known fields into their targets and returns the others.
func readKnown(text []byte, targets map[string]any) (map[string]json.RawMessage, error) {
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(text, &fields); err != nil {
		return nil, err
	}
	if fields == nil {
		return nil, fmt.Errorf(words.T("an object is needed, not %q"), text)
	}
	for name, target := range targets {
		raw, ok := fields[name]
		if !ok {
			continue
		}
		if err := json.Unmarshal(raw, target); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		delete(fields, name)
	}
	return fields, nil
}

// writeKnown writes an object: the unknown fields as they were, the known ones from their targets.
func writeKnown(extra map[string]json.RawMessage, targets map[string]any) ([]byte, error) {
	fields := make(map[string]any, len(extra)+len(targets))
	for name, raw := range extra {
		fields[name] = raw
	}
	maps.Copy(fields, targets)
	return json.Marshal(fields)
}
