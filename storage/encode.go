package storage

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"unicode/utf8"
)

// opText is an op as JSON. A body that is UTF-8 text is written as a string,
// so that an export can be read by a person; any other goes into body64. Both
// give back the same bytes.
type opText struct {
	ID      ID       `json:"op"`
	Rec     ID       `json:"rec"`
	Kind    string   `json:"kind"`
	Schema  int      `json:"schema"`
	Parents []ID     `json:"parents,omitempty"`
	Dev     ID       `json:"dev"`
	N       uint64   `json:"n"`
	HLC     HLC      `json:"hlc"`
	At      string   `json:"at"`
	Del     bool     `json:"del,omitempty"`
	Body    string   `json:"body,omitempty"`
	Body64  []byte   `json:"body64,omitempty"`
	Blobs   []string `json:"blobs,omitempty"`
}

// MarshalJSON writes the op in its one stored form: equal ops give equal bytes.
func (o Op) MarshalJSON() ([]byte, error) {
	if b, usual := appendOp(make([]byte, 0, usualSize+len(o.Body)*9/8), o); usual {
		return b, nil
	}
	return o.marshal()
}

// usualSize is room for an op without its body.
const usualSize = 384

// marshal is MarshalJSON for any op.
func (o Op) marshal() ([]byte, error) {
	t := opText{
		ID: o.ID, Rec: o.Rec, Kind: o.Kind, Schema: o.Schema, Parents: o.Parents, Dev: o.Dev,
		N: o.N, HLC: o.HLC, At: o.At, Del: o.Del, Blobs: o.Blobs,
	}
	if utf8.Valid(o.Body) {
		t.Body = string(o.Body)
	} else {
		t.Body64 = o.Body
	}
	return json.Marshal(t)
}

// UnmarshalJSON reads what MarshalJSON writes. ErrCorrupt: not that form, or a
// field this build does not know. The rules of Op are left to Check.
func (o *Op) UnmarshalJSON(data []byte) error {
	if read, usual := readOp(data); usual {
		*o = read
		return nil
	}
	return o.unmarshal(data)
}

// unmarshal is UnmarshalJSON for any text.
func (o *Op) unmarshal(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	var t opText
	if err := d.Decode(&t); err != nil {
		return fmt.Errorf("%w: %v", ErrCorrupt, err)
	}
	if _, err := d.Token(); err != io.EOF {
		return fmt.Errorf("%w: more than one value", ErrCorrupt)
	}
	*o = Op{
		ID: t.ID, Rec: t.Rec, Kind: t.Kind, Schema: t.Schema, Parents: t.Parents, Dev: t.Dev,
		N: t.N, HLC: t.HLC, At: t.At, Del: t.Del, Body: t.Body64, Blobs: t.Blobs,
	}
	if t.Body != "" {
		o.Body = []byte(t.Body)
	}
	return nil
}
