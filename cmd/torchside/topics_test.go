package main

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"
)

// run answers questions of a topic and returns what it wrote and its error.
func ask(t *testing.T, name, in string) (string, error) {
	t.Helper()
	for _, s := range subjects {
		if s.name == name {
			var out strings.Builder
			err := s.answer(strings.NewReader(in), &out)
			return out.String(), err
		}
	}
	t.Fatalf("no topic %q", name)
	return "", nil
}

// numberOf reads one number of the first answer.
func numberOf(t *testing.T, answer, field string) float64 {
	t.Helper()
	var all map[string]any
	if err := json.NewDecoder(strings.NewReader(answer)).Decode(&all); err != nil {
		t.Fatalf("%v in %q", err, answer)
	}
	v, ok := all[field].(float64)
	if !ok {
		t.Fatalf("no number %q in %s", field, answer)
	}
	return v
}

// The answers are those of published tables, so that a slip in the wiring (a gauge pressure taken for an absolute one, a
// length in mm) shows.
func TestTopics_answerAsTheTables(t *testing.T) {
	for _, c := range []struct {
		name, topic, in, field string
		want, tol              float64 // tol is a share
		source                 string
	}{
		{"oxygen, 50 L at 200 bar", "cylinder", `{"gas":"oxygen","water_volume_m3":0.05,"gauge_pressure_pa":20e6,"temperature_k":288.15}`, "contents_std_m3", 10.64, 0.003, "cylinders.csv, 50 L at 200 bar"},
		{"oxygen at 150 bar, Z", "cylinder", `{"gas":"oxygen","water_volume_m3":0.01,"gauge_pressure_pa":15e6,"temperature_k":288.15}`, "compressibility", 0.9290, 0.003, "cylinders.csv, 10 L at 150 bar"},
		{"a kilogram of acetylene", "acetylene", `{"gross_mass_kg":41,"tare_mass_kg":40,"full_mass_kg":4}`, "contents_std_m3", 0.899, 0.004, "gas_README: 1 kg of acetylene = 899 L"},
		{"oxygen through 0.5 mm at 0.05 bar", "orifice", `{"mixture":{"oxygen":1},"diameter_m":0.0005,"discharge_coefficient":1,"upstream_abs_pa":106325,"downstream_abs_pa":101325,"temperature_k":293.15}`, "mass_flow_kg_s", 0.022604149e-3, 0.01, "orifice_flow.csv OR-0001"},
		{"oxygen hose", "hose", `{"gas":"oxygen","inside_diameter_m":0.0047625,"length_m":20,"roughness_m":1.5e-6,"flow_std_m3_s":2.7777778e-5,"inlet_abs_pa":131325,"temperature_k":293.15}`, "outlet_abs_pa", 131325 - 702.18465, 0.0002, "hose_drop.csv HD-0001; 0.02 % of the outlet is 4 % of the drop"},
	} {
		t.Run(c.name, func(t *testing.T) {
			out, err := ask(t, c.topic, c.in)
			if err != nil {
				t.Fatal(err)
			}
			if got := numberOf(t, out, c.field); math.Abs(got/c.want-1) > c.tol {
				t.Errorf("%s = %v, want %v within %v (%s)", c.field, got, c.want, c.tol, c.source)
			}
		})
	}
}

