package calctest

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// Vector is one published case: what goes in, what must come out, and from where.
type Vector struct {
	Source string          `json:"source"` // document and edition
	Page   string          `json:"page"`   // page, table or row
	Inputs json.RawMessage `json:"inputs"` // read with Vector.Input
	Want   float64         `json:"want"`   // SI
	Tol    float64         `json:"tol"`    // relative
	Why    string          `json:"why"`    // reason of the tolerance
	Name   string          `json:"-"`      // file name without .json
}

// Vectors reads testdata/vectors/dir/*.json in name order. An unknown field, a missing source, tolerance or reason, trailing
// text, or no file at all fails the test.
func Vectors(t testing.TB, dir string) []Vector {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(Root(t), "testdata", "vectors", dir, "*.json"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no vectors for %s: %v", dir, err)
	}
	vectors := make([]Vector, 0, len(paths))
	for _, path := range paths {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		v, err := decodeVector(data)
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		v.Name = filepath.Base(path[:len(path)-len(".json")])
		vectors = append(vectors, v)
	}
	return vectors
}

// decodeVector reads one vector and checks that it says where it comes from.
func decodeVector(data []byte) (Vector, error) {
	var v Vector
	if err := strict(data, &v); err != nil {
		return v, err
	}
	switch {
	case v.Source == "":
		return v, errors.New("no source")
	case v.Why == "":
		return v, errors.New("no reason for the tolerance")
	case !(v.Tol > 0):
		return v, errors.New("the tolerance is not above zero")
	case len(v.Inputs) == 0:
		return v, errors.New("no inputs")
	}
	return v, nil
}

// Input reads the inputs into a struct; an unknown field fails the test.
func (v Vector) Input(t testing.TB, into any) {
	t.Helper()
	if err := strict(v.Inputs, into); err != nil {
		t.Fatalf("vector %s, inputs: %v", v.Name, err)
	}
}

// Near compares with the vector's want and tolerance.
func (v Vector) Near(t testing.TB, got float64) {
	t.Helper()
	Near(t, got, v.Want, v.Tol, v.Source+": "+v.Why)
}

// strict decodes exactly one JSON value without unknown fields.
func strict(data []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if _, err := d.Token(); err != io.EOF {
		return errors.New("text after the value")
	}
	return nil
}
