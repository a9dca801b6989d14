package pages

import (
	"fmt"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/pwatest"
	"torchside/pwa/state"
)

// leakBegan is the instant the tests here begin at, ms.
const leakBegan = 1_920_000_000_000

// atSecond is the time, seconds after the beginning.
func atSecond(s int64) state.ClockRead {
	return state.ClockRead{Wall: leakBegan + s*1000, Steady: s * 1000}
}

// plannedLeak leads up to the start of an oxygen delivery test of the sample rig.
func plannedLeak() []state.Msg {
	return []state.Msg{state.SampleAdded{}, atSecond(0), state.LeakBegun{Section: "oxygen_delivery", Line: "oxygen"}, state.LeakPrepared{},
		state.LeakTyped{Key: "division", Text: "0.02"}, state.LeakTyped{Key: "gauge", Text: "1.7"}, state.LeakTyped{Key: "temperature", Text: "20"}}
}

// ranLeak is a test with a second reading half an hour after the start.
func ranLeak(t *testing.T, gauge string) *asked {
	t.Helper()
	a := ask(t, append(plannedLeak(), state.LeakStarted{}, atSecond(1800))...)
	id := a.app.Leak.Open
	a.post(state.ReadingTyped{ID: id, Key: "gauge", Text: gauge}, state.ReadingTyped{ID: id, Key: "temperature", Text: "20"}, state.ReadingTaken{ID: id})
	return a
}

func leakPage(t *testing.T, a *asked) string {
	t.Helper()
	return pwatest.HTML(t, &Leak{App: a.app})
}

func TestLeak_offers_every_section_of_both_gases_by_name(t *testing.T) {
	html := leakPage(t, ask(t, state.SampleAdded{}))
	for _, act := range []string{"oxygen_delivery-oxygen", "oxygen_supply-oxygen", "whole_rig-oxygen", "regulator_creep-oxygen", "fuel_delivery-fuel", "fuel_supply-fuel", "whole_rig-fuel", "regulator_creep-fuel"} {
		pwatest.Wants(t, html, `data-act="leak-begin-`+act+`"`)
	}
	pwatest.Wants(t, html, "Test the fuel: acetylene", `data-act="leak-pref-room_volume"`, `data-act="leak-pref-allowed_leak"`, `data-act="leak-pref-leak_interval"`)
}

// Cautions stand before the steps, and the steps before the way on.
func TestLeak_preparation_begins_with_the_cautions(t *testing.T) {
	html := leakPage(t, ask(t, plannedLeak()[:3]...))
	order := []string{"No flame", "No oil", "made for oxygen service", "In this order", "regulator screws backed out", `data-act="leak-prepared"`}
	at := -1
	for _, w := range order {
		i := strings.Index(html, w)
		if i <= at {
			t.Errorf("%q is missing or stands too early", w)
		}
		at = i
	}
	fuel := leakPage(t, ask(t, state.SampleAdded{}, state.LeakBegun{Section: "fuel_supply", Line: "fuel"}))
	pwatest.Wants(t, fuel, "comes out of its solvent", "cylinder valve closed")
}

func TestLeak_start_tells_the_time_needed_and_arms_the_sound(t *testing.T) {
	a := ask(t, plannedLeak()...)
	html := leakPage(t, a)
	pwatest.Wants(t, html, `data-val="leak-need"`, "it must run", `data-val="leak.volume"`, "from memory", `data-arms="timer"`, "No browser can ring at a set time on a locked phone", `data-act="leak-gauge-up"`)
	a.post(state.LeakTyped{Key: "division", Text: "0"}, state.LeakStarted{})
	html = leakPage(t, a)
	pwatest.Wants(t, html, "Not started yet", "half of one is how far", `value="0"`)
	a = ask(t, state.SampleAdded{}, state.LeakBegun{Section: "oxygen_delivery", Line: "oxygen"}, state.LeakPrepared{}, state.PrefTyped{Key: state.PrefAllowedLeak, Text: "5"})
	pwatest.Wants(t, leakPage(t, a), "You allow more than your room carries")
}

// Word, shape and sentence of each verdict; the colour is never alone.
func TestLeak_verdict_has_a_word_a_shape_and_what_to_do(t *testing.T) {
	html := leakPage(t, ranLeak(t, "1.7"))
	pwatest.Wants(t, html, ">Tight<", "verdict-tight", `data-val="leak.smallest"`, "so far", `data-act="leak-end"`)
	pwatest.Lacks(t, html, `data-act="joint-`)
	html = leakPage(t, ranLeak(t, "1.0"))
	pwatest.Wants(t, html, ">Leaking<", "verdict-leaking", "Close the cylinder valve", `data-act="joint-hose_torch-bubbles"`, `data-val="leak.per_week"`, `data-val="leak.oxygen"`)
	if strings.Index(html, "Close the cylinder valve") > strings.Index(html, `data-val="leak.leak"`) {
		t.Error("the number stands before the warning")
	}
	a := ask(t, append(plannedLeak(), state.LeakStarted{}, atSecond(60))...)
	a.post(state.ReadingTyped{ID: a.app.Leak.Open, Key: "gauge", Text: "1.7"}, state.ReadingTyped{ID: a.app.Leak.Open, Key: "temperature", Text: "20"}, state.ReadingTaken{ID: a.app.Leak.Open})
	pwatest.Wants(t, leakPage(t, a), ">Undecided<", "verdict-undecided", "more and read again")
}