// A question that cannot be answered names line, field, what was read and what is allowed.
func TestTopics_refuseReadably(t *testing.T) {
	const cylinder = `"gas":"oxygen","water_volume_m3":0.05,"temperature_k":288.15`
	const orifice = `"diameter_m":0.001,"discharge_coefficient":1,"temperature_k":293`
	for _, c := range []struct{ name, topic, in, want string }{
		{"cylinder at 500 bar", "cylinder", `{` + cylinder + `,"gauge_pressure_pa":500e5}`, "line 1: gauge_pressure_pa: read 5e+07; allowed is 0 to 3e+07 Pa"},
		{"missing field on the second line", "cylinder", `{` + cylinder + `,"gauge_pressure_pa":1e5}` + "\n{" + cylinder + "}", "line 2: gauge_pressure_pa: missing"},
		{"unknown field", "cylinder", `{` + cylinder + `,"gauge_pressure_pa":1e5,"colour":1}`, "line 1: colour: unknown field; allowed are gas, water_volume_m3"},
		{"field twice", "cylinder", `{` + cylinder + `,"gauge_pressure_pa":1e5,"gas":"argon"}`, "line 1: gas: given twice"},
		{"text for a number", "cylinder", `{` + cylinder + `,"gauge_pressure_pa":"1e5"}`, `line 1: gauge_pressure_pa: read "1e5"; allowed is a number`},
		{"number too large", "cylinder", `{` + cylinder + `,"gauge_pressure_pa":1e999}`, "line 1: gauge_pressure_pa: read 1e999; allowed is a number"},
		{"null for a needed field", "cylinder", `{` + cylinder + `,"gauge_pressure_pa":null}`, "line 1: gauge_pressure_pa: missing"},
		{"acetylene by gauge", "cylinder", `{"gas":"acetylene","water_volume_m3":0.05,"temperature_k":288.15,"gauge_pressure_pa":1e5}`, "weigh the cylinder"},
		{"unknown gas", "cylinder", `{"gas":"oxgen","water_volume_m3":0.05,"temperature_k":288.15,"gauge_pressure_pa":1e5}`, `line 1: gas: unknown gas "oxgen"`},
		{"minus 300 degrees", "cylinder", `{"gas":"oxygen","water_volume_m3":0.05,"temperature_k":-26.85,"gauge_pressure_pa":1e5}`, "line 1: temperature_k: read -26.85"},
		{"mixture of 0.9", "orifice", `{` + orifice + `,"mixture":{"oxygen":0.5,"acetylene":0.4},"upstream_abs_pa":2e5,"downstream_abs_pa":1e5}`, "line 1: mixture: the fractions sum to 0.9, allowed"},
		{"fuel mixture of 0.5", "flame", `{"fuel_mixture":{"acetylene":0.5},"oxidizer":"oxygen","oxidizer_fuel_ratio":1.1,"temperature_k":298,"abs_pressure_pa":101325}`, "line 1: fuel_mixture: the fractions sum to 0.5, allowed"},
		{"downstream above upstream", "orifice", `{` + orifice + `,"mixture":{"oxygen":1},"upstream_abs_pa":2e5,"downstream_abs_pa":3e5}`, "line 1: downstream_abs_pa: read 300000; allowed is"},
		{"null in a mixture", "orifice", `{` + orifice + `,"mixture":{"oxygen":1,"acetylene":null},"upstream_abs_pa":3e5,"downstream_abs_pa":2e5}`, "line 1: mixture.acetylene: read null; allowed is a number"},
		{"null in a list", "setup", `{"work":"weld","metal":"mild_steel","thickness_m":0.003,"joint":"butt","temperature_k":293,"ambient_abs_pa":101325,"rig":{"fuel_cylinder":{"fuel":"acetylene"},"torch":{"mixing":"equal_pressure"},"tips":[{"label":"a","fuels":[null]}]}}`, "line 1: rig.tips[0].fuels[0]: read null"},
		{"no such gas in a mixture", "orifice", `{` + orifice + `,"mixture":{"steam":1},"upstream_abs_pa":3e5,"downstream_abs_pa":2e5}`, `line 1: mixture: unknown gas "steam"`},
		{"limit that was worked out", "hose", `{"gas":"oxygen","inside_diameter_m":0.0041,"length_m":5,"roughness_m":0.01,"flow_std_m3_s":1e-4,"inlet_abs_pa":2e5,"temperature_k":293}`, "line 1: roughness_m: read 0.01; allowed is 0 to 0.000205 m"},
		{"hose of no length", "hose", `{"gas":"oxygen","inside_diameter_m":0.006,"length_m":0,"roughness_m":0,"flow_std_m3_s":1e-4,"inlet_abs_pa":2e5,"temperature_k":293}`, "line 1: length_m: read 0; allowed is"},
		{"more than the hose passes", "hose", `{"gas":"oxygen","inside_diameter_m":0.006,"length_m":5,"roughness_m":0,"flow_std_m3_s":1e-2,"inlet_abs_pa":2e5,"temperature_k":293}`, "line 1: flow_std_m3_s: hose: "},
		{"gross below tare", "acetylene", `{"gross_mass_kg":35,"tare_mass_kg":36,"full_mass_kg":4}`, "line 1: gross_mass_kg: read 35"},
		{"unknown rule", "acetylene", `{"gross_mass_kg":37,"tare_mass_kg":36,"full_mass_kg":4,"withdrawal_rule":"half"}`, `withdrawal_rule is "half"`},
		{"nothing at all", "hose", "", "line 1: read nothing"},
		{"not JSON", "hose", "{\n\"gas\": oxygen}", "line 2: "},
		{"a list", "hose", "[]", "line 1: read []; allowed is a JSON object"},
		{"empty rig", "setup", `{"work":"weld","metal":"mild_steel","thickness_m":0.003,"joint":"butt","temperature_k":293,"ambient_abs_pa":101325,"rig":{}}`, "line 1: rig.fuel_cylinder: missing"},
		{"no tips", "setup", `{"work":"weld","metal":"mild_steel","thickness_m":0.003,"joint":"butt","temperature_k":293,"ambient_abs_pa":101325,"rig":{"fuel_cylinder":{"fuel":"acetylene"},"torch":{"mixing":"equal_pressure"},"tips":[]}}`, "no tip"},
		{"unknown field deep in the rig", "setup", `{"work":"weld","metal":"mild_steel","thickness_m":0.003,"joint":"butt","temperature_k":293,"ambient_abs_pa":101325,"rig":{"fuel_cylinder":{"fuel":"acetylene"},"torch":{"mixing":"equal_pressure"},"tips":[{"label":"a","hole":1}]}}`, "line 1: rig.tips[0].hole: unknown field"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ask(t, c.topic, c.in)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error is %v, want it to contain %q", err, c.want)
			}
			if err != nil && strings.Contains(err.Error(), "\n") {
				t.Errorf("error is not one line: %q", err)
			}
		})
	}
}

