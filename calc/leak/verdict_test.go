package leak_test

import (
	"strings"
	"testing"

	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

// Tight only below the allowed leak with the whole band, leaking only when certain and possibly above it, else undecided.
func TestJudge_followsTheRule(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      leak.Verdict
	}{
		{-1, 0.9, leak.Tight}, {0.1, 0.9, leak.Tight}, {-2, -1, leak.Tight},
		{-1, 1.1, leak.Undecided}, {0, 1.1, leak.Undecided}, {-1, 1, leak.Undecided}, {0.5, 1, leak.Undecided},
		{0.1, 1.1, leak.Leaking}, {2, 3, leak.Leaking},
	} {
		if got := leak.Judge(units.Band{Value: (c.low + c.high) / 2, Low: c.low, High: c.high}, 1); got != c.want {
			t.Errorf("%v to %v against 1 is %s, want %s", c.low, c.high, got, c.want)
		}
	}
}

// Where the naive test (watch the gauge) goes wrong and ours does not.
func TestTheNaiveVerdictIsWrongAndOursRight(t *testing.T) {
	t.Run("a tight oxygen cylinder cools from 25 to 5 °C and falls by 14 bar", func(t *testing.T) {
		test := leak.Test{Gas: gas.Oxygen, Volume: 50 * litre, PressureError: 2e5, TemperatureError: 1,
			Readings: leak.Between(bar(150), celsius(25), bar(135.8), celsius(5), 12*hour)}
		got := result(t, test)
		if got.Verdict == leak.Leaking || got.CertainLeak || got.Movement != leak.Held {
			t.Errorf("ours: %s, %+v", got.Verdict, got.Leak)
		}
		if fall := float64(bar(150)-*got.TightPressure) / 1e5; fall < 13.5 || fall > 14.5 {
			t.Errorf("a tight cylinder falls by %.1f bar, want about 14", fall)
		}
		naive := test
		naive.Readings = leak.Between(bar(150), celsius(25), bar(135.8), celsius(25), 12*hour)
		if v := result(t, naive).Verdict; v != leak.Leaking {
			t.Errorf("without temperatures the gauge says %s, want leaking: the case shows nothing", v)
		}
		// An ideal gas would fall by 10.1 bar only, so the ideal rate is 4 bar of 50 L in 12 h: 17 L/h of nothing.
		ideal := 0.05 / 12 * (float64(bar(150))/298.15 - float64(bar(135.8))/278.15) * 288.15 / 101325 * 1000
		if ideal < 10 {
			t.Errorf("the ideal gas sees %.1f L/h, want far above zero: the case shows nothing", ideal)
		}
	})
	t.Run("a warming hose hides a leak behind a still gauge", func(t *testing.T) {
		test := hoseTest(2, 30, 300)
		got := result(t, test)
		if got.Verdict != leak.Leaking || got.Movement != leak.Fell {
			t.Errorf("ours: %s, %+v", got.Verdict, got.Leak)
		}
		naive := test
		naive.Readings = leak.Between(bar(2), celsius(20), bar(2), celsius(20), 300)
		if v := result(t, naive).Verdict; v == leak.Leaking {
			t.Errorf("without temperatures the gauge says %s: the case shows nothing", v)
		}
	})
}

// A small leak is reported as one though the verdict is tight.
func TestASmallButCertainLeakIsReported(t *testing.T) {
	test := hoseTest(1.9, 20, 4*hour)
	got := result(t, test)
	if got.Verdict != leak.Tight || !got.SmallLeak() || got.Leak.Low <= 0 {
		t.Fatalf("%+v", got)
	}
	if there, _ := code(got.Notes, "small_certain_leak"); !there {
		t.Errorf("notes are %+v", got.Notes)
	}
}

// A test shorter than needed is undecided and says how much longer.
func TestATooShortTestSaysHowMuchLonger(t *testing.T) {
	got := result(t, hoseTest(2, 20, 60))
	if got.Verdict != leak.Undecided || got.MoreTime <= 0 || got.TimeNeeded < got.MoreTime {
		t.Fatalf("%+v", got)
	}
	for _, n := range got.Notes {
		if n.Code == "too_short" && strings.Contains(n.Text, "more") {
			return
		}
	}
	t.Errorf("notes are %+v", got.Notes)
}

