package merge_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"torchside/storage"
	"torchside/storage/merge"
	"torchside/storage/storagetest"
)

// family makes a record: a first op with the body base, and a child of it for
// each other body.
func family(seed uint64, base string, bodies ...string) []storage.Op {
	ops := storagetest.RandomOps(seed, 1+len(bodies))
	for i := range ops {
		ops[i].Rec, ops[i].Kind, ops[i].Schema, ops[i].Del, ops[i].Parents = ops[0].Rec, "torch", 1, false, []storage.ID{ops[0].ID}
		ops[i].Body = []byte(base)
		if i > 0 {
			ops[i].Body = []byte(bodies[i-1])
		}
	}
	ops[0].Parents = nil
	return ops
}

func TestFields_merges_what_was_changed_apart(t *testing.T) {
	for _, c := range []struct {
		name, base string
		bodies     []string
		want       string
	}{
		{"two fields", `{"a":1,"b":1}`, []string{`{"a":2,"b":1}`, `{"a":1,"b":2}`}, `{"a":2,"b":2}`},
		{"three devices", `{"a":1,"b":1,"c":1}`, []string{`{"a":2,"b":1,"c":1}`, `{"a":1,"b":2,"c":1}`, `{"a":1,"b":1,"c":2}`}, `{"a":2,"b":2,"c":2}`},
		{"a field added and one removed", `{"a":1}`, []string{`{}`, `{"a":1,"b":{"x":[1,2]}}`}, `{"b":{"x":[1,2]}}`},
		{"the same change on both and another", `{"a":1,"b":1}`, []string{`{"a":2,"b":1}`, `{"a":2,"b":3}`}, `{"a":2,"b":3}`},
		{"the same field removed on both", `{"a":1,"b":1}`, []string{`{"b":2}`, `{"b":1}`}, `{"b":2}`},
		{"a field set to null is not removed", `{"a":1,"b":1}`, []string{`{"a":null,"b":1}`, `{"a":1}`}, `{"a":null}`},
		{"other blanks and order are no change", `{"a":1,"b":{"x":1}}`, []string{"{\"b\": {\"x\": 1},\n \"a\":2}", `{"a":1,"b":{"x":1},"c":3}`}, `{"a":2,"b":{"x":1},"c":3}`},
		{"numbers keep their digits", `{"a":1,"b":1}`, []string{`{"a":0.10,"b":1}`, `{"a":1,"b":1e400}`}, `{"a":0.10,"b":1e400}`},
	} {
		t.Run(c.name, func(t *testing.T) {
			ops := family(3, c.base, c.bodies...)
			op, ok := merge.Fields(ops[0].Rec, ops)
			if !ok || string(op.Body) != c.want {
				t.Fatalf("merged to %s, %v, want %s", op.Body, ok, c.want)
			}
			if r := storage.NewRecord(merge.Heads(op.Rec, append(ops, op))); len(r.Heads) != 1 || !r.Heads[0].Equal(op) {
				t.Errorf("after the merge there are %d heads", len(r.Heads))
			}
		})
	}
}

