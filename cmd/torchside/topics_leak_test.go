package main

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"torchside/calc/leak"
)

const (
	hoseQuestionText = `"gas":"oxygen","volume_m3":0.0002,"start_abs_pa":301325,"start_temperature_k":293.15,"end_temperature_k":293.15,"pressure_reading_error_pa":2000,"temperature_reading_error_k":0.5`
	roomQuestionText = `"room_volume_m3":10,"air_changes_per_hour":0.3,"hours":1`
)

// answerOf asks one question and returns its answer as fields.
func answerOf(t *testing.T, topic, in string) map[string]any {
	t.Helper()
	out, err := ask(t, topic, in)
	if err != nil {
		t.Fatal(err)
	}
	var all map[string]any
	if err := json.Unmarshal([]byte(out), &all); err != nil {
		t.Fatal(err)
	}
	return all
}

// The answers are those of the tables, so that a slip in the wiring shows.
func TestLeakTopics_answerAsTheTables(t *testing.T) {
	for _, c := range []struct {
		name, topic, in, field string
		want, tol              float64
		source                 string
	}{
		{"oxygen hose", "leak", `{"gas":"oxygen","volume_m3":0.00025,"start_abs_pa":151325,"start_temperature_k":298.15,"end_abs_pa":149325,"end_temperature_k":298.15,"duration_s":300,"pressure_reading_error_pa":1000,"temperature_reading_error_k":0.5}`, "leak_std_m3_s.value", 0.057295342e-3 / 3600, 1e-4, "leak_decay.csv LD-0001"},
		{"cooling cylinder", "leak", `{"gas":"oxygen","volume_m3":0.05,"start_abs_pa":15101325,"start_temperature_k":298.15,"end_abs_pa":13681946,"end_temperature_k":278.15,"duration_s":43200,"pressure_reading_error_pa":2e5,"temperature_reading_error_k":1}`, "tight_end_abs_pa", 13681946, 1e-6, "leak_decay.csv LD-0203"},
		{"acetylene in a room", "room", `{"gas":"acetylene","leak_std_m3_s":5.5555556e-5,` + roomQuestionText + `}`, "concentration", 0.017409818, 1e-6, "room_concentration.csv RC-0046"},
		{"a tenth of the limit", "room", `{"gas":"acetylene","leak_std_m3_s":5.5555556e-5,` + roomQuestionText + `}`, "seconds_to_tenth_of_lower_limit", 6.9081593 * 60, 1e-5, "room_concentration.csv RC-0046"},
		{"acetylene's lower limit", "room", `{"gas":"acetylene","leak_std_m3_s":1e-6,` + roomQuestionText + `}`, "lower_limit", 0.023, 1e-12, "flammability.csv"},
		{"oxygen in a room", "room", `{"gas":"oxygen","leak_std_m3_s":2.7777778e-6,"room_volume_m3":10,"air_changes_per_hour":0.5,"hours":8}`, "oxygen", 0.21107601, 1e-6, "room_concentration.csv RC-0166"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var value any = answerOf(t, c.topic, c.in)
			for _, name := range strings.Split(c.field, ".") {
				value = value.(map[string]any)[name]
			}
			if got, ok := value.(float64); !ok || math.Abs(got/c.want-1) > c.tol {
				t.Errorf("%s = %v, want %v within %v (%s)", c.field, value, c.want, c.tol, c.source)
			}
		})
	}
}

// The three verdicts, and that a verdict comes with the allowed leak and the reason of the default.
func TestLeakTopic_givesTheVerdictAndItsReason(t *testing.T) {
	for _, c := range []struct{ name, rest, want string }{
		{"leaking", `"end_abs_pa":201325,"duration_s":600`, "leaking"},
		{"too short", `"end_abs_pa":301325,"duration_s":60`, "undecided"},
		{"tight", `"end_abs_pa":301325,"duration_s":7200`, "tight"},
		{"a temperature missing", `"end_abs_pa":301325,"duration_s":300,"start_temperature_k":null`, "undecided"},
		{"gained", `"end_abs_pa":351325,"duration_s":600`, "undecided"},
	} {
		t.Run(c.name, func(t *testing.T) {
			base := hoseQuestionText
			if strings.Contains(c.rest, "start_temperature_k") {
				base = strings.Replace(base, `"start_temperature_k":293.15,`, "", 1)
			}
			all := answerOf(t, "leak", `{`+base+`,`+c.rest+`}`)
			if all["verdict"] != c.want || all["allowed_leak_std_m3_s"] != float64(leak.DefaultAllowed) || all["allowed_leak_reason"] != leak.DefaultAllowedReason {
				t.Errorf("%v", all)
			}
			if more := all["more_time_s"].(float64); (more > 0) != (c.want == "undecided" && c.name != "gained") {
				t.Errorf("more_time_s is %v", more)
			}
		})
	}
	asked := answerOf(t, "leak", `{`+hoseQuestionText+`,"end_abs_pa":301325,"duration_s":7200,"allowed_leak_std_m3_s":1e-9}`)
	if asked["verdict"] != "undecided" || asked["allowed_leak_reason"] != "as asked" {
		t.Errorf("%v", asked)
	}
}

