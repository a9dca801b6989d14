package main

import (
	"math"
	"reflect"
	"strings"
	"testing"
)

// A garage needs a fan of 2,000 ft³ a minute (29 CFR 1910.252(c)(2)(ii)); a hall does not; a poisonous metal is told before all else.
func TestVentilation_answersAsTheRule(t *testing.T) {
	out, err := ask(t, "ventilation", `{"room_volume_m3":90,"ceiling_height_m":2.5,"materials":["zinc"]}`)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := numberOf(t, out, "minimum_flow_m3_s"), 2000*0.028316846592/60; math.Abs(got/want-1) > 1e-9 {
		t.Errorf("flow %v, want %v", got, want)
	}
	for _, want := range []string{`"mechanical_required":true`, `"natural_suffices":false`, `"code":"has_zinc"`, `"code":"low_ceiling"`} {
		if !strings.Contains(out, want) {
			t.Errorf("%s lacks %s", out, want)
		}
	}
	if strings.Index(out, "has_zinc") > strings.Index(out, "minimum_flow_m3_s") {
		t.Error("the warning stands behind the number")
	}
	out, err = ask(t, "ventilation", `{"room_volume_m3":600,"ceiling_height_m":6}{"place":"open_air"}`)
	if err != nil || !strings.Contains(out, `"natural_suffices":true,"minimum_flow_m3_s":0`) || strings.Count(out, "\n") != 2 {
		t.Errorf("%v %s", err, out)
	}
}

// An inch of 0.45 % carbon steel: IIW 0.575; the table asks 66 °C, the stricter rule from memory 200 °C and says so.
func TestPreheat_answers(t *testing.T) {
	out, err := ask(t, "preheat", `{"thickness_m":0.025,"c_percent":0.45,"mn_percent":0.75}`)
	if err != nil {
		t.Fatal(err)
	}
	if got := numberOf(t, out, "ce_iiw"); math.Abs(got-0.575) > 1e-12 {
		t.Errorf("IIW %v", got)
	}
	if got := numberOf(t, out, "lowest_k"); math.Abs(got-473.15) > 1e-9 || !strings.Contains(out, "from memory") {
		t.Errorf("%v in %s", got, out)
	}
	thin, err := ask(t, "preheat", `{"thickness_m":0.006,"c_percent":0.18,"mn_percent":0.3}`)
	if err != nil || !strings.Contains(thin, `"lowest_k":null`) {
		t.Errorf("%v %s", err, thin)
	}
}

func TestRoomAndPreheat_refuseReadably(t *testing.T) {
	for _, c := range []struct{ topic, in, want string }{
		{"ventilation", `{}`, "line 1: room_volume_m3: read 0; allowed is 0.5 to 1e+06 m3"},
		{"ventilation", `{"room_volume_m3":90}`, "line 1: ceiling_height_m: read 0; allowed is 0.3 to 100 m"},
		{"ventilation", `{"room_volume_m3":90,"ceiling_height_m":3,"welders":0}`, "line 1: welders: read 0; allowed is 1 to 100"},
		{"ventilation", `{"room_volume_m3":90,"ceiling_height_m":3,"materials":["gold"]}`, `line 1: materials: read "gold"; allowed is one of beryllium`},
		{"ventilation", `{"place":"moon"}`, `line 1: place: read "moon"; allowed is one of room, confined, open_air`},
		{"preheat", `{"c_percent":0.2}`, "line 1: thickness_m: missing"},
		{"preheat", `{"thickness_m":0.01,"c_percent":45}`, "line 1: c_percent: read 45; allowed is 0 to 2"},
		{"preheat", `{"thickness_m":0,"c_percent":0.4}`, "line 1: thickness_m: read 0; allowed is"},
	} {
		if _, err := ask(t, c.topic, c.in); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s %s: %v, want %q", c.topic, c.in, err, c.want)
		}
	}
}

func TestHelp_namesEveryFieldOfRoomAndPreheat(t *testing.T) {
	for help, list := range map[string][]any{helpVentilation: {ventilationQuestion{}, ventilationAnswer{}, ventilationHood{}}, helpPreheat: {preheatQuestion{}, preheatAnswer{}}} {
		for _, q := range list {
			_, fields := fieldsOf(reflect.TypeOf(q))
			for f := range fields {
				if !strings.Contains(help, f) {
					t.Errorf("the help does not name %s", f)
				}
			}
		}
	}
}