func TestFields_leaves_to_a_person_what_is_not_plain(t *testing.T) {
	apart := []string{`{"a":2,"b":1}`, `{"a":1,"b":2}`}
	for _, c := range []struct {
		name   string
		bodies []string
		spoil  func([]storage.Op) []storage.Op
	}{
		{"one field to two values", []string{`{"a":2,"b":1}`, `{"a":3,"b":1}`}, nil},
		{"changed and removed", []string{`{"a":2,"b":1}`, `{"b":1}`}, nil},
		{"changed inside one field", []string{`{"a":[2,1],"b":1}`, `{"a":[1,2],"b":1}`}, nil},
		{"no JSON", []string{`{"a":2,"b":1}`, `a: 2`}, nil},
		{"JSON but no object", []string{`{"a":2,"b":1}`, `[1]`}, nil},
		{"null", []string{`{"a":2,"b":1}`, `null`}, nil},
		{"a deletion", apart, func(o []storage.Op) []storage.Op { o[2].Del = true; return o }},
		{"another schema", apart, func(o []storage.Op) []storage.Op { o[2].Schema = 2; return o }},
		{"another kind", apart, func(o []storage.Op) []storage.Op { o[2].Kind = "hose"; return o }},
		{"one head", apart, func(o []storage.Op) []storage.Op { return o[:2] }},
		{"nothing in common", apart, func(o []storage.Op) []storage.Op { o[2].Parents = nil; return o }},
		{"what they have in common is not here", apart, func(o []storage.Op) []storage.Op { return o[1:] }},
		{"attachments changed twice", apart, func(o []storage.Op) []storage.Op {
			o[1].Blobs, o[2].Blobs = []storage.Hash{storage.HashOf([]byte("x"))}, []storage.Hash{storage.HashOf([]byte("y"))}
			return o
		}},
		{"too large together", []string{`{"a":"` + string(slices.Repeat([]byte("x"), 60_000)) + `","b":1}`, `{"a":1,"b":"` + string(slices.Repeat([]byte("y"), 60_000)) + `"}`}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			ops := family(4, `{"a":1,"b":1}`, c.bodies...)
			if c.spoil != nil {
				ops = c.spoil(ops)
			}
			if op, ok := merge.Fields(ops[0].Rec, ops); ok {
				t.Errorf("merged to %s", op.Body)
			}
		})
	}
}

// Two devices that each settled the same pair, and then met each other's next
// edit: there are two nearest common states, so a person must look.
func TestFields_leaves_crossed_merges_to_a_person(t *testing.T) {
	ops := family(5, `{"a":1,"b":1}`, `{"a":2,"b":1}`, `{"a":1,"b":2}`, `{"a":3,"b":2}`, `{"a":2,"b":3}`)
	both := []storage.ID{ops[1].ID, ops[2].ID}
	slices.Sort(both)
	ops[3].Parents, ops[4].Parents = both, both
	if op, ok := merge.Fields(ops[0].Rec, ops); ok {
		t.Errorf("merged to %s", op.Body)
	}
}

func TestFields_takes_attachments_from_who_changed_them(t *testing.T) {
	ops := family(6, `{"a":1}`, `{"a":2}`, `{"a":1}`)
	ops[2].Blobs = []storage.Hash{storage.HashOf([]byte("photo"))}
	op, ok := merge.Fields(ops[0].Rec, ops)
	if !ok || !slices.Equal(op.Blobs, ops[2].Blobs) || string(op.Body) != `{"a":2}` {
		t.Errorf("merged to %s with %v, %v", op.Body, op.Blobs, ok)
	}
}

