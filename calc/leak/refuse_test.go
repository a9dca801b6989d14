package leak_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

// Every bad input is refused by the name of its field, with what is allowed and why.
func TestBadTestsAreRefused(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*leak.Test)
		field  string
		why    string
	}{
		{"end before start", func(l *leak.Test) { l.Readings[1].At = -60 }, "duration_s", "end comes after the start"},
		{"identical instants", func(l *leak.Test) { l.Readings[1].At = 0 }, "duration_s", "end comes after the start"},
		{"volume zero", func(l *leak.Test) { l.Volume = 0 }, "volume_m3", "has a volume"},
		{"volume below zero", func(l *leak.Test) { l.Volume = -1 }, "volume_m3", "has a volume"},
		{"volume error of all of it", func(l *leak.Test) { l.VolumeError = l.Volume }, "volume_error_m3", "measure"},
		{"gauge division zero", func(l *leak.Test) { l.PressureError = 0 }, "pressure_reading_error_pa", "never zero"},
		{"thermometer below zero", func(l *leak.Test) { l.TemperatureError = -1 }, "temperature_reading_error_k", "thermometer"},
		{"start above the scale", func(l *leak.Test) { l.GaugeMaximum = 1e5 }, "start_abs_pa", "gauge's scale"},
		{"end above the scale", func(l *leak.Test) { l.GaugeMaximum = 2e5; l.Readings[1].Pressure = bar(2.1) }, "end_abs_pa", "gauge's scale"},
		{"start without pressure", func(l *leak.Test) { l.Readings[0].Pressure = bar(0.01) }, "start_abs_pa", "needs pressure"},
		{"acetylene above 15 psi", func(l *leak.Test) { l.Gas = gas.Acetylene; l.Readings[0].Pressure = bar(1.05) }, "start_abs_pa", "29 CFR 1910.253(a)(2)"},
		{"acetylene above 30 psi absolute", func(l *leak.Test) {
			l.Gas, l.Ambient = gas.Acetylene, 110e3
			l.Readings[0].Pressure = 110e3 + 14.9*units.PSI
		}, "start_abs_pa", "29 CFR 1910.253(a)(2)"},
		{"acetylene at cylinder pressure", func(l *leak.Test) { l.Gas = gas.Acetylene; l.Readings[0].Pressure = bar(15) }, "start_abs_pa", "its gauge alone"},
		{"propane that condenses", func(l *leak.Test) { l.Gas = gas.Propane; l.Readings[0].Pressure = bar(4.5) }, "start_abs_pa", "weighing"},
		{"pressure below vacuum", func(l *leak.Test) { l.Readings[1].Pressure = -5 }, "end_abs_pa", "vacuum"},
		{"start at 70 °C", func(l *leak.Test) { *l.Readings[0].Temperature = celsius(70) }, "start_temperature_k", "-20 to 50"},
		{"end at -300 °C", func(l *leak.Test) { *l.Readings[1].Temperature = celsius(-300) }, "end_temperature_k", "-20 to 50"},
		{"not a number", func(l *leak.Test) { l.Readings[1].Pressure = units.AbsolutePressure(math.NaN()) }, "end_abs_pa", "vacuum"},
		{"allowed leak zero", func(l *leak.Test) { l.Allowed = flow(0) }, "allowed_leak_std_m3_s", "above zero"},
		{"barometer of the moon", func(l *leak.Test) { l.Ambient = 10 }, "ambient_abs_pa", "sea level"},
		{"barometer error below zero", func(l *leak.Test) { l.BarometerError = -1 }, "barometer_error_pa", "weather"},
		{"one reading", func(l *leak.Test) { l.Readings = l.Readings[:1] }, "readings", "two readings"},
		{"no reading", func(l *leak.Test) { l.Readings = nil }, "readings", "two readings"},
		{"third reading before the second", func(l *leak.Test) { l.Readings = append(l.Readings, leak.Reading{At: 300, Pressure: bar(1.9)}) }, "readings[2].at_s", "later"},
		{"third reading at -300 °C", func(l *leak.Test) {
			cold := celsius(-300)
			l.Readings = append(l.Readings, leak.Reading{At: 900, Pressure: bar(1.9), Temperature: &cold})
		}, "readings[2].temperature_k", "-20 to 50"},
	} {
		t.Run(c.name, func(t *testing.T) {
			test := hoseTest(1.9, 20, 600)
			c.change(&test)
			_, err := test.Result()
			var limit *gas.RangeError
			if !errors.As(err, &limit) || limit.Field != c.field || !strings.Contains(limit.Why, c.why) {
				t.Errorf("error is %v, want field %s because %q", err, c.field, c.why)
			}
		})
	}
	test := hoseTest(1.9, 20, 600)
	test.Gas = "steam"
	if _, err := test.Result(); !errors.Is(err, gas.ErrUnknown) {
		t.Errorf("steam: %v", err)
	}
}

