package state

import (
	"strings"
	"testing"
	"time"

	"torchside/storage"
)

// oxygenWorld has one oxygen cylinder of 40 L, on a day.
func oxygenWorld(t *testing.T, day string, more ...string) (*world, string) {
	t.Helper()
	w := dated(t, day)
	w.add(KindCylinder, LineOxygen, append([]string{"gas", "oxygen", "size", "", "water_volume", "40 L", "gauge_pressure", "150 bar"}, more...)...)
	return w, w.app.parts(KindCylinder)[0].ID
}

// noted types a reading and notes it.
func (w *world) noted(id, value, job string) {
	w.t.Helper()
	w.post(CylinderTyped{ID: id, Key: logValue, Text: value})
	w.post(CylinderTyped{ID: id, Key: logNote, Text: job})
	w.post(CylinderNoted{ID: id})
}

func (w *world) cylinderView() CylinderView { return w.app.Cylinders.Cylinders[0] }

// Readings over time tell what each job used, how long the gas lasts and what a month costs; the rig has the newest reading. 40 L of oxygen
// at 150 bar and 20 °C hold about 6.4 m³ and at 90 bar 3.8 m³ (testdata/reference/oxygen_pv.csv agrees within 1 %): 2.6 m³ in 30 days, so
// the rest lasts about 44 days.
func TestCylinderLog_forecast(t *testing.T) {
	w, id := oxygenWorld(t, "2031-05-01", "fill_price", "60", "filled_to", "150 bar", "rent", "9")
	w.noted(id, "150", "")
	if v := w.cylinderView(); !strings.Contains(v.Forecast, "a day or more apart") || v.Left == "" {
		t.Errorf("%+v", v)
	}
	w.on("2031-05-16")
	w.noted(id, "120 bar", "gate hinge")
	w.on("2031-05-31")
	w.noted(id, "90", "trailer")
	v := w.cylinderView()
	if !strings.Contains(v.Forecast, "in 30 days") || !strings.Contains(v.Forecast, "2031-07-") || len(v.Lines) != 3 {
		t.Errorf("%q %+v", v.Forecast, v.Lines)
	}
	if v.Lines[0].Note != "trailer" || !strings.HasSuffix(v.Lines[0].Used, "used") {
		t.Errorf("%+v", v.Lines[0])
	}
	if got := strings.Join(v.Cost, " "); !strings.Contains(got, "Rent: 9.00") || !strings.Contains(got, "Together") {
		t.Errorf("cost %q", got)
	}
	if p, _ := w.app.part(id); p.Values["gauge_pressure"].SI != 90e5 {
		t.Errorf("the rig has %v", p.Values["gauge_pressure"])
	}
	w.on("2031-06-01")
	w.noted(id, "150", "")
	if v := w.cylinderView(); !strings.Contains(v.Lines[0].Used, "filled") || !strings.Contains(v.Forecast, "since the last fill") {
		t.Errorf("%+v", v.Lines[0])
	}
	w.post(CylinderEntryRemoved{ID: w.cylinderView().Lines[0].ID})
	if len(w.cylinderView().Lines) != 3 {
		t.Error("not deleted")
	}
	w.post(UndoRequested{})
	if len(w.cylinderView().Lines) != 4 {
		t.Error("not taken back")
	}
}

// Bad readings and a clock set back are refused; nothing is written, the text stays also over a reload.
func TestCylinderLog_refuses(t *testing.T) {
	for _, text := range []string{"", "400", "-1", "much", "5,000,1"} {
		w, id := oxygenWorld(t, "2031-05-01")
		before := len(w.bodies())
		w.noted(id, text, "job")
		if v := w.cylinderView(); v.Problem == "" || len(w.bodies()) != before {
			t.Errorf("%q is noted", text)
		}
		w.restart()
		if v := w.cylinderView(); v.Fields[0].Text != text || v.Fields[1].Text != "job" {
			t.Errorf("%q is lost: %+v", text, v.Fields)
		}
	}
	w, id := oxygenWorld(t, "2031-05-02")
	w.noted(id, "150", "")
	w.on("2031-05-01")
	w.noted(id, "140", "")
	if v := w.cylinderView(); !strings.Contains(v.Problem, "clock") || len(v.Lines) != 1 || v.Fields[0].Text != "140" {
		t.Errorf("%+v", v)
	}
}

