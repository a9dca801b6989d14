package main

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"torchside/calc/calctest"
)

const roundBar = `"shape":"round","diameter_m":0.016,"length_m":1,"zone_m":0.06,"target_k":1223.15,"start_k":293.15,"flame_power_w":5000,"efficiency":0.3`

// heatAsked answers a heat question or ends the test.
func heatAsked(t *testing.T, question string) heatAnswer {
	t.Helper()
	out, err := ask(t, "heat", question)
	if err != nil {
		t.Fatalf("%s: %v", question, err)
	}
	var a heatAnswer
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	return a
}

// The heat into the metal is power × efficiency × time, and no less than the zone holds: 16 mm round, 60 mm, from 20 to 800 °C takes
// 561.6 kJ/kg (materials.csv, from EN 1993-1-2).
func TestHeat_answersWithTheHeatOfTheZone(t *testing.T) {
	a := heatAsked(t, `{`+strings.Replace(roundBar, "1223.15", "1073.15", 1)+`,"at_m":[0,0.15]}`)
	calctest.Near(t, a.EnergyJ, 1500*a.TimeS.Value, 1e-9, "power × efficiency × time")
	calctest.Near(t, a.StoredJ+a.LostJ, a.EnergyJ, 1e-6, "conservation")
	zone := 7850 * math.Pi / 4 * 0.016 * 0.016 * 0.06 * 561.6e3
	if a.EnergyJ < zone || a.EnergyJ > 2.5*zone {
		t.Errorf("%v J for a zone that holds %v J", a.EnergyJ, zone)
	}
	if len(a.TemperatureAtM) != 2 || a.TemperatureAtM[1].XM != 0.15 || a.TemperatureAtM[1].K >= a.TemperatureAtM[0].K {
		t.Errorf("%+v", a.TemperatureAtM)
	}
	if a.TimeS.High == nil || !(a.TimeS.Low < a.TimeS.Value && a.TimeS.Value < *a.TimeS.High) {
		t.Errorf("%+v", a.TimeS)
	}
}

// What is missing takes its default; a flame that may never get there has no high end.
func TestHeat_defaults(t *testing.T) {
	short := heatAsked(t, `{`+roundBar+`}`)
	long := heatAsked(t, `{`+roundBar+`,"metal":"mild_steel","ambient_k":293.15,"efficiency_low":0.21,"efficiency_high":0.39,"at_m":[]}`)
	if short.TimeS.Value != long.TimeS.Value || short.TimeS.Low != long.TimeS.Low || *short.TimeS.High != *long.TimeS.High {
		t.Errorf("%+v against %+v", short, long)
	}
	if weak := heatAsked(t, `{`+strings.Replace(roundBar, "5000", "2000", 1)+`}`); weak.TimeS.High != nil {
		t.Errorf("%+v", weak.TimeS)
	}
}

func TestHeat_refusesReadably(t *testing.T) {
	for name, c := range map[string]struct{ old, new, want string }{
		"above melting":      {"1223.15", "1800", "line 1: target_k: read 1800; allowed is 293.15 to 1700.15 K"},
		"below the start":    {"1223.15", "280", "line 1: target_k: read 280; allowed is 293.15 to"},
		"zone too long":      {`"zone_m":0.06`, `"zone_m":1.5`, "line 1: zone_m: read 1.5; allowed is 0.001 to 1 m"},
		"no such metal":      {`"shape"`, `"metal":"gold","shape"`, `line 1: metal: read "gold"; allowed is one of mild_steel`},
		"no such shape":      {`"round"`, `"cone"`, `line 1: shape: read "cone"; allowed is one of round`},
		"size of another":    {`"length_m"`, `"wall_m":0.002,"length_m"`, "line 1: wall_m: read 0.002"},
		"no diameter":        {`"diameter_m":0.016,`, ``, "line 1: diameter_m: read 0; allowed is"},
		"air of 0 K":         {`"shape"`, `"ambient_k":0,"shape"`, "line 1: ambient_k: read 0; allowed is"},
		"point off the end":  {`"shape"`, `"at_m":[0.7],"shape"`, "line 1: at_m: read 0.7; allowed is 0 to 0.5 m"},
		"missing efficiency": {`,"efficiency":0.3`, ``, "line 1: efficiency: missing"},
		"aluminium red hot":  {`"shape"`, `"metal":"aluminium","shape"`, "line 1: target_k: read 1223.15; allowed is 293.15 to 933.45 K"},
	} {
		_, err := ask(t, "heat", "{"+strings.Replace(roundBar, c.old, c.new, 1)+"}")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

func TestHelp_namesEveryFieldOfHeat(t *testing.T) {
	for _, q := range []any{heatQuestion{}, heatAnswer{}, heatPoint{}} {
		_, fields := fieldsOf(reflect.TypeOf(q))
		for f := range fields {
			if !strings.Contains(helpHeat, f) {
				t.Errorf("the help does not name %s", f)
			}
		}
	}
}
