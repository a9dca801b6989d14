package leak_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/leak"
	"torchside/calc/units"
)

// random is a test of a random section of a gas whose data hold there, with one end pressure near the start.
func random(rng *rand.Rand) leak.Test {
	gases := []gas.Gas{gas.Oxygen, gas.Nitrogen, gas.Acetylene, gas.Propane, gas.Hydrogen, gas.Methane}
	start := bar(0.2 + 0.8*rng.Float64())
	return leak.Test{
		Gas: gases[rng.IntN(len(gases))], Volume: units.Volume((0.05 + rng.Float64()) * litre), PressureError: units.AbsolutePressure(200 + 2000*rng.Float64()),
		TemperatureError: units.TemperatureDifference(rng.Float64()),
		Readings: leak.Between(start, celsius(5+25*rng.Float64()), start-units.AbsolutePressure(15000*(rng.Float64()-0.3)),
			celsius(5+25*rng.Float64()), units.Duration(60+7200*rng.Float64())),
	}
}

func TestNoChangeIsNoLeak(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 2))
	for range 300 {
		test := random(rng)
		test.Readings[1].Pressure, test.Readings[1].Temperature = test.Readings[0].Pressure, test.Readings[0].Temperature
		if got := result(t, test); got.Leak.Value != 0 || got.Verdict == leak.Leaking || got.Movement != leak.Held {
			t.Fatalf("%+v gives %+v", test, got)
		}
	}
}

// A section whose pressure follows its temperature as the real gas does loses nothing, whatever the weather; cylinders too.
func TestPressureFollowingTemperatureIsNoLeak(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 3))
	for range 300 {
		test := random(rng)
		if test.Gas == gas.Oxygen {
			test.Readings[0].Pressure = bar(1 + 180*rng.Float64())
		}
		from, to := *test.Readings[0].Temperature, *test.Readings[1].Temperature
		p, err := leak.TightPressure(test.Gas, test.Readings[0].Pressure, from, to)
		if err != nil {
			t.Fatal(err)
		}
		test.Readings[1].Pressure = p
		got := result(t, test)
		if share := math.Abs(got.Leak.Value) / contents(t, test); share > 1e-12 || got.CertainLeak {
			t.Fatalf("%s from %v to %v K: %v of the contents", test.Gas, from, to, share)
		}
	}
}

// The bar of the wait: twice the time sees half the leak.
func TestTwiceTheTimeSeesHalfTheLeak(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for range 300 {
		test := random(rng)
		once := result(t, test)
		test.Readings[1].At *= 2
		twice := result(t, test)
		calctest.Near(t, float64(twice.SmallestDetectable), float64(once.SmallestDetectable)/2, 1e-12, "a division by the time")
		if once.SmallestDetectable <= 0 {
			t.Fatalf("%+v sees everything", test)
		}
	}
}

// A leak is certain exactly when it is above the smallest detectable, whatever the volume error, and the band holds the value.
func TestALeakIsCertainAboveTheSmallestDetectable(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 5))
	certain := 0
	for range 1000 {
		test := random(rng)
		test.VolumeError = units.Volume(rng.Float64() * 0.9 * float64(test.Volume))
		got := result(t, test)
		if got.CertainLeak != (got.Leak.Value > float64(got.SmallestDetectable)) {
			t.Fatalf("%+v gives %+v", test, got)
		}
		if got.Leak.Low > got.Leak.Value || got.Leak.High < got.Leak.Value {
			t.Fatalf("the band misses its value: %+v", got.Leak)
		}
		if got.CertainLeak {
			certain++
		}
	}
	if certain == 0 || certain == 1000 {
		t.Errorf("%d of 1000 are certain: the law was not tried", certain)
	}
}

// The band holds what any readings within their errors give: what the errors cannot exclude is never excluded.
func TestNoReadingsWithinTheirErrorsLeaveTheBand(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 6))
	off := func(most float64) float64 { return most * (2*rng.Float64() - 1) }
	for range 300 {
		test := random(rng)
		test.VolumeError = 0.1 * test.Volume
		got := result(t, test)
		for range 10 {
			moved := test
			moved.Volume += units.Volume(off(float64(test.VolumeError)))
			moved.VolumeError = 0
			moved.Readings = nil
			for _, r := range test.Readings {
				temperature := *r.Temperature + units.Temperature(off(float64(test.TemperatureError)))
				pressure := r.Pressure + units.AbsolutePressure(off(float64(test.PressureError)))
				moved.Readings = append(moved.Readings, leak.Reading{At: r.At, Pressure: min(pressure, bar(1.034)), Temperature: &temperature})
			}
			v := result(t, moved).Leak.Value
			if v < got.Leak.Low || v > got.Leak.High {
				t.Fatalf("%v lies outside %+v", v, got.Leak)
			}
		}
	}
}