// Random fields changed on two to four devices, mostly apart. The expectation
// is worked out field by field from what was changed, not from the bodies.
func TestFields_agrees_with_a_plain_model(t *testing.T) {
	merged := 0
	for seed := range uint64(seeds) {
		r := rand.New(rand.NewPCG(seed, 1))
		base := map[string]int{}
		for i := range 8 {
			base[fmt.Sprint("f", i)] = 0
		}
		want, clash, bodies := maps.Clone(base), false, []string{}
		owner := map[string]int{}
		for device := range 2 + r.IntN(3) {
			own := maps.Clone(base)
			for range 1 + r.IntN(2) {
				f := fmt.Sprint("f", r.IntN(8))
				own[f] = 10 + device
				if who, taken := owner[f]; taken && who != device {
					clash = true
				}
				owner[f], want[f] = device, 10+device
			}
			bodies = append(bodies, asJSON(t, own))
		}
		ops := family(seed, asJSON(t, base), bodies...)
		op, ok := merge.Fields(ops[0].Rec, storagetest.Shuffled(seed, ops))
		if ok == clash || ok && string(op.Body) != asJSON(t, want) {
			t.Errorf("seed %d: merged %v to %s; clash %v, want %s", seed, ok, op.Body, clash, asJSON(t, want))
		}
		if ok {
			merged++
		}
	}
	if merged < seeds/4 || merged > seeds*3/4 {
		t.Errorf("%d of %d could be merged: the test is one-sided", merged, seeds)
	}
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Whatever the bodies: who has the same heads makes the same op, byte by byte,
// whatever else he has and in whatever order, and names all heads in it.
func FuzzFields(f *testing.F) {
	f.Add(`{"a":1,"b":1}`, `{"a":2,"b":1}`, `{"a":1,"b":2}`)
	f.Add(`{"a":{"x":"<&>"}}`, `{"a":{"x":"½"}}`, `{"a":{"x":"<&>"},"b":"\u0000"}`)
	f.Add(`{"a":1,"a":2}`, `{}`, `{"a":2,"A":1}`)
	f.Fuzz(func(t *testing.T, base, left, right string) {
		ops := family(7, base, left, right)
		one, ok := merge.Fields(ops[0].Rec, ops)
		other := append(storagetest.RandomOps(8, 5), ops[2], ops[1], ops[0], ops[1])
		two, also := merge.Fields(ops[0].Rec, other)
		if ok != also || !one.Equal(two) {
			t.Fatalf("%v %+v\n%v %+v", ok, one, also, two)
		}
		if !ok {
			return
		}
		if err := one.Check(); err != nil || !json.Valid(one.Body) {
			t.Fatalf("made an op that breaks a rule: %v, %s", err, one.Body)
		}
		if all := append(ops, one); len(merge.Heads(one.Rec, all)) != 1 {
			t.Fatalf("heads are left: %v", merge.Heads(one.Rec, all))
		}
	})
}

// FuzzUnion tries the laws on any three parts of any world.
func FuzzUnion(f *testing.F) {
	f.Add(uint64(1), uint8(20), uint8(3), uint8(9))
	f.Fuzz(func(t *testing.T, seed uint64, n, from, to uint8) {
		ops := storagetest.Shuffled(seed, storagetest.RandomOps(seed, 1+int(n)%80))
		i, j := int(from)%len(ops), int(to)%len(ops)
		a, b, c := ops[:max(i, j)], ops[min(i, j):], ops[i/2:]
		left, right := union(t, union(t, a, b), c), union(t, c, union(t, b, a))
		if !storagetest.SameOps(left, right) || !storagetest.SameRecords(merge.Records(left), merge.Records(right)) {
			t.Fatal("the order of joining matters")
		}
		if !storagetest.SameOps(union(t, left, left), left) {
			t.Fatal("joining with itself changes something")
		}
		for _, op := range slices.Concat(a, b, c) {
			if !slices.ContainsFunc(left, op.Equal) {
				t.Fatalf("op %s vanished", op.ID)
			}
		}
	})
}

// A clock that is wrong by ten years moves the winner, never the set of heads.
func TestHeads_do_not_depend_on_clocks(t *testing.T) {
	const tenYears = 10 * 365 * 24 * 3600 * 1000 // ms
	for seed := range uint64(seeds) {
		ops := storagetest.RandomOps(seed, 40)
		skewed := make([]storage.Op, 0, len(ops))
		for i, op := range ops {
			op = op.Clone()
			op.HLC.Milli = max(0, op.HLC.Milli+int64(i%3-1)*tenYears)
			skewed = append(skewed, op)
		}
		for _, op := range ops {
			a, b := idSet(merge.Heads(op.Rec, ops)), idSet(merge.Heads(op.Rec, skewed))
			if !slices.Equal(a, b) {
				t.Fatalf("seed %d: heads %v, with other clocks %v", seed, a, b)
			}
		}
	}
}

func idSet(ops []storage.Op) []storage.ID { return storage.NewRecord(ops).HeadIDs() }
