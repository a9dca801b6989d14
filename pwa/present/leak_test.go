package present

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

// lph is one L/h in m³/s.
const lph = 1e-3 / 3600

// shownVerdict is a verdict on an oxygen delivery side in litres an hour.
func shownVerdict(v leak.Verdict, low, value, high float64) LeakInput {
	return LeakInput{
		Section: leak.OxygenDelivery, Gas: gas.Oxygen, Verdict: v, Sized: true, Leak: units.Band{Value: value * lph, Low: low * lph, High: high * lph},
		Smallest: 0.085 * lph, Allowed: 0.2 * lph, Certain: low > 0, Small: low > 0 && v == leak.Tight, Elapsed: 600,
	}
}

func TestLeakVerdict_says_in_one_sentence_what_it_means(t *testing.T) {
	metric := Options{Units: units.Metric()}
	longer := shownVerdict(leak.Undecided, -0.3, 0, 0.3)
	longer.More = 700
	hopeless := longer
	hopeless.More = 30 * 3600
	creep := shownVerdict(leak.Leaking, 0.4, 0.5, 0.6)
	creep.Section = leak.RegulatorCreep
	unsized := LeakInput{Section: leak.FuelSupply, Gas: gas.Acetylene, Verdict: leak.Leaking}
	for _, c := range []struct {
		name  string
		in    LeakInput
		wants []string
		min   int // minutes offered
	}{
		{"tight", shownVerdict(leak.Tight, -0.1, 0, 0.1), []string{"less than the 0.2 L/h allowed"}, 0},
		{"small but certain", shownVerdict(leak.Tight, 0.02, 0.04, 0.06), []string{"small but certain", "0.04 L/h"}, 0},
		{"leaking", shownVerdict(leak.Leaking, 0.4, 0.5, 0.6), []string{"loses 0.5 L/h, more than the 0.2 L/h allowed"}, 0},
		{"leaking, perhaps below the allowed", shownVerdict(leak.Leaking, 0.1, 0.3, 0.5), []string{"surely loses gas", "may be 0.5 L/h"}, 0},
		{"undecided", longer, []string{"Leave it 12 min more"}, 12},
		{"undecided for ever", hopeless, []string{"waiting would take too long"}, 0},
		{"creep", creep, []string{"creeps", "0.5 L/h"}, 0},
		{"no rate", unsized, []string{"how much this gauge cannot tell"}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := NewLeakVerdict(c.in, metric)
			for _, w := range c.wants {
				if !strings.Contains(v.Lead, w) {
					t.Errorf("%q lacks %q", v.Lead, w)
				}
			}
			if v.Longer != c.min || !strings.EqualFold(v.Word, string(c.in.Verdict)) || v.Sign != string(c.in.Verdict) {
				t.Errorf("%+v", v)
			}
		})
	}
}

// Warnings stand apart from notes and before the numbers, whatever order package leak gives them in.
func TestLeakVerdict_puts_what_concerns_safety_first(t *testing.T) {
	in := shownVerdict(leak.Leaking, 0.4, 0.5, 0.6)
	in.Notes = []leak.Note{{Code: "small", Text: "Small.", Source: "s"}, {Code: "leaking", Text: "Close the valve.", Source: "30 CFR", Stop: true}}
	in.Air = &leak.Air{Steady: 0.3, Notes: []leak.Note{{Code: "explosive", Text: "Out.", Source: "29 CFR", Stop: true}, {Code: "well_mixed", Text: "Mixed.", Source: "m"}}}
	v := NewLeakVerdict(in, Options{Units: units.Metric()})
	if len(v.Warnings) != 2 || v.Warnings[0].Code != "leaking" || v.Warnings[1].Code != "explosive" || len(v.Notes) != 2 {
		t.Errorf("%+v %+v", v.Warnings, v.Notes)
	}
}

// The same leak in both systems of units: 0.2 L/h at 15 °C is 0.0072 ft³/h at 70 °F (0.2/28.3168 · 294.26/288.15, by the gas law).
func TestLeakVerdict_writes_flows_in_the_units_of_the_owner(t *testing.T) {
	in := shownVerdict(leak.Tight, -0.1, 0, 0.1)
	for _, c := range []struct {
		system      units.System
		flow, state string
	}{{units.Metric(), "0.2 L/h", "15 °C"}, {units.US(), "0.0072 ft³/h", "70 °F"}} {
		v := NewLeakVerdict(in, Options{Units: c.system})
		text := ""
		for _, f := range v.Facts {
			text += f.Name + " " + f.Value + "\n"
		}
		for _, w := range []string{c.flow, c.state, "Smallest leak it could have seen", "10 min"} {
			if !strings.Contains(text, w) {
				t.Errorf("%q is missing in\n%s", w, text)
			}
		}
	}
}