// More error never makes a verdict of undecided into a certain one, and never narrows a band.
func TestMoreErrorNeverMakesATestSharper(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 7))
	for range 500 {
		test := random(rng)
		sharp := result(t, test)
		test.PressureError *= 1.5
		test.TemperatureError += 0.3
		test.VolumeError += 0.2 * test.Volume
		blunt := result(t, test)
		if blunt.Leak.Low > sharp.Leak.Low || blunt.Leak.High < sharp.Leak.High {
			t.Fatalf("band %+v became %+v", sharp.Leak, blunt.Leak)
		}
		if sharp.Verdict == leak.Undecided && blunt.Verdict != leak.Undecided && !sharp.GasCameIn {
			t.Fatalf("%+v: undecided became %s", test, blunt.Verdict)
		}
	}
}

// The verdict is made of numbers in SI: written in other units and read back, to all their digits, they give the same.
func TestTheVerdictNeverFlipsByUnit(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 8))
	again := func(q units.Quantity, symbol string, si float64, r units.StandardRatio) float64 {
		u, ok := units.UnitBySymbol(q, symbol)
		if !ok {
			t.Fatal(symbol)
		}
		x, err := u.FromSI(si, r)
		if err != nil {
			t.Fatal(err)
		}
		back, err := u.SI(x, r)
		if err != nil {
			t.Fatal(err)
		}
		return back
	}
	for range 500 {
		test := random(rng)
		test.Allowed = flow(0.5 * rng.Float64())
		us := test
		us.Volume = units.Volume(again(units.QuantityVolume, "in³", float64(test.Volume), 0))
		us.PressureError = units.AbsolutePressure(again(units.QuantityPressure, "psi", float64(test.PressureError), 0))
		allowed := units.StandardFlow(again(units.QuantityStandardFlow, "ft³/h", float64(*test.Allowed), test.Gas.StandardRatio()))
		us.Allowed, us.Readings = &allowed, nil
		for _, r := range test.Readings {
			temperature := units.Temperature(again(units.QuantityTemperature, "°F", float64(*r.Temperature), 0))
			gauge := again(units.QuantityPressure, "psi", float64(r.Pressure.Gauge(units.StandardAtmosphere)), 0)
			us.Readings = append(us.Readings, leak.Reading{At: units.Duration(again(units.QuantityDuration, "min", float64(r.At), 0)),
				Pressure: units.GaugePressure(gauge).Absolute(units.StandardAtmosphere), Temperature: &temperature})
		}
		si, converted := result(t, test), result(t, us)
		if si.Verdict != converted.Verdict || si.CertainLeak != converted.CertainLeak {
			t.Fatalf("%s in SI is %s in US units: %+v", si.Verdict, converted.Verdict, test)
		}
	}
}

// Least squares of two readings is the plain formula, evaluated here on its own.
func TestLeastSquaresOfTwoReadingsIsThePlainFormula(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 9))
	for range 300 {
		test := random(rng)
		test.Readings[0].At, test.Readings[1].At = 1000, 1000+test.Readings[1].At
		d1, err1 := test.Gas.Density(test.Readings[0].Pressure, *test.Readings[0].Temperature)
		d2, err2 := test.Gas.Density(test.Readings[1].Pressure, *test.Readings[1].Temperature)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		after := float64(test.Readings[1].At - test.Readings[0].At)
		want := float64(test.Volume) * float64(d1-d2) / (float64(test.Gas.StandardDensity()) * after)
		got := result(t, test)
		calctest.Near(t, got.Leak.Value, want, 1e-9, "the same to the rounding of a difference of near densities")
		if got.StandardError != 0 {
			t.Error("two readings have no scatter")
		}
	}
}

// steady is a test with n readings at equal times on a straight line of pressure at one temperature, plus given offsets in Pa.
func steady(n int, offsets ...float64) leak.Test {
	test := hoseTest(2, 20, hour)
	test.Readings = nil
	for i := range n {
		temperature := celsius(20)
		p := bar(2) - units.AbsolutePressure(20000*float64(i)/float64(n-1))
		if i < len(offsets) {
			p += units.AbsolutePressure(offsets[i])
		}
		test.Readings = append(test.Readings, leak.Reading{At: units.Duration(hour * float64(i) / float64(n-1)), Pressure: p, Temperature: &temperature})
	}
	return test
}

