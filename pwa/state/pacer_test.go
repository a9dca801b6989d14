package state

import (
	"math"
	"math/rand"
	"strconv"
	"strings"
	"testing"
)

// paced is the newest order to beat since seen.
func (w *world) paced() SetPace {
	w.t.Helper()
	for i := len(w.effects) - 1; i >= 0; i-- {
		if p, ok := w.effects[i].(SetPace); ok {
			return p
		}
	}
	w.t.Fatal("no word to the device")
	return SetPace{}
}

// A beat is the step divided by the speed, whatever the units: 120 mm/min is 12 beats a minute of 10 mm; 6 in/min is 24 of a quarter inch.
func TestPacer_beatIsStepBySpeed(t *testing.T) {
	for _, c := range []struct {
		speed, step string
		every       float64
		accent      int
	}{
		{"120", "10mm", 5, 5}, {"120 mm/min", "5mm", 2.5, 2}, {"6 in/min", "1/4in", 2.5, 4}, {"6 in/min", "1/8in", 1.25, 2}, {"2 mm/s", "10mm", 5, 5},
	} {
		w := leakWorld(t)
		w.post(PaceStep{Step: c.step})
		w.post(PaceTyped{Key: paceSpeed, Text: c.speed})
		w.post(PacePressed{})
		p := w.paced()
		if math.Abs(p.Seconds-c.every) > 1e-9*c.every || p.Accent != c.accent || !p.Sound {
			t.Errorf("%s by %s: %+v, want %v s", c.speed, c.step, p, c.every)
		}
	}
	random := rand.New(rand.NewSource(8))
	for range 50 {
		speed := math.Round(50+random.Float64()*1000) / 60e3
		w := leakWorld(t)
		w.post(PaceStep{Step: paceSteps[random.Intn(len(paceSteps))].key})
		w.post(PaceTyped{Key: paceSpeed, Text: strconv.FormatFloat(speed*60e3, 'f', -1, 64) + " mm/min"})
		p := w.app.Pacer
		if p.Every > 0 && math.Abs(p.Every*speed-p.step().metres) > 1e-12 {
			t.Errorf("%v s at %v m/s do not make %s", p.Every, speed, p.Step)
		}
	}
}

// What cannot be beaten says why and beats nothing; the text stays.
func TestPacer_refuses(t *testing.T) {
	for _, c := range []struct{ speed, step, says string }{
		{"0", "10mm", "allowed"}, {"5000", "10mm", "allowed"}, {"quick", "10mm", "allowed"}, {"", "10mm", "type the speed"},
		{"2500", "5mm", "too fast"}, {"9", "10mm", "allowed"}, {"8 in/min", "", ""},
	} {
		w := leakWorld(t)
		w.post(PaceStep{Step: c.step})
		w.post(PaceTyped{Key: paceSpeed, Text: c.speed})
		w.post(PacePressed{})
		p := w.app.Pacer
		if text := p.Fields[0].Error + p.Problem; !strings.Contains(text, c.says) || (c.says != "") != (text != "") || p.Fields[0].Text != c.speed {
			t.Errorf("%q: says %q", c.speed, text)
		}
		if runs := w.paced().Seconds > 0; runs != (c.says == "") {
			t.Errorf("%q: beats %v", c.speed, runs)
		}
	}
}

// A change while it beats is followed at once; a speed that cannot be, stops it, and so does leaving the page.
func TestPacer_followsChanges(t *testing.T) {
	w := leakWorld(t)
	w.post(PaceTyped{Key: paceSpeed, Text: "120"})
	w.post(PacePressed{})
	w.post(PaceTyped{Key: paceSpeed, Text: "240"})
	if p := w.paced(); p.Seconds != 2.5 {
		t.Errorf("%+v", p)
	}
	w.post(PaceSignal{Signal: "sound"})
	w.post(PaceSignal{Signal: "flash"})
	w.post(PaceSignal{Signal: "shake"})
	if p := w.paced(); p.Sound || p.Flash || p.Shake || !strings.Contains(w.app.Pacer.Problem, "all off") {
		t.Errorf("%+v %q", p, w.app.Pacer.Problem)
	}
	w.post(PaceLeft{})
	if w.app.Pacer.Runs || w.paced().Seconds != 0 {
		t.Error("it goes on when the page is left")
	}
	w.restart()
	if p := w.app.Pacer; p.Runs || p.Sound || p.Fields[0].Text != "240" {
		t.Errorf("after a reload %+v", p)
	}
}

// The stopwatch goes on over a reload; length and time give the speed, and all of it is on the sheet that is begun with it.
func TestBead_goesOnASheet(t *testing.T) {
	w := leakWorld(t)
	w.at(10)
	w.post(BeadPressed{})
	w.restart()
	w.at(70)
	if !w.app.Watching() {
		t.Fatal("the watch stands after a reload")
	}
	w.post(BeadPressed{})
	w.post(PaceTyped{Key: beadLength, Text: "12 cm"})
	if p := w.app.Pacer; math.Abs(p.SpeedM-0.12/60) > 1e-9 || p.Speed != "120 mm/min" {
		t.Fatalf("%v %q", p.SpeedM, p.Speed)
	}
	w.post(BeadTaken{})
	f := w.app.Journal.Editor
	if f == nil || f.Speed != "120 mm/min" || f.texts["travel_length_m"] != "12 cm" || !strings.HasPrefix(f.texts["travel_s"], "60") {
		t.Fatalf("%+v", f)
	}
	w.post(PaceTyped{Key: beadLength, Text: "24 cm"})
	w.post(BeadTaken{})
	if f := w.app.Journal.Editor; f.Speed != "240 mm/min" {
		t.Errorf("speed %q", f.Speed)
	}
	w.post(UndoRequested{})
	if f := w.app.Journal.Editor; f.texts["travel_length_m"] != "12 cm" || f.Speed != "120 mm/min" {
		t.Error("what stood on the sheet before does not come back")
	}
	w.post(BeadPaced{})
	if w.app.Pacer.Every != 2.5 {
		t.Errorf("beats every %v s", w.app.Pacer.Every)
	}
}

// Without length or time there is no speed, and nothing goes on a sheet.
func TestBead_needsLengthAndTime(t *testing.T) {
	for _, c := range [][2]string{{"", "60"}, {"100", ""}, {"0", "60"}, {"100", "0"}, {"long", "60"}} {
		w := leakWorld(t)
		w.post(PaceTyped{Key: beadLength, Text: c[0]})
		w.post(PaceTyped{Key: beadTime, Text: c[1]})
		w.post(BeadTaken{})
		w.post(BeadPaced{})
		if w.app.Pacer.Speed != "" || w.app.Journal.Editor != nil {
			t.Errorf("%q gave %q", c, w.app.Pacer.Speed)
		}
	}
}
