package journal

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"

	"torchside/calc/words"
)

// Read reads the body of a sheet. Unknown fields, and known ones that hold something else than expected, are kept as they are
// and written back by [Write]. The error says that the body is no JSON object at all.
func Read(body []byte) (Sheet, error) {
	var s Sheet
	err := decodeKeeping(body, &s, &s.extra)
	return s, err
}

// Write gives the body of a sheet. A *Problem says why it cannot be written: see [Sheet.Check].
func Write(s Sheet) ([]byte, error) {
	if p := s.Check(); len(p) > 0 {
		return nil, p[0]
	}
	body, err := encode(s)
	if err != nil {
		return nil, fmt.Errorf("writing a sheet: %w", err)
	}
	if len(body) > MaxBytes {
		return nil, &Problem{Field: "sheet", Read: words.Count(len(body), "byte"), Allowed: words.S("at most %s", words.Count(MaxBytes, "byte")),
			Why: "a sheet has to travel in one piece; shorten the note or the settings card"}
	}
	return body, nil
}

// Unread names the fields of the body that were kept without being understood, sorted.
func (s Sheet) Unread() []string { return slices.Sorted(maps.Keys(s.extra)) }

// UnmarshalJSON reads a photo and keeps what it does not know.
func (p *Photo) UnmarshalJSON(data []byte) error { return decodeKeeping(data, p, &p.extra) }

// MarshalJSON writes a photo with what it did not know.
func (p Photo) MarshalJSON() ([]byte, error) {
	type plain Photo
	return encodeKeeping(plain(p), p.extra)
}

// UnmarshalJSON reads a test result and keeps what it does not know.
func (t *TestResult) UnmarshalJSON(data []byte) error { return decodeKeeping(data, t, &t.extra) }

// MarshalJSON writes a test result with what it did not know.
func (t TestResult) MarshalJSON() ([]byte, error) {
	type plain TestResult
	return encodeKeeping(plain(t), t.extra)
}

// MarshalJSON writes a sheet with what it did not know.
func (s Sheet) MarshalJSON() ([]byte, error) {
	type plain Sheet
	return encodeKeeping(plain(s), s.extra)
}

// UnmarshalJSON reads a sheet; see [Read].
func (s *Sheet) UnmarshalJSON(data []byte) error { return decodeKeeping(data, s, &s.extra) }

// decodeKeeping fills the fields of *into (a pointer to a struct) from a JSON object, one by one: what does not fit a field, or
// has none, goes to extra.
func decodeKeeping(data []byte, into any, extra *map[string]json.RawMessage) error {
	var all map[string]json.RawMessage
	if err := json.Unmarshal(data, &all); err != nil {
		return fmt.Errorf("reading a record of the journal: %w", err)
	}
	if all == nil {
		return fmt.Errorf(words.T("reading a record of the journal: read %q, allowed is a JSON object"), shorten(string(data)))
	}
	v := reflect.ValueOf(into).Elem()
	v.SetZero()
	for i := range v.NumField() {
		name, ok := jsonName(v.Type().Field(i))
		raw, given := all[name]
		if !ok || !given {
			continue
		}
		field := reflect.New(v.Field(i).Type())
		if json.Unmarshal(raw, field.Interface()) == nil {
			v.Field(i).Set(field.Elem())
			delete(all, name)
		}
	}
	if len(all) > 0 {
		*extra = all
	}
	return nil
}

// encodeKeeping writes a struct and what was kept beside it. Where a field has a value of its own by now, what could not be read
// under its name is kept under that name with "_unread".
func encodeKeeping(known any, extra map[string]json.RawMessage) ([]byte, error) {
	data, err := encode(known)
	if err != nil || len(extra) == 0 {
		return data, err
	}
	var all map[string]json.RawMessage
	if err := json.Unmarshal(data, &all); err != nil {
		return nil, err
	}
	for name, raw := range extra {
		for _, taken := all[name]; taken; _, taken = all[name] {
			name += "_unread"
		}
		all[name] = raw
	}
	return encode(all)
}

// encode writes JSON without the escapes meant for HTML, which would make text longer.
func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimRight(b.Bytes(), "\n"), nil
}

// jsonName is the name of a field in JSON; false for fields of our own.
func jsonName(f reflect.StructField) (string, bool) {
	name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
	return name, f.IsExported() && name != "" && name != "-"
}
