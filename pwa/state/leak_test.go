package state

import (
	"math/rand"
	"strconv"
	"strings"
	"testing"

	"torchside/calc/leak"
	"torchside/calc/units"
)

// leakWorld is a world with the sample rig, and a clock that a test moves.
func leakWorld(t *testing.T) *world {
	t.Helper()
	w := newWorld(t)
	w.post(SampleAdded{})
	w.at(0)
	return w
}

// began is the instant a leakWorld's tests begin at, ms.
const began = 1_920_000_000_000

// at sets both clocks, in seconds after the beginning.
func (w *world) at(seconds int64) {
	w.t.Helper()
	w.post(ClockRead{Wall: began + seconds*1000, Steady: seconds * 1000})
}

// plan prepares a test and fills in its form: key, text, key, text …
func (w *world) plan(section, line string, texts ...string) {
	w.t.Helper()
	w.post(LeakBegun{Section: section, Line: line})
	w.post(LeakPrepared{})
	for i := 0; i < len(texts); i += 2 {
		w.post(LeakTyped{Key: texts[i], Text: texts[i+1]})
	}
}

// start begins the planned test and returns its id.
func (w *world) start() string {
	w.t.Helper()
	w.post(LeakStarted{})
	if w.app.Leak.Shown == nil {
		w.t.Fatalf("not started: %q, %+v", w.app.Leak.Problem, w.app.Leak.Fields)
	}
	return w.app.Leak.Open
}

// note types a reading and notes it.
func (w *world) note(id string, texts ...string) {
	w.t.Helper()
	for i := 0; i < len(texts); i += 2 {
		w.post(ReadingTyped{ID: id, Key: texts[i], Text: texts[i+1]})
	}
	w.post(ReadingTaken{ID: id})
}

// answerNow is the answer of the open test.
func (w *world) answerNow() LeakAnswer {
	w.t.Helper()
	v := w.app.Leak.Shown
	if v == nil || v.Answer == nil {
		w.t.Fatal("there is no answer")
	}
	return *v.Answer
}

// leakField is a field of the plan.
func (w *world) leakField(key string) FormField {
	w.t.Helper()
	for _, f := range w.app.Leak.Fields {
		if f.Key == key {
			return f
		}
	}
	w.t.Fatalf("no field %s", key)
	return FormField{}
}

// The three verdicts, each with readings that can only mean it: the volume is that of the sample rig, the gauge read to half of 0.02 bar.
func TestLeak_verdicts_follow_the_readings(t *testing.T) {
	for _, c := range []struct {
		name, end, temperature string
		seconds                int64
		want                   leak.Verdict
		certain                bool
	}{
		{"a gauge that stands still for half an hour", "1.7", "20", 1800, leak.Tight, false},
		{"a gauge that fell far", "1.2", "20", 1800, leak.Leaking, true},
		{"one minute is too short", "1.7", "20", 60, leak.Undecided, false},
		{"what a fall of 5 K explains is no leak", "1.655", "15", 1800, leak.Tight, false},
		{"a gauge that stands still while it warmed by 5 K hides a leak", "1.7", "25", 180, leak.Leaking, true},
		{"a small but certain leak in a long test", "1.6", "20", 24 * 3600, leak.Tight, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := leakWorld(t)
			w.plan("oxygen_delivery", "oxygen", "division", "0.02", "gauge", "1.7", "temperature", "20", "thermometer", "0.5")
			id := w.start()
			w.at(c.seconds)
			w.note(id, "gauge", c.end, "temperature", c.temperature)
			a := w.answerNow()
			if a.Problem != "" || a.Verdict != c.want || a.Certain != c.certain || a.Small != (c.certain && c.want == leak.Tight) {
				t.Errorf("%+v", a)
			}
			if c.want == leak.Undecided && (a.More <= 0 || a.Losses != nil || a.Air != nil) {
				t.Error("it does not say how much longer, or makes something of what is not known")
			}
			if a.Verdict == leak.Leaking && (a.Losses == nil || a.Air == nil || len(w.app.Leak.Shown.Joints) == 0) {
				t.Error("it does not say what the leak means and where to look")
			}
		})
	}
}

