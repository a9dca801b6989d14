package leak_test

import (
	"math"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

// decay is one row of the table as a test.
func decay(r calctest.Row) leak.Test {
	return leak.Test{
		Gas: gas.Gas(r.Text("gas")), Volume: units.Volume(r.Number("volume_L") * litre), PressureError: 1000, TemperatureError: 0.5,
		Readings: leak.Between(bar(r.Number("p1_gauge_bar")), celsius(r.Number("T1_C")), bar(r.Number("p2_gauge_bar")),
			celsius(r.Number("T2_C")), units.Duration(r.Number("time_min")*60)),
	}
}

// contents is what the section of a row held at the start, as a flow over the time of the test, in std m³/s.
func contents(t *testing.T, test leak.Test) float64 {
	t.Helper()
	d, err := test.Gas.Density(test.Readings[0].Pressure, *test.Readings[0].Temperature)
	if err != nil {
		t.Fatal(err)
	}
	return float64(d) * float64(test.Volume) / float64(test.Gas.StandardDensity()) / float64(test.Readings[1].At)
}

// tightShare is how much of the contents a tight section may seem to lose: the table's air and propane follow reference equations that
// ours meet to 2 parts in 100 000 between two temperatures.
const tightShare = 3e-5

// Guards the whole of the rate: every row, every gas, whatever the temperature does.
func TestLeakRatesHoldOverTheWholeReferenceTable(t *testing.T) {
	const why = "testdata/reference/leak_decay.csv; 0.1 %: propane there follows another equation of state, 0.07 % away"
	rate := calctest.NewWorst("leak rate at 15 °C", 0.001, why)
	feet := calctest.NewWorst("leak rate in ft³/h", 0.001, why)
	centimetres := calctest.NewWorst("leak rate in std cm³/s (0 °C)", 0.001, why)
	tight := calctest.NewWorst("loss of a tight section, as 1 + share of its contents", tightShare, "the table's air and propane follow other equations")
	for _, r := range calctest.Reference(t, "leak_decay.csv") {
		test := decay(r)
		got := result(t, test)
		want := r.Number("leak_std_L_h_15C_real") * perLh
		all := contents(t, test)
		if math.Abs(want) < 1e-4*all {
			tight.Add(t, 1+got.Leak.Value/all, 1, r.ID())
			continue
		}
		rate.Add(t, got.Leak.Value, want, r.ID())
		in, err := leak.In(test.Gas, units.StandardFlow(got.Leak.Value))
		if err != nil {
			t.Fatal(err)
		}
		feet.Add(t, in.CubicFeetPerHour, r.Number("leak_cfh_70F_real"), r.ID())
		centimetres.Add(t, in.CubicCentimetresPerSecond, r.Number("leak_std_cc_s_0C_real"), r.ID())
	}
	for _, w := range []*calctest.Worst{rate, feet, centimetres, tight} {
		w.Report(t)
	}
}

// Guards the pressure a gauge follows without a leak, and how much of a fall the temperature explains.
func TestTightPressuresHoldOverTheWholeReferenceTable(t *testing.T) {
	worst := calctest.NewWorst("absolute pressure of a tight section", tightShare, "testdata/reference/leak_decay.csv; air and propane there follow other equations, 2e-5 away")
	for _, r := range calctest.Reference(t, "leak_decay.csv") {
		got := result(t, decay(r)).TightPressure
		if got == nil {
			t.Errorf("%s: no tight pressure", r)
			continue
		}
		worst.Add(t, float64(*got), float64(bar(r.Number("p2_expected_if_tight_gauge_bar_real"))), r.ID())
	}
	worst.Report(t)
}

// No tight row of the table may be called leaking, with a gauge read to 0.5 % of the start and a thermometer to 0.5 K; every other row's
// band holds the table's leak.
func TestNoTightRowIsCalledLeaking(t *testing.T) {
	tight := 0
	for _, r := range calctest.Reference(t, "leak_decay.csv") {
		test := decay(r)
		test.PressureError = units.AbsolutePressure(500 * r.Number("p1_gauge_bar"))
		got := result(t, test)
		want := r.Number("leak_std_L_h_15C_real") * perLh
		if got.Leak.Low > want || got.Leak.High < want {
			t.Errorf("%s: band %v to %v misses %v", r, got.Leak.Low, got.Leak.High, want)
		}
		if r.Text("kind") == "tight_temperature_only" || r.Text("kind") == "cylinder_tight_temperature_only" {
			tight++
			if got.Verdict == leak.Leaking || got.CertainLeak || got.GasCameIn {
				t.Errorf("%s is tight, the verdict is %s (%+v)", r, got.Verdict, got.Leak)
			}
		}
	}
	if tight == 0 {
		t.Error("the table has no tight rows")
	}
}

func TestPublishedTightPressuresAreMet(t *testing.T) {
	for _, v := range calctest.Vectors(t, "leak") {
		t.Run(v.Name, func(t *testing.T) {
			var in struct {
				Gas      gas.Gas                `json:"gas"`
				Pressure units.AbsolutePressure `json:"abs_pressure_pa"`
				From     units.Temperature      `json:"from_k"`
				To       units.Temperature      `json:"to_k"`
			}
			v.Input(t, &in)
			got, err := leak.TightPressure(in.Gas, in.Pressure, in.From, in.To)
			if err != nil {
				t.Fatal(err)
			}
			v.Near(t, float64(got))
		})
	}
}

// The rules of thumb of a kelvin: 0.35 % of the absolute pressure, 20 mbar at 5 bar gauge; 0.50 % for oxygen in a cylinder at 150 bar.
func TestAKelvinMovesTheGaugeByTheRuleOfThumb(t *testing.T) {
	for _, c := range []struct {
		gauge, celsius, share, tol float64
		why                        string
	}{
		{5, 15, 0.0035, 0.015, "0.35 % is printed to two digits"},
		{5, 15, 20e-3 / 6.01325, 0.1, "20 mbar is printed to one digit"},
		{150, 15, 0.0050, 0.02, "about 0.50 %"},
	} {
		p, at := bar(c.gauge), celsius(c.celsius)
		got := (tight(t, p, at, at+1) - tight(t, p, at, at-1)) / 2
		calctest.Near(t, float64(got/p), c.share, c.tol, "notes on the reference tables: "+c.why)
	}
	for _, to := range []float64{51, -21} {
		if _, err := leak.TightPressure(gas.Oxygen, bar(5), celsius(20), celsius(to)); err == nil {
			t.Errorf("%g °C, beyond the gas data, is answered", to)
		}
	}
}

// tight is leak.TightPressure of oxygen where it must answer.
func tight(t *testing.T, p units.AbsolutePressure, from, to units.Temperature) units.AbsolutePressure {
	t.Helper()
	got, err := leak.TightPressure(gas.Oxygen, p, from, to)
	if err != nil {
		t.Fatal(err)
	}
	return got
}
