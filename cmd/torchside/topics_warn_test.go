package main

import (
	"encoding/json"
	"strings"
	"testing"

	"torchside/calc/setup"
)

// Acetylene above 15 psi gauge or 30 psi absolute is answered with a caution, as setup would give it; anything else with an
// empty list, so that a script need not ask whether there is one.
func TestTopics_warnOfAcetyleneAboveItsLimit(t *testing.T) {
	const hose = `"inside_diameter_m":0.006,"length_m":5,"roughness_m":0,"flow_std_m3_s":5e-5,"temperature_k":293.15`
	const hole = `"diameter_m":0.001,"discharge_coefficient":1,"downstream_abs_pa":101325,"temperature_k":293.15`
	for _, k := range []struct {
		topic, in, concerns string // concerns is empty when nothing is to be said
	}{
		{"hose", `{"gas":"acetylene",` + hose + `,"inlet_abs_pa":250000}`, "inlet_abs_pa"},
		{"hose", `{"gas":"acetylene",` + hose + `,"inlet_abs_pa":206000}`, "inlet_abs_pa"}, // below 30 psi absolute, above 15 psi gauge
		{"hose", `{"gas":"acetylene",` + hose + `,"inlet_abs_pa":204000}`, ""},
		{"hose", `{"gas":"oxygen",` + hose + `,"inlet_abs_pa":500000}`, ""},
		{"hose", `{"gas":"propane",` + hose + `,"inlet_abs_pa":500000}`, ""},
		{"orifice", `{"mixture":{"acetylene":1},` + hole + `,"upstream_abs_pa":250000}`, "upstream_abs_pa"},
		{"orifice", `{"mixture":{"acetylene":0.5,"oxygen":0.5},` + hole + `,"upstream_abs_pa":250000}`, "upstream_abs_pa"},
		{"orifice", `{"mixture":{"oxygen":1},` + hole + `,"upstream_abs_pa":250000}`, ""},
	} {
		out, err := ask(t, k.topic, k.in)
		if err != nil {
			t.Fatalf("%s: %v", k.in, err)
		}
		var got struct {
			Warnings []setup.Warning `json:"warnings"`
		}
		if err := json.Unmarshal([]byte(out), &got); err != nil || got.Warnings == nil {
			t.Fatalf("no list of warnings (%v) in %s", err, out)
		}
		if k.concerns == "" {
			if len(got.Warnings) > 0 {
				t.Errorf("%s: %+v", k.in, got.Warnings)
			}
			continue
		}
		if len(got.Warnings) != 1 {
			t.Errorf("%s: %+v", k.in, got.Warnings)
			continue
		}
		w := got.Warnings[0]
		if w.Code != "acetylene_pressure" || w.Level != setup.Caution || w.Concerns != k.concerns || w.Source != "29 CFR 1910.253(a)(2)" || !strings.Contains(w.Text, "15 psi") || !strings.Contains(w.Text, "30 psi") {
			t.Errorf("%s: %+v", k.in, w)
		}
	}
}

// No flow is 0, not -0.
func TestTopics_writeNoMinusZero(t *testing.T) {
	for topic, in := range map[string]string{
		"orifice": `{"mixture":{"oxygen":1},"diameter_m":0.001,"discharge_coefficient":1,"upstream_abs_pa":101325,"downstream_abs_pa":101325,"temperature_k":293.15}`,
		"hose":    `{"gas":"oxygen","inside_diameter_m":0.006,"length_m":5,"roughness_m":0,"flow_std_m3_s":0,"inlet_abs_pa":2e5,"temperature_k":293.15}`,
	} {
		out, err := ask(t, topic, in)
		if err != nil || strings.Contains(out, ":-0,") || strings.Contains(out, ":-0}") {
			t.Errorf("%s: %v %s", topic, err, out)
		}
	}
}
