package state

import (
	"slices"
	"strings"
	"testing"

	"torchside/calc/calctest"
)

// started starts a timer of the owner's own by the page: what for, then key, text, key, text …
func (w *world) started(purpose string, texts ...string) Timer {
	w.t.Helper()
	w.post(TimerPurposeChosen{Purpose: purpose})
	for i := 0; i < len(texts); i += 2 {
		w.post(TimerTyped{Key: texts[i], Text: texts[i+1]})
	}
	n := len(w.app.Timers.Running)
	w.post(TimerStarted{})
	if len(w.app.Timers.Running) != n+1 {
		w.t.Fatalf("not started: %q %+v", w.app.Timers.Form.Problem, w.app.Timers.Form.Fields)
	}
	return w.app.Timers.Running[n]
}

// The published times are those of the reference table, the longest first, each with a source of its row.
func TestTimerRules_asPrinted(t *testing.T) {
	for key, rows := range map[string][]string{PurposeFire: {"HOT-2", "HOT-1"}, PurposeSettle: {"ACE-S2", "ACE-S1", "ACE-S4"}} {
		rules := purposeOf(key).rules
		if len(rules) != len(rows) {
			t.Fatalf("%s has %d rules, want %d", key, len(rules), len(rows))
		}
		for i, id := range rows {
			row := calctest.Where(t, calctest.Reference(t, "limits.csv"), "id", id)[0]
			if got, want := float64(rules[i].Seconds), row.Number("value_us")*60; got != want {
				t.Errorf("%s: %v s, printed %v s", id, got, want)
			}
			if first := strings.FieldsFunc(row.Text("source"), func(r rune) bool { return r == ';' || r == ',' })[0]; !strings.Contains(rules[i].Source, first) {
				t.Errorf("%s: source %q lacks %q", id, rules[i].Source, first)
			}
		}
	}
}

// The page takes the first rule when no time is typed, and says of each where it comes from: so of every timer there is.
func TestTimerRules_longestFirstWithTheirSources(t *testing.T) {
	for _, p := range purposes {
		if p.title == "" || (p.caution == "") != (p.source == "") {
			t.Errorf("%s: title %q, caution %q of %q", p.key, p.title, p.caution, p.source)
		}
		for i, r := range p.rules {
			if r.Seconds <= 0 || r.Text == "" || r.Source == "" {
				t.Errorf("%s: a rule of %d s, %q of %q", p.key, r.Seconds, r.Text, r.Source)
			}
			if i > 0 && r.Seconds > p.rules[i-1].Seconds {
				t.Errorf("%s: %q is longer than the rule before it", p.key, r.Text)
			}
		}
	}
}

// An empty time means the longest rule; twice the time a cylinder lay counts among them once it is longer.
func TestTimer_defaultsToTheLongestRule(t *testing.T) {
	for _, c := range []struct {
		purpose string
		texts   []string
		want    int64 // min
	}{
		{PurposeFire, nil, 60},
		{PurposeSettle, nil, 120},
		{PurposeSettle, []string{timerLain, "20 min"}, 120},
		{PurposeSettle, []string{timerLain, "3 h"}, 360},
		{PurposeCool, []string{timerRun, "90 s"}, 0},
		{PurposeFree, []string{timerRun, "1.5 h", timerName, "Glue"}, 90},
	} {
		w := leakWorld(t)
		timer := w.started(c.purpose, c.texts...)
		if got := timer.Duration / 60000; c.want > 0 && got != c.want || c.want == 0 && timer.Duration != 90_000 {
			t.Errorf("%s %q runs %d min, want %d", c.purpose, c.texts, got, c.want)
		}
	}
	w := leakWorld(t)
	w.post(TimerPurposeChosen{Purpose: PurposeSettle})
	w.post(TimerTyped{Key: timerLain, Text: "50 min"})
	var order []int64
	for _, r := range w.app.Timers.Form.Rules {
		order = append(order, r.Seconds/60)
	}
	if !slices.Equal(order, []int64{120, 100, 45, 30}) {
		t.Errorf("rules stand as %v", order)
	}
}