func TestBadRoomsBubblesAndLossesAreRefused(t *testing.T) {
	room := leak.Room{Volume: 30, AirChanges: 1}
	after := func(e leak.Exposure, d units.Duration) error { _, err := e.After(d); return err }
	bubbles := func(b leak.Bubbles) error { _, err := b.Leak(); return err }
	empty := units.StandardVolume(-1)
	losses := func(q units.StandardFlow, price units.MoneyPerVolume, v *units.StandardVolume) error {
		_, err := leak.LossesOf(q, price, v)
		return err
	}
	hose := func(d, l units.Length) error {
		_, err := leak.Line{Hoses: []leak.Hose{{InsideDiameter: d, Length: l}}}.Parts(leak.OxygenDelivery)
		return err
	}
	arrestors := func(n int) error {
		_, err := leak.Line{Arrestors: n}.Parts(leak.OxygenDelivery)
		return err
	}
	allowed := func(r leak.Room) error { _, err := leak.AllowedIn(gas.Propane, r); return err }
	plan := func(q units.StandardFlow) error { _, err := leak.Plan{}.TimeNeeded(q); return err }
	for _, c := range []struct {
		field string
		err   error
	}{
		{"leak_std_m3_s", after(leak.Exposure{Gas: gas.Propane, Leak: -1e-6, Room: room}, hour)},
		{"room_volume_m3", after(leak.Exposure{Gas: gas.Propane, Room: leak.Room{AirChanges: 1}}, hour)},
		{"air_changes_per_hour", after(leak.Exposure{Gas: gas.Propane, Room: leak.Room{Volume: 30, AirChanges: -1}}, hour)},
		{"mixing_factor", after(leak.Exposure{Gas: gas.Propane, Room: leak.Room{Volume: 30, MixingFactor: 2}}, hour)},
		{"temperature_k", after(leak.Exposure{Gas: gas.Propane, Room: leak.Room{Volume: 30, Temperature: 500}}, hour)},
		{"ambient_abs_pa", after(leak.Exposure{Gas: gas.Propane, Room: leak.Room{Volume: 30, Ambient: 1}}, hour)},
		{"hours", after(leak.Exposure{Gas: gas.Propane, Room: room}, -hour)},
		{"diameter_m", bubbles(leak.Bubbles{PerSecond: 1})},
		{"diameter_error_m", bubbles(leak.Bubbles{Diameter: 3e-3, DiameterError: 4e-3, PerSecond: 1})},
		{"bubbles_per_s", bubbles(leak.Bubbles{Diameter: 3e-3})},
		{"temperature_k", bubbles(leak.Bubbles{Diameter: 3e-3, PerSecond: 1, Temperature: 1})},
		{"leak_std_m3_s", losses(-1, 0, nil)},
		{"price_per_std_m3", losses(0, -1, nil)},
		{"contents_std_m3", losses(0, 0, &empty)},
		{"inside_diameter_m", hose(0, 5)},
		{"length_m", hose(6e-3, 0)},
		{"arrestors", arrestors(-1)},
		{"room_volume_m3", allowed(leak.Room{})},
		{"wanted_leak_std_m3_s", plan(0)},
	} {
		var limit *gas.RangeError
		if !errors.As(c.err, &limit) || limit.Field != c.field || limit.Why == "" {
			t.Errorf("error is %v, want field %s", c.err, c.field)
		}
	}
	if err := after(leak.Exposure{Gas: "steam", Room: room}, hour); !errors.Is(err, gas.ErrUnknown) {
		t.Error(err)
	}
	if _, err := leak.In("steam", 1); !errors.Is(err, gas.ErrUnknown) {
		t.Error(err)
	}
	if _, err := leak.TightPressure(gas.Oxygen, bar(290), celsius(-20), celsius(50)); err == nil {
		t.Error("a tight pressure beyond the gas data has no error")
	}
}

// Garbage is refused or answered with numbers, never with a panic, an infinity or no number.
func TestGarbageIsRefusedOrAnsweredWithNumbers(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 13))
	pick := func(good float64) float64 {
		bad := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1, 1e-300, 1e300, -good}
		if i := rng.IntN(6 * len(bad)); i < len(bad) {
			return bad[i]
		}
		return good * (0.5 + rng.Float64())
	}
	finite := func(what string, vs ...float64) {
		for _, v := range vs {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%s holds %v", what, vs)
				return
			}
		}
	}
	answered := 0
	for range 5000 {
		test := leak.Test{Gas: gas.All()[rng.IntN(len(gas.All()))], Volume: units.Volume(pick(1e-3)), VolumeError: units.Volume(pick(1e-4)),
			PressureError: units.AbsolutePressure(pick(1000)), TemperatureError: units.TemperatureDifference(pick(0.5)),
			BarometerError: units.AbsolutePressure(pick(100)), Ambient: units.AbsolutePressure(pick(90e3))}
		for i := range 2 + rng.IntN(3) {
			temperature := units.Temperature(pick(293))
			test.Readings = append(test.Readings, leak.Reading{At: units.Duration(pick(600) + 1000*float64(i)), Pressure: units.AbsolutePressure(pick(180e3)), Temperature: &temperature})
		}
		if r, err := test.Result(); err == nil {
			answered++
			finite("result", r.Leak.Value, r.Leak.Low, r.Leak.High, float64(r.SmallestDetectable), float64(r.StandardError), float64(r.TimeNeeded), float64(r.MoreTime))
		}
		e := leak.Exposure{Gas: test.Gas, Leak: units.StandardFlow(pick(1e-5)), Room: leak.Room{Volume: units.Volume(pick(20)), AirChanges: pick(0.5), MixingFactor: pick(0.5), Temperature: units.Temperature(pick(290))}}
		if a, err := e.After(units.Duration(pick(3600))); err == nil {
			answered++
			finite("air", a.Concentration, a.Steady, a.Oxygen, a.SteadyOxygen)
		}
		if b, err := (leak.Bubbles{Diameter: units.Length(pick(3e-3)), PerSecond: pick(1), DiameterError: units.Length(pick(1e-4))}).Leak(); err == nil {
			answered++
			finite("bubbles", b.Value, b.Low, b.High)
		}
	}
	if answered < 100 {
		t.Errorf("only %d were answered: nothing was tried", answered)
	}
}
