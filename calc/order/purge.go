package order

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// PurgeVolumes is how many times the content of a hose is let through to purge it. Gas that pushed the old before it would need
// one; gas that mixed with it perfectly leaves exp(−n) of it, so that five leave 0.7 %. Common practice, no source: sources say
// "a few seconds".
const PurgeVolumes = 5

// Hose is one hose that is blown through by its own gas, the other torch valve closed.
type Hose struct {
	Gas            gas.Gas
	InsideDiameter units.Length
	Length         units.Length
	Gauge          units.GaugePressure // at the regulator
	Ambient        units.AbsolutePressure
	Temperature    units.Temperature
	Flow           units.StandardFlow // of this gas with the torch valve open
}

// Purged is how long it takes.
type Purged struct {
	Time units.Duration
	Gas  units.StandardVolume // that comes out meanwhile
	Left float64              // share of the old gas left if it mixed perfectly
}

// Limits of a purge. The bores and lengths are those of torch hoses; less flow than that of the smallest tip purges nothing.
const (
	minBore, maxBore     = 0.002, 0.026 // m
	minLength, maxLength = 0.1, 100.0   // m
	minFlow, maxFlow     = 1e-7, 0.05   // m³/s
)

// Purge returns the time t = n V (ρ/ρ_std) / Q for n = PurgeVolumes. The hose is taken to be at the regulator's pressure all along,
// which makes the time longer than it is. It returns a *gas.RangeError naming the field that is out of range.
func (h Hose) Purge() (Purged, error) {
	for _, c := range []struct {
		field           string
		value, low, top float64
		unit, why       string
	}{
		{"inside_diameter_m", float64(h.InsideDiameter), minBore, maxBore, "m", "bores of torch hoses lie in this range"},
		{"length_m", float64(h.Length), minLength, maxLength, "m", "a hose has a length, and torch hoses are not longer"},
		{"flow_std_m3_s", float64(h.Flow), minFlow, maxFlow, "m³/s", "flows of torch tips lie in this range"},
	} {
		if err := gas.InRange(c.field, c.value, c.low, c.top, c.unit, c.why); err != nil {
			return Purged{}, err
		}
	}
	density, err := h.Gas.Density(h.Gauge.Absolute(h.Ambient), h.Temperature)
	if err != nil {
		return Purged{}, err
	}
	volume := math.Pi / 4 * float64(h.InsideDiameter*h.InsideDiameter*h.Length)
	out := PurgeVolumes * volume * float64(density/h.Gas.StandardDensity())
	return Purged{Time: units.Duration(out / float64(h.Flow)), Gas: units.StandardVolume(out), Left: math.Exp(-PurgeVolumes)}, nil
}