// Nothing, nothing at all, a week and nonsense are refused with what was read and what is allowed; the text stays, also after a reload.
func TestTimer_refusesBadTimes(t *testing.T) {
	for _, text := range []string{"0", "0 s", "4 s", "10000", "10000 min", "-5", "soon", "73 h", ""} {
		w := leakWorld(t)
		w.post(TimerPurposeChosen{Purpose: PurposeFree})
		w.post(TimerTyped{Key: timerRun, Text: text})
		w.post(TimerStarted{})
		if n := len(w.app.Timers.Running); n != 0 {
			t.Errorf("%q started a timer", text)
		}
		w.restart()
		w.post(TimerStarted{})
		f := w.app.Timers.Form
		if f.Fields[0].Text != text || f.Fields[0].Error == "" || f.Problem == "" || f.Purpose != PurposeFree {
			t.Errorf("%q: %+v %q", text, f.Fields[0], f.Problem)
		}
		if text != "" && text != "soon" && !strings.Contains(f.Fields[0].Error, "0.1 to 4320 min") {
			t.Errorf("%q: %q does not say what is allowed", text, f.Fields[0].Error)
		}
	}
	w := leakWorld(t)
	w.post(TimerPurposeChosen{Purpose: PurposeFree})
	w.post(TimerTyped{Key: timerRun, Text: "5"})
	w.post(TimerTyped{Key: timerName, Text: strings.Repeat("x", 61)})
	w.post(TimerStarted{})
	if len(w.app.Timers.Running) != 0 || !strings.Contains(firstErrorText(w.app.Timers.Form.Fields), "61 letters") {
		t.Error("a name too long for the bar was taken")
	}
}

func firstErrorText(fields []FormField) string {
	for _, f := range fields {
		if f.Error != "" {
			return f.Error
		}
	}
	return ""
}

// A second timer of a name is told apart, by eye and by ear; the form says so before.
func TestTimer_ofATakenNameIsNumbered(t *testing.T) {
	w := leakWorld(t)
	w.started(PurposeFree, timerRun, "5", timerName, "Vise")
	w.post(TimerTyped{Key: timerName, Text: " vise "})
	if named := w.app.Timers.Form.Named; !strings.Contains(named, "“vise (2)”") {
		t.Errorf("form says %q", named)
	}
	w.started(PurposeFree, timerRun, "5", timerName, " vise ")
	w.started(PurposeFree, timerRun, "5", timerName, "VISE")
	var names []string
	for _, one := range w.app.Timers.Running {
		names = append(names, one.Label)
	}
	if want := []string{"Vise", "vise (2)", "VISE (3)"}; !slices.Equal(names, want) {
		t.Errorf("%q, want %q", names, want)
	}
}

// A time below a published one is taken with a caution that names it.
func TestTimer_warnsOfLessThanARule(t *testing.T) {
	w := leakWorld(t)
	w.post(TimerPurposeChosen{Purpose: PurposeFire})
	if w.app.Timers.Form.Less != "" {
		t.Error("the longest rule is called short")
	}
	w.post(TimerTyped{Key: timerRun, Text: "30"})
	if less := w.app.Timers.Form.Less; !strings.Contains(less, "1 h") || !strings.Contains(less, "NFPA 51B") {
		t.Errorf("%q", less)
	}
}

// A fire watch asks for its rounds: by a short ring when one is due, ahead of time for the device, once each, and no more once it is over.
func TestTimer_asksForRounds(t *testing.T) {
	w := leakWorld(t)
	w.started(PurposeFire, timerEvery, "15")
	if first := w.app.Timers.Running[0]; first.Every != 15*60_000 || first.RoundDue(began+899_000) {
		t.Fatalf("%+v", first)
	}
	w.at(1)
	w.seen()
	w.at(899)
	w.at(901)
	w.at(902)
	if rings := w.rings(); len(rings) != 1 || !rings[0].Short || !w.app.Timers.Running[0].RoundDue(began+902_000) {
		t.Errorf("rings %+v", rings)
	}
	w.post(TimerRound{ID: w.app.Timers.Running[0].ID})
	w.restart()
	w.at(903)
	if timer := w.app.Timers.Running[0]; timer.RoundDue(w.app.Clock.Wall) || len(timer.Rounds) != 1 || timer.Rounds[0] != 902_000 {
		t.Errorf("%+v", timer)
	}
	w.at(1801)
	if !w.app.Timers.Running[0].RoundDue(w.app.Clock.Wall) {
		t.Error("the second round is not asked for")
	}
	w.at(3600)
	if w.app.Timers.Running[0].RoundDue(w.app.Clock.Wall) {
		t.Error("a round is asked for after the end")
	}
}

// The device is told of the rounds that are still to come.
func TestTimer_tellsTheDeviceOfRounds(t *testing.T) {
	timer := Timer{State: TimerRunning, Start: began, Duration: 3600_000, Every: 900_000}
	var in []int64
	for _, a := range timer.roundAlarms(began + 1000_000) {
		in = append(in, a.In)
	}
	if want := []int64{800_000, 1700_000}; !slices.Equal(in, want) {
		t.Errorf("rounds in %v ms, want %v: the one at the end is the end's own", in, want)
	}
}