// Answers before the first bad question stay: a script can see how far it came.
func TestTopics_answersUpToTheBadOne(t *testing.T) {
	good := `{"gross_mass_kg":41,"tare_mass_kg":40,"full_mass_kg":4}`
	out, err := ask(t, "acetylene", good+"\n"+good+"\n{}\n"+good)
	if err == nil || !strings.HasPrefix(err.Error(), "line 3: gross_mass_kg: missing") {
		t.Errorf("error is %v", err)
	}
	if n := strings.Count(out, "\n"); n != 2 {
		t.Errorf("%d answers, want 2", n)
	}
}

// Every topic there is, also one just added: its help names what it takes, as it says itself when asked for something else, and the example
// of the help is answered with what the help names.
func TestHelp_namesWhatEachTopicTakesAndGives(t *testing.T) {
	for _, s := range subjects {
		_, err := ask(t, s.name, `{"no_such_field":1}`)
		if err == nil {
			t.Errorf("%s takes any field", s.name)
			continue
		}
		_, list, _ := strings.Cut(err.Error(), "allowed are ")
		for f := range strings.SplitSeq(list, ", ") {
			if f == "" || !strings.Contains(s.help, f) {
				t.Errorf("help of %s does not name %q", s.name, f)
			}
		}
		_, example, has := strings.Cut(s.help, "A rounded example")
		if !has {
			continue
		}
		answer, err := ask(t, s.name, example[strings.Index(example, "{"):])
		var given map[string]any
		if err != nil || json.Unmarshal([]byte(answer), &given) != nil {
			t.Errorf("the example of %s: %v, %s", s.name, err, answer)
		}
		for f := range given {
			if !strings.Contains(s.help, f) {
				t.Errorf("help of %s does not name %q, which it gives", s.name, f)
			}
		}
	}
}

// Every question field is in the help of its topic, so that the help cannot fall behind.
func TestHelp_namesEveryField(t *testing.T) {
	for name, q := range map[string]any{"cylinder": cylinderQuestion{}, "acetylene": acetyleneQuestion{}, "orifice": orificeQuestion{}, "hose": hoseQuestion{},
		"flame": flameQuestion{}, "flame out": flameAnswer{}, "cylinder out": cylinderAnswer{}, "acetylene out": acetyleneAnswer{}, "orifice out": orificeAnswer{}, "hose out": hoseAnswer{}} {
		_, fields := fieldsOf(reflect.TypeOf(q))
		topic, _, _ := strings.Cut(name, " ")
		for _, s := range subjects {
			for f := range fields {
				if s.name == topic && !strings.Contains(s.help, f) {
					t.Errorf("help of %s does not name %s", topic, f)
				}
			}
		}
	}
}