// Whatever is read, the unit it is read in changes no verdict.
func TestLeak_verdict_never_flips_by_the_choice_of_units(t *testing.T) {
	random := rand.New(rand.NewSource(4))
	for range 20 {
		start, end := 0.5+random.Float64()*3, 0.0
		end = start * (0.7 + random.Float64()*0.31)
		kelvin := 280 + random.Float64()*20
		verdicts := map[leak.Verdict]bool{}
		for _, system := range []units.System{units.Metric(), units.US()} {
			w := leakWorld(t)
			w.post(UnitsChosen{System: system})
			write := func(q units.Quantity, si float64) string {
				v, err := system.Unit(q).FromSI(si, 0)
				if err != nil {
					t.Fatal(err)
				}
				return strconv.FormatFloat(v, 'f', 6, 64)
			}
			w.plan("oxygen_delivery", "oxygen", "division", write(units.QuantityPressure, 2000), "gauge", write(units.QuantityPressure, start*barPa),
				"temperature", write(units.QuantityTemperature, kelvin))
			id := w.start()
			w.at(1500)
			w.note(id, "gauge", write(units.QuantityPressure, end*barPa), "temperature", write(units.QuantityTemperature, kelvin))
			verdicts[w.answerNow().Verdict] = true
		}
		if len(verdicts) != 1 {
			t.Errorf("%.3f to %.3f bar at %.1f K: %v", start, end, kelvin, verdicts)
		}
	}
}

// The bad input, each with its message; what was typed stays, and nothing is written.
func TestLeak_refuses_bad_input_and_keeps_what_was_typed(t *testing.T) {
	for _, c := range []struct{ name, section, line, key, text, says string }{
		{"division zero", "oxygen_delivery", "oxygen", "division", "0", "half of one is how far"},
		{"volume zero", "oxygen_delivery", "oxygen", "volume", "0", "nothing could leak"},
		{"pressure above the gauge's scale", "oxygen_delivery", "oxygen", "gauge", "11", "cannot lie above"},
		{"no pressure at all", "oxygen_delivery", "oxygen", "gauge", "0.01", "less than one division"},
		{"acetylene above 15 psi", "fuel_delivery", "fuel", "gauge", "15.1 psi", "29 CFR 1910.253(a)(2)"},
		{"a temperature outside the gas data", "oxygen_delivery", "oxygen", "temperature", "70", "gas data"},
		{"words for a number", "oxygen_delivery", "oxygen", "gauge", "much", "not understood"},
		{"no start reading", "oxygen_delivery", "oxygen", "gauge", "", "nothing was typed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := leakWorld(t)
			w.plan(c.section, c.line, "division", "0.02", "gauge", "1", "temperature", "20", c.key, c.text)
			before := len(w.bodies())
			w.post(LeakStarted{})
			f := w.leakField(c.key)
			if !strings.Contains(f.Error, c.says) || f.Text != c.text {
				t.Errorf("%q stays as %q with %q", c.text, f.Text, f.Error)
			}
			if len(w.bodies()) != before || w.app.Leak.Problem == "" {
				t.Errorf("something was written, or nothing said: %q", w.app.Leak.Problem)
			}
			w.restart()
			if w.app.Leak.Stage != LeakReadings || !w.app.Leak.Restored || w.leakField(c.key).Text != c.text {
				t.Error("a reload loses what was typed")
			}
		})
	}
}

// Without a thermometer a test is taken, and says that it is less sharp.
func TestLeak_without_a_temperature_widens_the_band_and_says_so(t *testing.T) {
	width := map[bool]float64{}
	for _, read := range []bool{true, false} {
		w := leakWorld(t)
		texts := []string{"division", "0.02", "gauge", "1.7"}
		if read {
			texts = append(texts, "temperature", "20")
		}
		w.plan("oxygen_delivery", "oxygen", texts...)
		id := w.start()
		w.at(1800)
		if read {
			w.note(id, "gauge", "1.7", "temperature", "20")
		} else {
			w.note(id, "gauge", "1.7")
		}
		a := w.answerNow()
		width[read] = a.Leak.High - a.Leak.Low
		said := false
		for _, n := range a.Notes {
			said = said || n.Code == "temperature_not_read"
		}
		if said == read {
			t.Errorf("temperature read %v, said so %v", read, !said)
		}
	}
	if width[false] <= width[true] {
		t.Errorf("bands %v", width)
	}
}

