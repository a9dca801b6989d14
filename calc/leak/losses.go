package leak

import (
	"torchside/calc/units"
)

// secondsPerWeek is seven days.
const secondsPerWeek = 7 * 24 * units.Hour

const (
	whyPrice    = "a price is zero or more"
	whyContents = "a cylinder holds nothing or more"
)

// Losses is what a steady leak costs while the cylinder valve is open.
type Losses struct {
	PerWeek      units.StandardVolume
	MoneyPerWeek float64         // in the owner's currency; 0 when the price is not known
	ToEmpty      *units.Duration // until the cylinder is empty; nil when its contents are not known or nothing leaks
}

// LossesOf returns what a leak loses: contents nil and price 0 mean not known. The leak is taken as steady; a real one slows as the
// cylinder empties if it is on the cylinder's side. A gain is refused, for nothing is lost by it. Errors: *gas.RangeError.
func LossesOf(leak units.StandardFlow, price units.MoneyPerVolume, contents *units.StandardVolume) (Losses, error) {
	err := firstError(
		inRange("leak_std_m3_s", leak, 0, FlowMaximum, "m³/s", whyLeak),
		inRange("price_per_std_m3", price, 0, 1e9, "per m³", whyPrice),
	)
	if err != nil {
		return Losses{}, err
	}
	week := max(0, units.StandardVolume(leak)*secondsPerWeek)
	l := Losses{PerWeek: week, MoneyPerWeek: float64(week) * float64(price)}
	if contents == nil {
		return l, nil
	}
	if err := inRange("contents_std_m3", *contents, 0, 1e6, "cubic metres", whyContents); err != nil {
		return Losses{}, err
	}
	if leak > 0 {
		d := units.Duration(*contents) / units.Duration(leak)
		l.ToEmpty = &d
	}
	return l, nil
}