// Times that never come are null, and so is a limit that does not exist.
func TestRoomTopic_saysNeverAsNull(t *testing.T) {
	all := answerOf(t, "room", `{"gas":"oxygen","leak_std_m3_s":1e-9,`+roomQuestionText+`}`)
	for _, f := range []string{"lower_limit", "lower_limit_source", "seconds_to_tenth_of_lower_limit", "seconds_to_lower_limit", "seconds_to_23p5_oxygen"} {
		if v, there := all[f]; !there || v != nil {
			t.Errorf("%s is %v, want null", f, v)
		}
	}
}

func TestLeakTopics_refuseReadably(t *testing.T) {
	const ended = `,"end_abs_pa":291325`
	for _, c := range []struct{ name, topic, in, want string }{
		{"end before start", "leak", `{` + hoseQuestionText + ended + `,"duration_s":-5}`, "line 1: duration_s: read -5; allowed is 1 to"},
		{"identical instants", "leak", `{` + hoseQuestionText + ended + `,"duration_s":0}`, "line 1: duration_s: read 0"},
		{"volume zero", "leak", strings.Replace(`{`+hoseQuestionText+ended+`,"duration_s":600}`, "0.0002", "0", 1), "line 1: volume_m3: read 0"},
		{"gauge division zero", "leak", strings.Replace(`{`+hoseQuestionText+ended+`,"duration_s":600}`, "2000", "0", 1), "line 1: pressure_reading_error_pa: read 0"},
		{"above the scale", "leak", `{` + hoseQuestionText + ended + `,"duration_s":600,"gauge_maximum_pa":100000}`, "line 1: start_abs_pa: read 301325; allowed is 0 to 201325 Pa"},
		{"a scale of nothing", "leak", `{` + hoseQuestionText + ended + `,"duration_s":600,"gauge_maximum_pa":0}`, "line 1: gauge_maximum_pa: read 0"},
		{"acetylene above 15 psi", "leak", strings.Replace(`{`+hoseQuestionText+ended+`,"duration_s":600}`, "oxygen", "acetylene", 1), "29 CFR 1910.253(a)(2)"},
		{"no duration", "leak", `{` + hoseQuestionText + ended + `}`, "line 1: duration_s: missing"},
		{"unknown field", "leak", `{` + hoseQuestionText + ended + `,"duration_s":600,"minutes":10}`, "line 1: minutes: unknown field"},
		{"barometer of 0", "leak", `{` + hoseQuestionText + ended + `,"duration_s":600,"ambient_abs_pa":0}`, "line 1: ambient_abs_pa: read 0"},
		{"allowed leak of 0", "leak", `{` + hoseQuestionText + ended + `,"duration_s":600,"allowed_leak_std_m3_s":0}`, "line 1: allowed_leak_std_m3_s: read 0"},
		{"unknown gas", "leak", strings.Replace(`{`+hoseQuestionText+ended+`,"duration_s":600}`, "oxygen", "steam", 1), "line 1: gas: unknown gas"},
		{"leak below zero", "room", `{"gas":"propane","leak_std_m3_s":-1e-6,` + roomQuestionText + `}`, "line 1: leak_std_m3_s: read -1e-06"},
		{"no room", "room", `{"gas":"propane","leak_std_m3_s":1e-6,"room_volume_m3":0,"air_changes_per_hour":1,"hours":1}`, "line 1: room_volume_m3: read 0"},
		{"room at 0 K", "room", `{"gas":"propane","leak_std_m3_s":1e-6,"temperature_k":0,` + roomQuestionText + `}`, "line 1: temperature_k: read 0"},
		{"nothing mixes", "room", `{"gas":"propane","leak_std_m3_s":1e-6,"mixing_factor":0,` + roomQuestionText + `}`, "line 1: mixing_factor: read 0"},
		{"hours below zero", "room", `{"gas":"propane","leak_std_m3_s":1e-6,"room_volume_m3":9,"air_changes_per_hour":1,"hours":-1}`, "line 1: hours: read -1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ask(t, c.topic, c.in)
			if err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
				t.Errorf("error is %v, want one line with %q", err, c.want)
			}
		})
	}
}

// Every field is in the help of its topic.
func TestLeakHelp_namesEveryField(t *testing.T) {
	for help, kinds := range map[string][]any{helpLeak: {leakQuestion{}, leakAnswer{}}, helpRoom: {roomQuestion{}, roomAnswer{}}} {
		for _, k := range kinds {
			_, fields := fieldsOf(reflect.TypeOf(k))
			for f := range fields {
				if !strings.Contains(help, f) {
					t.Errorf("help does not name %s", f)
				}
			}
		}
	}
}
