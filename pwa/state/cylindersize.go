package state

import (
	"errors"

	"torchside/calc/cylinder"
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// sizeAsSold is the choice of telling a cylinder's size by the gas in it when full; the other one, "", is its water volume.
const sizeAsSold = "contents"

// Limits of the fields that belong to it.
const (
	minFillPa     = 1e6  // 10 bar: no cylinder of compressed gas is filled to less
	maxContentsM3 = 60   // 200 litres of water, the largest one cylinder, filled to 300 bar
	minContentsM3 = 1e-3 // the smallest, 0.1 litre of water, filled to 10 bar
	// maxOverFill is how far a gauge can stand above the fill pressure: 10 % of overfill is allowed for some cylinders (reference
	// table of cylinders, from memory), and one at 50 °C shows 13 % more than at 20 °C (density of the gas).
	maxOverFill = 1.25
)

var sizeOptions = []Option{
	{Value: "", Label: "Water volume", Note: "stamped on it"}, {Value: sizeAsSold, Label: "Size as sold", Note: "80 ft³, 10 m³ of gas"},
}

// isSized tells a compressed gas whose size is given in this way.
func isSized(size string) func(fill) bool {
	return func(f fill) bool { return isCompressed(f) && f.choices["size"] == size }
}

// readSize works out the water volume of a cylinder whose size is given as it is sold, and says what was understood.
func (a App) readSize(f *Form, p *Part, fields []FormField) {
	if p.Kind != KindCylinder || !isSized(sizeAsSold)(fill{choices: p.Choices}) {
		return
	}
	delete(p.Values, "water_volume") // an earlier one is not that of this size
	contents, full := p.Values["full_contents"], p.number("fill_gauge")
	if contents.SI == 0 || full == nil {
		return
	}
	a.checkFill(f, *p, *full, fields)
	rated, at := cylinder.RatedMetric, "15 °C"
	if contents.Unit == "ft³" {
		rated, at = cylinder.RatedUS, "70 °F"
	}
	v, err := cylinder.WaterVolume(gas.Gas(p.Choices["gas"]), units.StandardVolume(contents.SI), units.GaugePressure(*full), rated)
	if low, high := waterLimits(); err != nil || float64(v) < low || float64(v) > high {
		mark(fields, "full_contents", a.sizeRefusal(f, float64(v), err, low, high))
		return
	}
	text, water := a.waterText(f, float64(v)), float64(v)
	if old, ok := f.base.Values["water_volume"]; ok && sameSI(old.SI, water) {
		water = old.SI // unchanged, however it is worked out
	}
	p.Values["water_volume"] = Value{SI: water, Typed: text, Unit: f.units.Unit(units.QuantityVolume).Symbol()}
	understood(fields, "full_contents", words.S("a cylinder of %s of water, by the real density of %s at %s (all of the gas counted)", text, gasName(p.Choices["gas"]), at))
}

func (a App) waterText(f *Form, m3 float64) string {
	return units.Format(units.QuantityVolume, m3, f.units.Unit(units.QuantityVolume), 0)
}

// waterLimits are those of the field of the water volume.
func waterLimits() (low, high float64) {
	for _, s := range cylinderSpecs {
		if s.Key == "water_volume" {
			return s.Field.Min, s.Field.Max
		}
	}
	return 0, 0
}

// sizeRefusal says why contents and fill pressure belong to no cylinder: to which one they would, or what was wrong before that.
func (a App) sizeRefusal(f *Form, water float64, err error, low, high float64) string {
	const head = "Gas in it when full: "
	var r *gas.RangeError
	switch {
	case errors.As(err, &r) && r.Field == "water_volume_m3":
		water = r.Value
	case err != nil:
		return head + err.Error() + "."
	}
	return words.S("%sread with this fill pressure it is a cylinder of %s of water; allowed: what a cylinder of %s to %s of water holds; check both numbers and their units, and whether it is the water volume you know.", head, a.waterText(f, water), a.waterText(f, low), a.waterText(f, high))
}

// checkFill refuses a gauge that stands far above the pressure of the full cylinder.
func (a App) checkFill(f *Form, p Part, full float64, fields []FormField) {
	now := p.number("gauge_pressure")
	if now == nil || *now <= full*maxOverFill {
		return
	}
	text := func(pa float64) string {
		return units.Format(units.QuantityPressure, pa, f.units.Unit(units.QuantityPressure), 0)
	}
	mark(fields, "gauge_pressure", words.S("Cylinder gauge now: read %s; allowed: at most a quarter above the pressure when full, %s; neither sun nor overfilling takes it higher. Check both numbers and their units.", text(*now), text(full)))
}

// understood adds to what was read from a field.
func understood(fields []FormField, key, text string) {
	for i := range fields {
		if fields[i].Key != key {
			continue
		}
		if fields[i].Read != "" {
			fields[i].Read += ": "
		}
		fields[i].Read += text
	}
}
