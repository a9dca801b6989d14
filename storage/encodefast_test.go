package storage

import (
	"bytes"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"
)

// randomOp makes an op, usual or not: the rules of Check are kept by most only.
func randomOp(r *rand.Rand) Op {
	names := []string{"019cecbe-3215-7000-8d7e-45fd4135a35d", "", "a\"b", "a<b", "ä", "x\x7f", "\xff", "sheet", "\u2028"}
	name := func() string {
		if r.IntN(4) > 0 {
			return names[0]
		}
		return names[r.IntN(len(names))]
	}
	list := func() (all []string) {
		for range r.IntN(4) {
			all = append(all, name())
		}
		return all
	}
	o := Op{
		ID: ID(name()), Rec: ID(name()), Kind: name(), Schema: r.IntN(5) - 1, Dev: ID(name()), N: r.Uint64() >> r.IntN(64),
		HLC: HLC{Milli: r.Int64N(1<<49) - 2, Counter: r.Uint32()}, At: name(), Del: r.IntN(2) == 0, Body: randomBody(r), Blobs: list(),
	}
	if r.IntN(3) > 0 {
		o.HLC.Milli = r.Int64N(maxMilli + 1)
	}
	for _, p := range list() {
		o.Parents = append(o.Parents, ID(p))
	}
	return o
}

func randomBody(r *rand.Rand) []byte {
	parts := []string{`{"a":1}`, "\"", "\\", "\n", "\x00", "\x1f", "<b>&", "\u2028", "\u2029", "\u202a", "é", "😀", "\x7f", "\xe2\x80", "\xff", " ", "/", "\ufffd"}
	var b strings.Builder
	for range r.IntN(8) {
		b.WriteString(parts[r.IntN(len(parts))])
	}
	return []byte(b.String())
}

// The quick way and encoding/json are one truth, in both directions.
func TestOp_the_quick_way_writes_and_reads_what_encoding_json_does(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	usual := 0
	for range 20_000 {
		o := randomOp(r)
		want, wantErr := o.marshal()
		got, err := o.MarshalJSON()
		if (err == nil) != (wantErr == nil) || !bytes.Equal(got, want) {
			t.Fatalf("%+v\n is %s, %v\nwant %s, %v", o, got, err, want, wantErr)
		}
		if err != nil {
			continue
		}
		sameRead(t, want)
		if _, ok := readOp(want); ok {
			usual++
		}
	}
	if usual < 2000 {
		t.Errorf("only %d of the ops went the quick way", usual)
	}
}

// sameRead reads text both ways.
func sameRead(t *testing.T, text []byte) {
	t.Helper()
	quick, usual := readOp(text)
	if !usual {
		return
	}
	var slow Op
	if err := slow.unmarshal(text); err != nil {
		t.Fatalf("%q is read the quick way and refused by encoding/json: %v", text, err)
	}
	if !reflect.DeepEqual(quick, slow) {
		t.Fatalf("%q\n is %+v\nwant %+v", text, quick, slow)
	}
}

func FuzzOp_read(f *testing.F) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 200 {
		if text, err := randomOp(r).MarshalJSON(); err == nil {
			f.Add(text)
		}
	}
	f.Add([]byte(`{"op":"a","rec":"b","kind":"k","schema":1,"dev":"d","n":1,"hlc":"000000000001.00000000","at":"","body":"\u00e9\ud83d\ude00\/"}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		sameRead(t, text)
		var o Op
		if o.unmarshal(text) != nil {
			return
		}
		want, wantErr := o.marshal()
		got, err := o.MarshalJSON()
		if (err == nil) != (wantErr == nil) || !bytes.Equal(got, want) {
			t.Fatalf("%q is written as %q, want %q", text, got, want)
		}
	})
}

// Damage to one character must be read as encoding/json reads it, or not at all.
func TestOp_damaged_text_is_read_alike_or_refused(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 20_000 {
		text, err := randomOp(r).MarshalJSON()
		if err != nil {
			continue
		}
		text[r.IntN(len(text))] = byte(r.Uint32())
		sameRead(t, text)
	}
}