func TestLeakMeaning_tells_loss_money_and_air(t *testing.T) {
	empty := units.Duration(10 * 24 * 3600)
	in := shownVerdict(leak.Leaking, 0.4, 0.5, 0.6)
	in.Gas, in.Section = gas.Acetylene, leak.FuelDelivery
	in.Losses = &leak.Losses{PerWeek: 0.084, MoneyPerWeek: 1.5, ToEmpty: &empty}
	tenth := units.Duration(7200)
	in.Air = &leak.Air{Steady: 0.0123, Limit: leak.LowerFlammableLimit(gas.Acetylene), ToTenth: &tenth}
	v := NewLeakVerdict(in, Options{Units: units.Metric(), Currency: "€"})
	text := ""
	for _, f := range v.Meaning {
		text += f.Name + ": " + f.Value + "\n"
	}
	for _, w := range []string{"84 L", "€1.50", "10 days", "1.2 %", "2.3 %", "2 h", "never reached"} {
		if !strings.Contains(text, w) {
			t.Errorf("%q is missing in\n%s", w, text)
		}
	}
	in.AtMost = true
	if v := NewLeakVerdict(in, Options{Units: units.Metric()}); !strings.HasPrefix(v.Meaning[0].Value, "at most ") || !strings.HasPrefix(v.Meaning[2].Value, "at least ") {
		t.Errorf("%+v", v.Meaning)
	}
}

func TestTrend_draws_every_sized_test_and_says_all_in_words(t *testing.T) {
	points := []TrendPoint{
		{At: 1.9e12, Verdict: "leaking", Leak: units.Band{Value: 1 * lph, Low: 0.8 * lph, High: 1.2 * lph}},
		{At: 1.91e12, Verdict: "undecided", GaugeOnly: true},
		{At: 1.92e12, Verdict: "tight", Leak: units.Band{Value: -0.01 * lph, Low: -0.1 * lph, High: 0.1 * lph}},
		{At: 1.93e12, Verdict: "undecided", Leak: units.Band{Value: 0, Low: -90 * lph, High: 90 * lph}},
	}
	d := Trend("oxygen <delivery>", points, 0.2*lph, 1, Options{Units: units.Metric()})
	decoder := xml.NewDecoder(strings.NewReader(d.SVG))
	for {
		if _, err := decoder.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("no XML: %v", err)
		}
	}
	if n := strings.Count(d.SVG, "trend-point"); n != 3 {
		t.Errorf("%d points", n)
	}
	for _, w := range []string{"role=\"img\"", "trend-leaking", "trend-tight", "trend-undecided", "trend-allowed"} {
		if !strings.Contains(d.SVG, w) {
			t.Errorf("the drawing lacks %s", w)
		}
	}
	if strings.Count(d.Text, ";") != 3 || !strings.Contains(d.Text, "leaking, 1 L/h") {
		t.Errorf("%q", d.Text)
	}
	if one := Trend("x", points[:1], 0.2*lph, 1, Options{Units: units.Metric()}); one.SVG != "" || one.Text == "" {
		t.Error("one test is no trend")
	}
}

func TestCountDown_and_due_are_written_as_people_say_them(t *testing.T) {
	for ms, want := range map[int64]string{600_000: "10:00", 599_001: "10:00", 599_000: "9:59", 1: "0:01", 0: "0:00", -5: "0:00", 3_905_000: "1:05:05"} {
		if got := CountDown(ms); got != want {
			t.Errorf("%d ms: %s, want %s", ms, got, want)
		}
	}
	const day = 86_400_000
	for _, c := range []struct {
		due  int64
		want string
	}{{0, ""}, {100 * day, "due today"}, {103 * day, "due in 3 days"}, {93 * day, "due since 7 days"}} {
		if got := Due(c.due, 100*day); got != c.want {
			t.Errorf("due %d: %q, want %q", c.due/day, got, c.want)
		}
	}
	if Ago(7*60_000) != "7 min ago" || Ago(100) != "now" {
		t.Errorf("%s, %s", Ago(7*60_000), Ago(100))
	}
}

func TestPreparation_keeps_cautions_before_steps_and_names_every_source(t *testing.T) {
	for _, s := range leak.Sections() {
		for _, g := range []gas.Gas{gas.Oxygen, gas.Acetylene, gas.Propane} {
			p, err := leak.Prepare(s, g, 0)
			if err != nil {
				continue // a section that does not hold that gas
			}
			out := NewPreparation(p, Options{})
			if len(out.Cautions) == 0 || out.Cautions[0].Code != "no_flame" || len(out.Steps) == 0 {
				t.Errorf("%s of %s: %+v", s, g, out)
			}
			for _, step := range out.Steps {
				if step.Source == "" {
					t.Errorf("%s of %s: %q has no source", s, g, step.Text)
				}
			}
		}
	}
}