// A timer stopped too early runs on when that is taken back, as if it had never been stopped.
func TestTimer_stoppedCanBeTakenBack(t *testing.T) {
	w := leakWorld(t)
	timer := w.started(PurposeFire)
	w.at(100)
	w.post(TimerEnded{ID: timer.ID})
	if len(w.app.Timers.Running) != 0 || len(w.app.Timers.Ended) != 1 || w.app.Timers.Ended[0].Ran(0) != 100_000 {
		t.Fatalf("%+v", w.app.Timers.Ended)
	}
	w.post(UndoRequested{})
	if left := w.app.Timers.Running[0].Left(began + 200_000); left != 3400_000 {
		t.Errorf("left %d", left)
	}
}

// The clock set back while the app was closed: the timer says so, and can begin again.
func TestTimer_beginsAgainWhenTheClockWasSetBack(t *testing.T) {
	w := leakWorld(t)
	timer := w.started(PurposeCool, timerRun, "10")
	w.restart()
	w.at(-3600)
	if !w.app.Timers.Running[0].Before(w.app.Clock.Wall) {
		t.Fatal("not noticed")
	}
	w.post(TimerRestarted{ID: timer.ID})
	if left := w.app.Timers.Running[0].Left(w.app.Clock.Wall); left != 600_000 {
		t.Errorf("left %d", left)
	}
}

// The reminder of a lit torch is off until it is wanted, asks again after every answer, and leads to the fire watch.
func TestTorch_reminderAsksUntilItIsOut(t *testing.T) {
	w := leakWorld(t)
	w.post(TorchLit{})
	if len(w.app.Timers.Running) != 0 {
		t.Fatal("it runs although nobody has switched it on")
	}
	w.post(TorchChosen{Minutes: "10"})
	w.post(TorchLit{})
	w.seen()
	w.at(600)
	if len(w.rings()) != 1 {
		t.Fatal("it does not ring")
	}
	w.at(660)
	w.post(TorchLit{})
	if n := len(w.app.Timers.Running); n != 1 || w.app.Timers.Running[0].Left(w.app.Clock.Wall) != 600_000 {
		t.Fatalf("%d timers: %+v", n, w.app.Timers.Running)
	}
	w.seen()
	w.at(1260)
	if len(w.rings()) != 1 {
		t.Error("it rings only once in all")
	}
	w.post(TorchOut{})
	if _, lit := w.app.Timers.LitTimer(); lit || w.app.Timers.Form.Purpose != PurposeFire {
		t.Error("the torch still counts as lit, or no fire watch is offered")
	}
}

// A store that refuses to keep the timer: it is said, what was typed stays, and it can be started again; the refused start is not made
// later, when its time would be wrong.
func TestTimer_refusedByTheStoreIsNotStartedLater(t *testing.T) {
	w := leakWorld(t)
	w.fail = errNoDisk
	w.post(TimerPurposeChosen{Purpose: PurposeFire})
	w.post(TimerTyped{Key: timerName, Text: "Shed"})
	w.post(TimerStarted{})
	if f := w.app.Timers.Form; !strings.Contains(f.Problem, "Not started") || f.Busy || f.texts[timerName] != "Shed" {
		t.Fatalf("%+v", f)
	}
	w.fail = nil
	w.post(RetryRequested{})
	if len(w.app.Timers.Running) != 0 {
		t.Error("it was started by the second try to save")
	}
	w.post(TimerStarted{})
	if len(w.app.Timers.Running) != 1 {
		t.Error("it cannot be started again")
	}
}

// The purge of a line is the volume of its hose at the working pressure, five times, at the flow of the card.
func TestTimer_purgeByHoseAndFlow(t *testing.T) {
	w := leakWorld(t)
	for _, one := range [][2]string{{"work", "weld"}, {"metal", "mild_steel"}, {"joint", "butt"}} {
		w.post(SetupChosen{Field: one[0], Value: one[1]})
	}
	w.post(SetupTyped{Field: "thickness", Text: "3 mm"})
	c := w.app.Setup.Card
	if c == nil {
		t.Fatal("no card")
	}
	w.post(TimerPurposeChosen{Purpose: PurposePurge})
	rules := w.app.Timers.Form.Rules
	if len(rules) != 2 || rules[0].Seconds < rules[1].Seconds {
		t.Fatalf("%+v", rules)
	}
	for _, r := range rules {
		if r.Seconds < 10 || r.Seconds > 600 {
			t.Errorf("%s takes %d s", r.Text, r.Seconds)
		}
	}
	w.post(SampleRemoved{})
	w.post(TimersShown{})
	if len(w.app.Timers.Form.Rules) != 0 {
		t.Error("a time without a hose")
	}
}
