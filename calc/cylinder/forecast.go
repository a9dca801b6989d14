package cylinder

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// Reading is what a cylinder held at a time.
type Reading struct {
	Day      float64              // in days, from any beginning
	Contents units.StandardVolume // of gas that can be drawn
	Error    units.StandardVolume // what the reading may be off by, either way
}

// Forecast is how fast a cylinder has been emptied since it was filled, and how long it lasts if that goes on.
type Forecast struct {
	First int // index of the first reading after the fill
	// Used is drawn since then; Rate is that per day, Days how long from the last reading until only the reserve is left. A rate that may be
	// nothing has an infinite high end of days.
	Used, Rate, Days units.Band
	Span             float64 // days between the first and the last reading
}

// refillShare is how much more than before a cylinder must hold to count as filled again, in shares of the larger: more than a warm day
// makes a gauge climb. Ours.
const refillShare = 0.1

// forecastShortest is the shortest time, in days, a rate is worked out over: an afternoon's work says nothing of a month. Ours.
const forecastShortest = 1

// NewForecast works out the rate from the first and the last reading since the cylinder was last filled: rate = (c1 − c2)/(t2 − t1), with
// both readings off by their errors. Readings stand in order of time. ok is false while there are less than two of them, or a day between
// them. Errors: *gas.RangeError for a time that goes back, and for contents or a reserve that are no number or below nothing.
func NewForecast(list []Reading, reserve units.StandardVolume) (f Forecast, ok bool, err error) {
	for i, r := range list {
		if err := gas.InRange("contents_std_m3", float64(r.Contents), 0, 1000, "m³", "a cylinder holds some gas or none"); err != nil {
			return Forecast{}, false, err
		}
		if i > 0 {
			before := list[i-1]
			if err := gas.InRange("day", r.Day, before.Day, 1e6, "d", "readings stand in order of time"); err != nil {
				return Forecast{}, false, err
			}
			if r.Contents-before.Contents > units.StandardVolume(refillShare)*r.Contents+r.Error+before.Error {
				f.First = i
			}
		}
	}
	if err := gas.InRange("reserve_std_m3", float64(reserve), 0, 1000, "m³", "a reserve is some gas or none"); err != nil {
		return Forecast{}, false, err
	}
	if len(list) == 0 {
		return f, false, nil
	}
	a, b := list[f.First], list[len(list)-1]
	used, off := float64(a.Contents-b.Contents), float64(a.Error+b.Error)
	f.Span = b.Day - a.Day
	f.Used = units.Band{Value: math.Max(0, used), Low: math.Max(0, used-off), High: math.Max(0, used+off)}
	if f.Span < forecastShortest {
		return f, false, nil
	}
	f.Rate = units.Band{Value: f.Used.Value / f.Span, Low: f.Used.Low / f.Span, High: f.Used.High / f.Span}
	left := math.Max(0, float64(b.Contents-reserve))
	f.Days = units.Band{Value: over(left, f.Rate.Value), Low: over(math.Max(0, left-float64(b.Error)), f.Rate.High), High: over(left+float64(b.Error), f.Rate.Low)}
	return f, true, nil
}

// over divides; by nothing it never ends, and nothing is over at once.
func over(left, rate float64) float64 {
	if left == 0 {
		return 0
	}
	return left / rate
}