// A reading before the start, before the last one, or in the same instant is refused with the clock's fault; the typed text stays.
func TestLeak_refuses_readings_out_of_order(t *testing.T) {
	for _, c := range []struct {
		name    string
		seconds int64
		says    string
	}{{"before the start", -60, "before the start"}, {"the same instant", 0, "same instant"}, {"before the last reading", 30, "before the last reading"}} {
		t.Run(c.name, func(t *testing.T) {
			w := leakWorld(t)
			w.plan("oxygen_delivery", "oxygen", "division", "0.02", "gauge", "1.7")
			id := w.start()
			if c.seconds > 0 {
				w.at(600)
				w.note(id, "gauge", "1.7")
			}
			w.restart()
			w.at(c.seconds)
			w.post(LeakOpened{ID: id})
			readings := len(w.app.Leak.Shown.Test.Readings)
			w.note(id, "gauge", "1.69")
			v := w.app.Leak.Shown
			if !strings.Contains(v.Problem, c.says) || len(v.Test.Readings) != readings || v.Fields[0].Text != "1.69" {
				t.Errorf("%q, %d readings, field %q", v.Problem, len(v.Test.Readings), v.Fields[0].Text)
			}
		})
	}
}

// Everything of a running test survives a reload: readings noted and typed, the timer, the verdict; ended, it is in the history.
func TestLeak_test_survives_reloads_and_ends_in_the_history(t *testing.T) {
	w := leakWorld(t)
	w.plan("oxygen_delivery", "oxygen", "division", "0.02", "gauge", "1.7", "temperature", "20", "duration", "10")
	id := w.start()
	w.post(ReadingTyped{ID: id, Key: "gauge", Text: "1.6"})
	w.restart()
	w.at(700)
	w.post(LeakOpened{ID: id})
	if f := w.app.Leak.Shown.Fields[0]; f.Text != "1.6" {
		t.Errorf("the typed reading is %q", f.Text)
	}
	if left := w.app.Timers.Running[0].Left(w.app.Clock.Wall); left != -100_000 {
		t.Errorf("left %d ms", left)
	}
	w.note(id, "gauge", "1.2", "temperature", "20")
	w.post(JointMarked{ID: id, Joint: "hose_torch", State: "fixed"})
	w.post(LeakEnded{ID: id})
	if len(w.app.Timers.Running) != 0 {
		t.Error("the timer of an ended test runs on")
	}
	w.post(PrefTyped{Key: PrefLeakInterval, Text: "30"})
	w.restart()
	w.at(800)
	h := w.app.Leak.History
	if len(h) != 1 || len(h[0].Tests) != 1 || h[0].Tests[0].Outcome.Verdict != leak.Leaking || h[0].Due != began+30*86400_000 {
		t.Fatalf("history %+v", h)
	}
	w.post(LeakBegun{Section: "oxygen_delivery", Line: "oxygen", RetestOf: id})
	w.post(LeakPrepared{})
	if f := w.leakField("division"); f.Text != "0.02" {
		t.Errorf("the retest asks for the division again: %q", f.Text)
	}
	w.post(LeakTyped{Key: "gauge", Text: "1.7"})
	again := w.start()
	w.post(LeakOpened{ID: id})
	if v := w.app.Leak.Shown; len(v.Retests) != 1 || v.Retests[0] != again || v.Joints[0].State != "fixed" {
		t.Errorf("%+v", v.Retests)
	}
	for _, p := range w.app.leakParts(leak.OxygenDelivery, LineOxygen) {
		if _, ok := w.app.part(p); !ok {
			t.Errorf("part %s is none of the rig's", p)
		}
	}
	told := 0
	for _, g := range w.app.Rig.Groups {
		for _, p := range g.Parts {
			if strings.Contains(strings.Join(p.Facts, ", "), "Leak test ") {
				told++
			}
		}
	}
	if told != 4 {
		t.Errorf("%d parts tell of their last leak test, want regulator, hose, arrestor and torch", told)
	}
}

