package main

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/units"
)

// brazed answers a question or ends the test.
func brazed(t *testing.T, question string) brazeAnswer {
	t.Helper()
	out, err := ask(t, "braze", question)
	if err != nil {
		t.Fatalf("%s: %v", question, err)
	}
	var a brazeAnswer
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	return a
}

// One soldered 1/2 in tube joint at a gap of 0.004 in takes 0.320 in of 1/8 in wire (Copper Tube Handbook, table 14.10).
func TestBraze_answersAsTheTable(t *testing.T) {
	a := brazed(t, `{"process":"solder","metal":"copper","joint":"socket","thickness_m":0.001,"diameter_m":0.015875,"overlap_m":0.0127,"clearance_m":0.0001016}`)
	wire := 3.14159265 / 4 * a.Used.RodDiameterM * a.Used.RodDiameterM
	calctest.Near(t, a.Used.JointM3/wire/units.Inch, 0.320, 0.003, "printed to three digits")
	if a.Filler.Class != "95-5" || a.Filler.Lead || !strings.Contains(a.Filler.Source, "memory") || a.Shade.Minimum != 2 {
		t.Errorf("%+v, shade %+v", a.Filler, a.Shade)
	}
	b := brazed(t, `{"metal":"mild_steel","other_metal":"copper","thickness_m":0.003}`)
	if b.Used != nil || b.Filler.Class != "BAg-7" || b.ClearanceM == nil || b.Notes[0].Code != "cadmium" || len(b.Steps) != 6 {
		t.Errorf("%+v", b)
	}
	calctest.Near(t, b.Filler.MeltsK.Low, 618.33+273.15, 1e-4, "1145 °F, AWS A5.8-1981")
}

func TestBraze_refusesReadably(t *testing.T) {
	for name, c := range map[string]struct{ in, want string }{
		"aluminium with brass":  {`{"metal":"aluminium","filler":"RBCuZn-A","thickness_m":0.003}`, "line 1: filler: read RBCuZn-A; allowed is a filler that flows below 635 °C"},
		"galvanised":            {`{"metal":"galvanised_steel","thickness_m":0.003}`, "line 1: metal: read galvanised steel; allowed is steel with the zinc taken off"},
		"phosphorus on steel":   {`{"metal":"mild_steel","filler":"BCuP-5","thickness_m":0.003}`, "line 1: filler: read BCuP-5; allowed is a filler made for mild steel"},
		"no gap":                {`{"metal":"copper","thickness_m":0.003,"clearance_m":0}`, "line 1: clearance_m: read 0; allowed is more than 0"},
		"gap of 3 mm":           {`{"metal":"copper","thickness_m":0.003,"clearance_m":0.003}`, "line 1: clearance_m: read 0.003; allowed is 1e-05 to 0.001 m"},
		"no joints":             {`{"metal":"copper","thickness_m":0.003,"count":0}`, "line 1: count: read 0; allowed is 1 or more"},
		"shop of 0 K":           {`{"metal":"copper","thickness_m":0.003,"shop_k":0}`, "line 1: shop_k: read 0; allowed is 253.15"},
		"gold":                  {`{"metal":"gold","thickness_m":0.003}`, `line 1: metal: read "gold"; allowed is one of mild_steel`},
		"no metal":              {`{"thickness_m":0.003}`, "line 1: metal: missing"},
		"thickness of nothing":  {`{"metal":"copper","thickness_m":0}`, "line 1: thickness_m: read 0; allowed is"},
		"one and a half joints": {`{"metal":"copper","thickness_m":0.003,"count":1.5}`, "line 1: count: read 1.5; allowed is a whole number"},
	} {
		_, err := ask(t, "braze", c.in)
		if err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The help names every field, going in and coming out, and its example is answered.
func TestBraze_helpIsComplete(t *testing.T) {
	for _, of := range []any{brazeQuestion{}, brazeAnswer{}, brazeFiller{}, brazeFlux{}, brazeFlame{}, brazeShade{}, brazeStep{}, brazeUsed{}} {
		_, fields := fieldsOf(reflect.TypeOf(of))
		for f := range fields {
			if !strings.Contains(helpBraze, f) {
				t.Errorf("the help does not name %s", f)
			}
		}
	}
	example := helpBraze[strings.LastIndex(helpBraze, "{"):]
	if a := brazed(t, example); a.Used == nil {
		t.Error("the example has no rod")
	}
}
