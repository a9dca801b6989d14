package cylinder

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// A worked example by hand: 6.0 m³ on day 0, 4.5 m³ on day 30, 0.5 m³ to be left: 0.05 m³ a day, 80 days. With 0.1 m³ of error a reading
// 1.3 to 1.7 m³ were used, so 3.9/(1.7/30) = 68.8 to 4.1/(1.3/30) = 94.6 days.
func TestForecast_workedByHand(t *testing.T) {
	f, ok, err := NewForecast([]Reading{{0, 6, 0.1}, {12, 5.1, 0.1}, {30, 4.5, 0.1}}, 0.5)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	calctest.Near(t, f.Rate.Value, 0.05, 1e-12, "1.5 m³ in 30 days")
	calctest.Near(t, f.Days.Value, 80, 1e-12, "4 m³ at 0.05 m³ a day")
	calctest.Near(t, f.Days.Low, 3.9/(1.7/30), 1e-12, "by hand")
	calctest.Near(t, f.Days.High, 4.1/(1.3/30), 1e-12, "by hand")
}

// A steady draw is forecast exactly, whatever was read between; the band holds the truth for every error within its bounds.
func TestForecast_law(t *testing.T) {
	random := rand.New(rand.NewSource(5))
	for range 300 {
		full, rate, e := 5+5*random.Float64(), 0.01+0.1*random.Float64(), 0.05*random.Float64()
		var list []Reading
		for day := 0.0; full-rate*day > 1 && len(list) < 8; day += 1 + 10*random.Float64() {
			list = append(list, Reading{day, units.StandardVolume(full - rate*day + e*(2*random.Float64()-1)), units.StandardVolume(e)})
		}
		if len(list) < 2 {
			continue
		}
		f, ok, err := NewForecast(list, 0.5)
		if err != nil || !ok {
			t.Fatal(ok, err)
		}
		truth := (full - 0.5 - rate*list[len(list)-1].Day) / rate
		if f.Days.Low > truth*(1+1e-9) || f.Days.High < truth*(1-1e-9) || f.Days.Value < f.Days.Low || f.Days.Value > f.Days.High {
			t.Fatalf("%v days in truth, forecast %+v", truth, f.Days)
		}
	}
}

// A fill begins a new count; a warm day does not.
func TestForecast_countsSinceTheFill(t *testing.T) {
	for name, c := range map[string]struct {
		list  []Reading
		first int
	}{
		"filled":       {[]Reading{{0, 2, 0.05}, {10, 1, 0.05}, {11, 6, 0.05}, {20, 5, 0.05}}, 2},
		"warm day":     {[]Reading{{0, 6, 0.05}, {10, 5, 0.05}, {11, 5.3, 0.05}, {20, 5, 0.05}}, 0},
		"filled twice": {[]Reading{{0, 2, 0}, {5, 6, 0}, {10, 3, 0}, {11, 6, 0}, {12, 5, 0}}, 3},
	} {
		if f, _, err := NewForecast(c.list, 0); err != nil || f.First != c.first {
			t.Errorf("%s: counts from %d, %v", name, f.First, err)
		}
	}
}

// Too little is no forecast, nothing used never ends, and an empty cylinder is over at once.
func TestForecast_edges(t *testing.T) {
	for name, list := range map[string][]Reading{"none": nil, "one": {{0, 5, 0}}, "an hour": {{0, 5, 0}, {1.0 / 24, 4.9, 0}}} {
		if _, ok, err := NewForecast(list, 0); ok || err != nil {
			t.Errorf("%s: %v %v", name, ok, err)
		}
	}
	if f, ok, _ := NewForecast([]Reading{{0, 5, 0.1}, {10, 5, 0.1}}, 0); !ok || !math.IsInf(f.Days.Value, 1) || math.IsInf(f.Days.Low, 1) {
		t.Errorf("nothing used: %+v", f)
	}
	if f, ok, _ := NewForecast([]Reading{{0, 5, 0}, {10, 0.2, 0}}, 0.5); !ok || f.Days.Value != 0 {
		t.Errorf("below the reserve: %+v", f)
	}
}

func TestForecast_refuses(t *testing.T) {
	for name, list := range map[string][]Reading{"back in time": {{5, 5, 0}, {4, 4, 0}}, "below nothing": {{0, -1, 0}}, "no number": {{0, units.StandardVolume(math.NaN()), 0}}} {
		var e *gas.RangeError
		if _, _, err := NewForecast(list, 0); !errors.As(err, &e) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