// Acetylene's cylinder side is judged by its gauge alone: fallen is a leak, standing still no proof.
func TestLeak_fuel_supply_of_acetylene_is_never_called_tight(t *testing.T) {
	for end, want := range map[string]leak.Verdict{"15": leak.Undecided, "13": leak.Leaking} {
		w := leakWorld(t)
		w.plan("fuel_supply", "fuel", "division", "0.5", "gauge", "15", "temperature", "20")
		id := w.start()
		w.at(3600)
		w.note(id, "gauge", end, "temperature", "20")
		if a := w.answerNow(); a.Verdict != want || !a.GaugeOnly || a.Sized() {
			t.Errorf("15 to %s bar: %+v", end, a)
		}
	}
}

// Both gauges of the whole rig count: one that was not read leaves it undecided, and where it fell shows where to look.
func TestLeak_whole_rig_needs_both_gauges(t *testing.T) {
	w := leakWorld(t)
	w.plan("whole_rig", "oxygen", "division", "1", "gauge", "100", "temperature", "20", "other", "1.7")
	w.post(LeakStarted{})
	if f := w.leakField("other_division"); f.Error == "" {
		t.Error("the delivery gauge's division is not asked for")
	}
	w.post(LeakTyped{Key: "other_division", Text: "0.02"})
	id := w.start()
	w.at(3600)
	w.note(id, "gauge", "60", "temperature", "20", "other", "1.7")
	a := w.answerNow()
	if a.Verdict != leak.Leaking || a.Finding == nil || a.Finding.Code != "open_fell" {
		t.Errorf("%+v", a)
	}
}

// A rising delivery gauge is a creeping regulator, and its verdict is on what came in.
func TestLeak_creep_is_a_leak_into_the_delivery_side(t *testing.T) {
	for end, want := range map[string]leak.Verdict{"1.7": leak.Tight, "2.3": leak.Leaking} {
		w := leakWorld(t)
		w.plan("regulator_creep", "oxygen", "division", "0.02", "gauge", "1.7", "temperature", "20")
		id := w.start()
		w.at(1800)
		w.note(id, "gauge", end, "temperature", "20")
		a := w.answerNow()
		if a.Verdict != want || want == leak.Leaking && (a.Leak.Value <= 0 || a.Losses != nil) {
			t.Errorf("1.7 to %s bar: %+v", end, a)
		}
		if joints := w.app.Leak.Shown.Joints; want == leak.Leaking && (len(joints) != 1 || joints[0].Joint.Code != "regulator_seat") {
			t.Errorf("joints %+v", joints)
		}
	}
}

// Gas passing from one line into the other through the torch is found by the two tests together.
func TestLeak_two_tests_at_once_find_gas_crossing_over(t *testing.T) {
	w := leakWorld(t)
	w.plan("oxygen_delivery", "oxygen", "division", "0.02", "gauge", "1.7", "temperature", "20")
	oxygen := w.start()
	w.plan("fuel_delivery", "fuel", "division", "0.02", "gauge", "0.3", "temperature", "20")
	fuel := w.start()
	if len(w.app.Leak.Running) != 2 || len(w.app.Timers.Running) != 2 {
		t.Fatal("not both run")
	}
	w.at(1800)
	w.note(oxygen, "gauge", "1.2", "temperature", "20")
	w.note(fuel, "gauge", "0.8", "temperature", "20")
	w.post(LeakOpened{ID: fuel})
	if a := w.answerNow(); a.Finding == nil || a.Finding.Code != "crossing" || !a.Finding.Stop {
		t.Errorf("%+v", a.Finding)
	}
}