// Many readings on a line give the slope of two and no standard error; scatter gives the standard error of the textbook.
func TestManyReadingsGiveTheSlopeAndItsStandardError(t *testing.T) {
	two := result(t, steady(2))
	many := result(t, steady(7))
	calctest.Near(t, many.Leak.Value, two.Leak.Value, 1e-4, "oxygen at 2 bar is real enough to bend the line by a hundredth of a percent")
	if float64(many.StandardError) > 1e-4*many.Leak.Value {
		t.Errorf("standard error %v of a straight line", many.StandardError)
	}
	// Offsets +d, -2d, +d on three readings: residuals about the line are just these, so s² = 6 d², Σ(t - mean)² = T²/2.
	const d = 500.0
	got := result(t, steady(3, d, -2*d, d))
	perPascal := two.Leak.Value * hour / 20000 // std m³ per Pa
	want := perPascal * math.Sqrt(6) * d / math.Sqrt(hour*hour/2)
	calctest.Near(t, float64(got.StandardError), want, 1e-3, "least squares by hand, ideal gas between the readings")
}

// Scatter beyond the stated errors widens the band: a gauge that jumps cannot be sharper than its jumps.
func TestScatterBeyondTheErrorsWidensTheBand(t *testing.T) {
	calm, wild := steady(3), steady(3, 8000, -16000, 8000)
	calm.PressureError, wild.PressureError = 100, 100
	c, w := result(t, calm), result(t, wild)
	if !c.CertainLeak || w.CertainLeak || w.Verdict != leak.Undecided {
		t.Errorf("calm %+v, wild %+v", c, w)
	}
	half := w.Leak.Value - w.Leak.Low
	calctest.Near(t, half, 12.706*float64(w.StandardError), 1e-9, "Student's t for one degree of freedom, 95 %")
}

// The waiting time is long enough: a tight section left that long is called tight, and a leak of the wanted size shows; little shorter
// is not.
func TestTheTimeNeededIsJustEnough(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 10))
	for range 200 {
		test := random(rng)
		plan := leak.Plan{Gas: test.Gas, Volume: test.Volume, VolumeError: 0.2 * test.Volume, Gauge: test.Readings[0].Pressure.Gauge(units.StandardAtmosphere),
			Temperature: test.Readings[0].Temperature, PressureError: test.PressureError, TemperatureError: test.TemperatureError}
		wanted := *flow(0.01 + rng.Float64())
		need, err := plan.TimeNeeded(wanted)
		if err != nil {
			t.Fatal(err)
		}
		test.VolumeError, test.Allowed = plan.VolumeError, &wanted
		test.Readings[1] = test.Readings[0]
		for _, c := range []struct {
			share float64
			want  leak.Verdict
		}{{1, leak.Tight}, {0.95, leak.Undecided}} {
			test.Readings[1].At = need * units.Duration(c.share)
			if test.Readings[1].At < leak.DurationMinimum {
				continue
			}
			if got := result(t, test).Verdict; got != c.want {
				t.Fatalf("after %v of the time: %s", c.share, got)
			}
		}
		if smallest, err := plan.SmallestDetectable(max(need, leak.DurationMinimum)); err != nil || smallest > wanted {
			t.Fatalf("sees %v, wanted %v (%v)", smallest, wanted, err)
		}
	}
}

// An undecided test that goes on as it did for as long as it says is decided then, and not much sooner.
func TestMoreTimeDecidesAnUndecidedTest(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 11))
	tried := map[leak.Verdict]int{}
	for range 3000 {
		test := hoseTest(2, 20, units.Duration(60+600*rng.Float64()))
		test.VolumeError = units.Volume(rng.Float64() * 0.3 * float64(test.Volume))
		rate := 100 * rng.Float64() // Pa/s, up to 0.7 L/h
		test.Readings[1].Pressure = bar(2) - units.AbsolutePressure(rate*float64(test.Readings[1].At))
		test.Allowed = flow(0.1 + 3*rng.Float64())
		got := result(t, test)
		if got.Verdict != leak.Undecided {
			continue
		}
		longer := test.Readings[1].At + got.MoreTime
		early := test
		early.Readings = append([]leak.Reading(nil), test.Readings...)
		early.Readings[1].At = 0.95 * longer
		early.Readings[1].Pressure = bar(2) - units.AbsolutePressure(rate*float64(early.Readings[1].At))
		if got.MoreTime > leak.DurationMinimum && rate*float64(longer) <= 100000 && result(t, early).Verdict != leak.Undecided {
			t.Fatalf("%+v is decided before the time it asks for", test)
		}
		test.Readings[1].At, test.Readings[1].Pressure = longer, bar(2)-units.AbsolutePressure(rate*float64(longer))
		if rate*float64(longer) > 100000 {
			continue // no longer a section under pressure
		}
		tried[result(t, test).Verdict]++
	}
	if tried[leak.Tight] == 0 || tried[leak.Leaking] == 0 || tried[leak.Undecided] > 0 {
		t.Errorf("after the time asked for: %v", tried)
	}
}
