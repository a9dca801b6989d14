package main

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"torchside/calc/calctest"
)

const cut13 = `"thickness_m":0.013,"length_m":1`

// Carvill, Mechanical Engineer's Data Handbook, p. 210: 13 mm is cut with 1.2 mm at 2.1 bar and 360 mm/min.
func TestCut_answersAsTheTable(t *testing.T) {
	out, err := ask(t, "cut", `{`+cut13+`,"oxygen_purity":0.995,"orifice_diameter_m":null}`)
	if err != nil {
		t.Fatal(err)
	}
	for field, want := range map[string]float64{"cutting_oxygen_gauge_pa": 2.1e5, "orifice_diameter_m": 0.0012, "time_s": 60 / 0.36} {
		calctest.Near(t, numberOf(t, out, field), want, 1e-9, "printed")
	}
	short, err := ask(t, "cut", `{`+cut13+`}`)
	if err != nil || short != out {
		t.Errorf("what is missing takes no default: %v", err)
	}
}

func TestCutList_addsItsPieces(t *testing.T) {
	one, err := ask(t, "cut", `{`+cut13+`}`)
	if err != nil {
		t.Fatal(err)
	}
	out, err := ask(t, "cut-list", `{"pieces":[{`+cut13+`,"count":2},{`+cut13+`,"count":1}],"oxygen_available_std_m3":0.3,"oxygen_price_per_std_m3":6,"fuel_price_per_std_m3":30}`)
	if err != nil {
		t.Fatal(err)
	}
	var a cutListAnswer
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	oxygen, fuel := numberOf(t, one, "oxygen_std_m3"), numberOf(t, one, "fuel_std_m3")
	calctest.Near(t, a.OxygenStdM3.Value, 3*oxygen, 1e-9, "three pieces")
	calctest.Near(t, *a.Cost, 18*oxygen+90*fuel, 1e-9, "price times volume")
	if a.Shortage == nil || a.Shortage.First != "oxygen" || a.Shortage.PiecesDone != 2 || a.Shortage.Row != 2 {
		t.Errorf("%+v", a.Shortage)
	}
}

func TestCut_refusesReadably(t *testing.T) {
	for name, c := range map[string]struct{ topic, in, want string }{
		"stainless":          {"cut", `{` + cut13 + `,"metal":"stainless_steel"}`, `line 1: metal: read "stainless_steel"; allowed is mild_steel`},
		"unknown metal":      {"cut", `{` + cut13 + `,"metal":"wood"}`, "no such metal is known"},
		"no metal":           {"cut", `{` + cut13 + `,"metal":""}`, `line 1: metal: read ""`},
		"fuel":               {"cut", `{` + cut13 + `,"fuel":"petrol"}`, `line 1: fuel: read "petrol"; allowed is one of acetylene`},
		"start":              {"cut", `{` + cut13 + `,"start":"air"}`, `line 1: start: read "air"; allowed is edge or pierce`},
		"2 m":                {"cut", `{"thickness_m":2,"length_m":1}`, "line 1: thickness_m: read 2; allowed is 0.0015 to 0.3 m"},
		"purity 0":           {"cut", `{` + cut13 + `,"oxygen_purity":0}`, "line 1: oxygen_purity: read 0; allowed is 0.95 to 1"},
		"purity 90 %":        {"cut", `{` + cut13 + `,"oxygen_purity":0.9}`, "line 1: oxygen_purity: read 0.9; allowed is 0.95 to 1"},
		"orifice 0":          {"cut", `{` + cut13 + `,"orifice_diameter_m":0}`, "line 1: orifice_diameter_m: read 0; allowed is more than 0"},
		"orifice too narrow": {"cut", `{` + cut13 + `,"orifice_diameter_m":0.0003}`, "line 1: orifice_diameter_m: read 0.0003; allowed is"},
		"hose":               {"cut", `{` + cut13 + `,"oxygen_hose":{"inside_diameter_m":0,"length_m":5}}`, "line 1: oxygen_hose.inside_diameter_m: read 0"},
		"no length":          {"cut", `{"thickness_m":0.01}`, "line 1: length_m: missing"},
		"no pieces":          {"cut-list", `{"pieces":[]}`, "line 1: rows: read 0"},
		"second row":         {"cut-list", `{"pieces":[{` + cut13 + `,"count":1},{"thickness_m":2,"length_m":1,"count":1}]}`, "line 1: pieces[1].thickness_m: read 2"},
		"no count":           {"cut-list", `{"pieces":[{` + cut13 + `}]}`, "line 1: pieces[0].count: missing"},
		"half a piece":       {"cut-list", `{"pieces":[{` + cut13 + `,"count":0.5}]}`, "line 1: pieces[0].count: read 0.5"},
		"list of aluminium":  {"cut-list", `{"metal":"aluminium","pieces":[{` + cut13 + `,"count":1}]}`, `line 1: metal: read "aluminium"`},
		"negative stock":     {"cut-list", `{"oxygen_available_std_m3":-1,"pieces":[{` + cut13 + `,"count":1}]}`, "line 1: oxygen_available_std_m3: read -1"},
	} {
		out, err := ask(t, c.topic, c.in)
		if err == nil || !strings.Contains(err.Error(), c.want) || out != "" {
			t.Errorf("%s: %v %s, want %q", name, err, out, c.want)
		}
	}
}

func TestHelp_namesEveryFieldOfCut(t *testing.T) {
	for _, c := range []struct {
		help string
		of   []any
	}{
		{helpCut, []any{cutQuestion{}, cutHose{}, cutAnswer{}, cutPreheat{}, cutBalance{}}},
		{helpCutList, []any{cutListQuestion{}, cutPiece{}, cutListAnswer{}, cutListRow{}, cutShortage{}}},
	} {
		for _, q := range c.of {
			_, fields := fieldsOf(reflect.TypeOf(q))
			for f := range fields {
				if !strings.Contains(c.help, f) {
					t.Errorf("the help does not name %s", f)
				}
			}
		}
	}
}