// Acetylene is weighed: less than the tare is refused with the tare.
func TestCylinderLog_acetyleneByWeight(t *testing.T) {
	w := dated(t, "2031-05-01")
	w.add(KindCylinder, LineFuel, "gas", "acetylene", "tare_mass", "40 kg", "full_mass", "6 kg")
	id := w.app.parts(KindCylinder)[0].ID
	w.noted(id, "39 kg", "")
	if v := w.cylinderView(); !strings.Contains(v.Fields[0].Error, "tare") || len(v.Lines) != 0 {
		t.Errorf("%+v", v)
	}
	w.noted(id, "46 kg", "")
	w.on("2031-05-11")
	w.noted(id, "45 kg", "")
	// 1 kg of acetylene is 0.90 m³ (1/1.11 kg/m³, calc/gas): 0.09 m³ a day, 5 kg left are 50 days.
	if v := w.cylinderView(); !strings.Contains(v.Forecast, "2031-06-30") {
		t.Errorf("%q", v.Forecast)
	}
}

// After lying a cylinder waits for the longest of the published times, or twice as long as it lay, and a timer runs.
func TestCylinderLog_settling(t *testing.T) {
	for _, c := range []struct{ lay, wait time.Duration }{{20 * time.Minute, 2 * time.Hour}, {3 * time.Hour, 6 * time.Hour}, {0, 2 * time.Hour}} {
		w := dated(t, "2031-05-01")
		w.add(KindCylinder, LineFuel, "gas", "acetylene", "tare_mass", "40 kg")
		id := w.app.parts(KindCylinder)[0].ID
		begin := w.app.Clock
		at := func(after time.Duration) {
			w.post(ClockRead{Wall: begin.Wall + after.Milliseconds(), Steady: begin.Steady + after.Milliseconds()})
			w.post(CylindersShown{})
		}
		if c.lay > 0 {
			w.post(CylinderEvent{ID: id, Event: LogLaid})
			at(c.lay)
			if s := w.cylinderView().Settle; s.State != "lying" {
				t.Errorf("%+v", s)
			}
		}
		w.post(CylinderEvent{ID: id, Event: LogUpright})
		at(c.lay + c.wait - time.Second)
		if s := w.cylinderView().Settle; s.State != "settling" {
			t.Errorf("lay %v: %+v", c.lay, s)
		}
		if timer := w.app.Timers.Running[0]; timer.Purpose != PurposeSettle || timer.Left(w.app.Clock.Wall) != 1000 {
			t.Errorf("lay %v: %+v", c.lay, timer.Left(w.app.Clock.Wall))
		}
		at(c.lay + c.wait)
		if s := w.cylinderView().Settle; s.State != "settled" {
			t.Errorf("lay %v: %+v", c.lay, s)
		}
	}
}

// A refused write loses nothing that was typed.
func TestCylinderLog_refusedByTheStore(t *testing.T) {
	w, id := oxygenWorld(t, "2031-05-01")
	w.fail = storage.ErrFull
	w.noted(id, "120", "hinge")
	if v := w.cylinderView(); v.Fields[0].Text != "120" || v.Fields[1].Text != "hinge" {
		t.Errorf("%+v", v.Fields)
	}
	w.fail = nil
	w.post(RetryRequested{})
	if v := w.cylinderView(); len(v.Lines) != 1 || v.Lines[0].Note != "hinge" || v.Fields[0].Text != "" {
		t.Errorf("%+v", v)
	}
}
