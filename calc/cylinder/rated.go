package cylinder

import (
	"torchside/calc/gas"
	"torchside/calc/units"
)

// Temperatures at which a cylinder holds its rated contents at its fill pressure. Real pressures follow the weather.
const (
	// RatedUS is 70 °F, in K: sizes in cubic feet are rated there (TC 9-237, oxygen cylinders: 244 ft³ at 2200 psi and 70 °F).
	RatedUS units.Temperature = 294.2611
	// RatedMetric is 15 °C, in K: sizes in litres and cubic metres of gas are rated there (common practice, no source).
	RatedMetric units.Temperature = 288.15
)

const whyContents = "the size a cylinder is sold by is the gas in it when full, as 80 ft³ or 10 m³"

// WaterVolume returns the inside volume of a cylinder that is sold by its size: the gas it holds when filled to a gauge pressure at a
// temperature, [RatedUS] or [RatedMetric]. All of the gas is counted, also what stays at 0 gauge; where a seller leaves that out
// the true volume is larger by about 1 %, so the answer never promises gas that is not there. Accuracy is that of gas.Density; sizes
// of the trade are rounded, often by some per cent. Errors: *NotCompressedError for a gas that must be weighed, gas.ErrUnknown,
// *gas.RangeError for a fill, temperature or contents out of range ("full_contents_std_m3"), and ("water_volume_m3") when no
// cylinder has the volume.
func WaterVolume(g gas.Gas, contents units.StandardVolume, fill units.GaugePressure, t units.Temperature) (units.Volume, error) {
	const one = 1 // m³, far within the limits of Compressed
	c := Compressed{Gas: g, WaterVolume: one, Gauge: fill, Temperature: t, Ambient: units.StandardAtmosphere}
	full, err := c.Contents()
	if err != nil {
		return 0, err
	}
	const most = 1e4 // m³ of gas: more than the largest bundle holds at 300 bar
	if err := gas.InRange("full_contents_std_m3", float64(contents), 0, most, "m³", whyContents); err != nil {
		return 0, err
	}
	v := float64(contents) / float64(full.Contents)
	if err := gas.InRange("water_volume_m3", v, float64(WaterVolumeMinimum), float64(WaterVolumeMaximum), "m³", whyWaterVolume); err != nil {
		return 0, err
	}
	return units.Volume(v), nil
}