func TestLeak_ended_test_leads_to_the_next(t *testing.T) {
	a := ranLeak(t, "1.0")
	id := a.app.Leak.Open
	a.post(state.LeakEnded{ID: id})
	html := leakPage(t, a)
	pwatest.Wants(t, html, `data-act="leak-retest"`, `data-act="leak-drop"`)
	pwatest.Lacks(t, html, "so far", `data-act="leak-note"`)
	a.post(state.PrefTyped{Key: state.PrefLeakInterval, Text: "30"}, state.LeakClosed{})
	pwatest.Wants(t, leakPage(t, a), `data-val="leak-history-oxygen_delivery-oxygen"`, "due in 30 days", `data-act="leak-open-`+id+`"`, "leaking")
}

func TestTimerBar_shows_what_is_left_and_rings_for_the_eye(t *testing.T) {
	a := ask(t, append(plannedLeak(), state.LeakTyped{Key: "duration", Text: "10"}, state.LeakStarted{}, atSecond(15))...)
	bar := func() string {
		return pwatest.HTML(t, &TimerBar{Timers: a.app.Timers, Tests: a.app.Leak.Running, Now: a.app.Clock.Wall})
	}
	pwatest.Wants(t, bar(), "9:45 left", "/leak?test="+a.app.Leak.Open)
	pwatest.Lacks(t, bar(), "alarm-frame", "I heard it")
	a.post(state.PageHidden{}, state.PageShown{}, atSecond(600+7*60))
	pwatest.Wants(t, bar(), "ended 7 min ago", "alarm-frame", "I heard it", `role="alert"`)
	a.post(state.TimerAcknowledged{ID: a.app.Timers.Running[0].ID})
	pwatest.Lacks(t, bar(), "ended", "alarm-frame")
	a = ask(t, append(plannedLeak(), state.LeakStarted{}, state.PageHidden{}, state.PageShown{}, atSecond(-30))...)
	pwatest.Wants(t, bar(), "stands before its start")
}

// What the device can do is said as it is.
func TestTimer_says_honestly_what_will_be_heard(t *testing.T) {
	for _, c := range []struct{ awake, sound, says string }{
		{state.AwakeHeld, state.SoundReady, "The screen is kept on. Sound is ready."},
		{state.AwakeRefused, state.SoundBlocked, "does not keep the screen on now. Sound is blocked until you touch the page."},
		{state.AwakeNone, "", "cannot keep the screen on. Sound is off"},
	} {
		if got := deviceWords(state.Timers{Awake: c.awake, Sound: c.sound}); !strings.Contains(got, c.says) || !strings.Contains(got, "set a phone alarm too") {
			t.Errorf("%q", got)
		}
	}
}

// Each control acts on its own test and joint.
func TestLeak_controls_post_their_own_test(t *testing.T) {
	view := state.LeakView{Test: state.LeakTest{ID: "t1"}}
	for name, c := range map[string]struct {
		press func(app.Context)
		want  state.Msg
	}{
		"reading": {func(ctx app.Context) { (&leakTest{View: view}).onTyped(ctx, "gauge", "1") }, state.ReadingTyped{ID: "t1", Key: "gauge", Text: "1"}},
		"joint":   {func(ctx app.Context) { (&jointRow{ID: "t1"}).onChoose(ctx, "fixed") }, state.JointMarked{ID: "t1", State: "fixed"}},
		"plan":    {func(ctx app.Context) { (&leakStart{}).onTyped(ctx, "gauge", "1") }, state.LeakTyped{Key: "gauge", Text: "1"}},
		"choice":  {func(ctx app.Context) { (&leakStart{}).onChosen(ctx, "thermometer", "2") }, state.LeakChosen{Key: "thermometer", Value: "2"}},
		"pref":    {func(ctx app.Context) { (&Leak{}).onPref(ctx, "room_volume", "40") }, state.PrefTyped{Key: "room_volume", Text: "40"}},
	} {
		got := pwatest.Messages(t, c.press)
		if len(got) != 1 || got[0] != c.want {
			t.Errorf("%s posts %#v, want %#v", name, got, c.want)
		}
	}
}

// A long history does not lengthen the page: a button brings what is older, and the words say what the drawing leaves out.
func TestLeakHistory_showsTheNewestAndOffersOlder(t *testing.T) {
	h := state.LeakHistory{Section: "oxygen_delivery", Gas: "oxygen", GasName: "oxygen", Ratio: 1, Total: 60, Listed: 10}
	for i := range state.LeakTestsPlotted {
		h.Tests = append(h.Tests, state.LeakTest{ID: fmt.Sprintf("t%d.", i), Start: int64(i) * 86400_000, Outcome: &state.LeakOutcome{Verdict: "tight"}})
	}
	html := pwatest.HTML(t, &leakHistory{History: h, Allowed: 1})
	pwatest.Wants(t, html, `data-act="leak-more-oxygen_delivery-oxygen"`, "50 older ones", "the newest 40 of 60 tests", `data-act="leak-open-t30."`, `data-act="leak-open-t39."`)
	pwatest.Lacks(t, html, `data-act="leak-open-t29."`)
	h.Total, h.Tests, h.Listed = 2, h.Tests[:2], 2
	pwatest.Lacks(t, pwatest.HTML(t, &leakHistory{History: h, Allowed: 1}), "leak-more-", "leak-plotted")
}