// A temperature that was not read widens the band and says so; none at all widens it more.
func TestMissingTemperaturesWidenTheBandAndSaySo(t *testing.T) {
	all, one, none := hoseTest(1.9, 20, 600), hoseTest(1.9, 20, 600), hoseTest(1.9, 20, 600)
	one.Readings[1].Temperature = nil
	none.Readings[0].Temperature, none.Readings[1].Temperature = nil, nil
	width := func(test leak.Test) float64 { b := result(t, test).Leak; return b.High - b.Low }
	if !(width(all) < width(one) && width(one) < width(none)) {
		t.Errorf("widths %v, %v, %v", width(all), width(one), width(none))
	}
	for _, test := range []leak.Test{one, none} {
		got := result(t, test)
		if there, _ := code(got.Notes, "temperature_not_read"); !there || got.TightPressure != nil {
			t.Errorf("%+v", got)
		}
	}
	if there, _ := code(result(t, all).Notes, "temperature_not_read"); there {
		t.Error("all temperatures were read")
	}
	// The true state of any garage lies in the band: 15 K of warming apart, that is what the figures of the assumption allow.
	for _, c := range [][2]float64{{20, 20}, {20, 25}, {25, 20}, {1, 1}, {38, 38}} {
		truth := hoseTest(1.9, 0, 600)
		truth.Readings = leak.Between(bar(2), celsius(c[0]), bar(1.9), celsius(c[1]), 600)
		v, b := result(t, truth).Leak.Value, result(t, none).Leak
		if v < b.Low || v > b.High {
			t.Errorf("at %v °C the leak is %v, outside %+v", c, v, b)
		}
	}
	// A large leak in a cold or a hot garage: there the level counts, not the drift.
	for _, c := range []float64{1, 38} {
		truth, unread := hoseTest(0.3, c, 600), hoseTest(0.3, c, 600)
		*truth.Readings[0].Temperature = celsius(c)
		unread.Readings[0].Temperature, unread.Readings[1].Temperature = nil, nil
		v, b := result(t, truth).Leak.Value, result(t, unread).Leak
		if v < b.Low || v > b.High {
			t.Errorf("at %v °C the leak is %v, outside %+v", c, v, b)
		}
	}
	for _, n := range result(t, one).Notes {
		if n.Code == "temperature_not_read" && !strings.Contains(n.Text, "taken as 20 °C") {
			t.Errorf("the note says %q", n.Text)
		}
	}
}

// Gas that comes in can hide a leak: such a test never ends in tight once the gain is larger than the allowed leak.
func TestAGainIsNeverCalledTight(t *testing.T) {
	got := result(t, hoseTest(2.5, 20, 600))
	if !got.GasCameIn || got.Verdict != leak.Undecided || got.Movement != leak.Rose || got.MoreTime != 0 {
		t.Fatalf("%+v", got)
	}
	if _, first := code(got.Notes, "gas_came_in"); !first {
		t.Errorf("notes are %+v", got.Notes)
	}
	in, verdict := got.Creep()
	if verdict != leak.Leaking || in.Low <= 0 || in.Value != -got.Leak.Value {
		t.Errorf("as creep: %s, %+v", verdict, in)
	}
}

// A section that ran empty over night lost little an hour on average and may have lost it in a minute: never tight.
func TestASectionThatRanEmptyIsNeverTight(t *testing.T) {
	got := result(t, hoseTest(0, 20, 48*hour))
	if !got.Emptied || got.Verdict != leak.Leaking || got.Leak.Value > float64(leak.DefaultAllowed) {
		t.Fatalf("%+v", got)
	}
	if there, _ := code(got.Notes, "emptied"); !there {
		t.Errorf("notes are %+v", got.Notes)
	}
}

// Cautions come first, by gas.
func TestNotesPutCautionsFirst(t *testing.T) {
	oxygen := result(t, hoseTest(1, 20, 600))
	if _, first := code(oxygen.Notes, "leaking"); !first || !strings.Contains(oxygen.Notes[0].Text, "clothes") || !oxygen.Notes[0].Stop {
		t.Errorf("notes are %+v", oxygen.Notes)
	}
	warmed := leak.Test{Gas: gas.Acetylene, Volume: 0.2 * litre, PressureError: 2000, TemperatureError: 0.5,
		Readings: leak.Between(bar(1.0), celsius(10), bar(1.1), celsius(25), 600)}
	if _, first := code(result(t, warmed).Notes, "acetylene_above_limit"); !first {
		t.Errorf("notes are %+v", result(t, warmed).Notes)
	}
}

// A barometer that moved looks like a leak: its error widens the band, and a long test without it says so.
func TestTheBarometerCounts(t *testing.T) {
	test := hoseTest(2, 20, 12*hour)
	if there, _ := code(result(t, test).Notes, "barometer_not_read"); !there {
		t.Error("12 h without a barometer is not mentioned")
	}
	wide := test
	wide.BarometerError = 1000
	a, b := result(t, test), result(t, wide)
	if b.SmallestDetectable <= a.SmallestDetectable {
		t.Error("an unknown barometer makes the test sharper")
	}
	if there, _ := code(b.Notes, "barometer_not_read"); there {
		t.Error("the barometer was allowed for")
	}
}

// When waiting is no use the advice is to change the test: a cylinder gauge of 2 bar never sees 0.2 L/h.
func TestAHopelessWaitIsNotAdvised(t *testing.T) {
	test := leak.Test{Gas: gas.Oxygen, Volume: 50 * litre, PressureError: 2e5, TemperatureError: 1, Readings: leak.Between(bar(150), celsius(20), bar(150), celsius(20), 3600)}
	got := result(t, test)
	for _, n := range got.Notes {
		if n.Code == "too_short" && strings.Contains(n.Text, "finer gauge") {
			return
		}
	}
	t.Errorf("notes are %+v", got.Notes)
}
