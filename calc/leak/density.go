package leak

import (
	"torchside/calc/gas"
	"torchside/calc/units"
)

// What is taken for a temperature that was not read. The figures are ours: a garage moves by a few kelvin while a test runs, and
// is rarely colder than 0 or warmer than 40 °C.
const (
	assumedTemperature units.Temperature           = 293.15
	assumedDrift       units.TemperatureDifference = 5  // of each reading that was not taken
	assumedLevel       units.TemperatureDifference = 20 // of all of them together, when none was taken
)

// state is one reading as densities: what the gas weighs per m³, and how little and how much it may weigh.
type state struct {
	at             float64 // s
	low, mid, high float64 // kg/m³
}

// states turns the readings into densities.
func (t Test) states() ([]state, error) {
	mean, _ := t.meanTemperature()
	list := make([]state, 0, len(t.Readings))
	for i, r := range t.Readings {
		temperature, off := mean, max(assumedDrift, t.TemperatureError)
		if r.Temperature != nil {
			temperature, off = *r.Temperature, t.TemperatureError
		}
		mid, err := t.Gas.Density(r.Pressure, temperature)
		if err != nil {
			return nil, renamed(err, t.field(i, "abs_pa"), t.field(i, "temperature_k"))
		}
		e := t.pressureError()
		list = append(list, state{
			at:   float64(r.At),
			low:  corner(t.Gas, float64(mid), r.Pressure, temperature, -e, off),
			mid:  float64(mid),
			high: corner(t.Gas, float64(mid), r.Pressure, temperature, e, -off),
		})
	}
	return list, nil
}

// meanTemperature is what a missing temperature is taken for, and whether any was read.
func (t Test) meanTemperature() (units.Temperature, bool) {
	sum, n := units.Temperature(0), 0
	for _, r := range t.Readings {
		if r.Temperature != nil {
			sum, n = sum+*r.Temperature, n+1
		}
	}
	if n == 0 {
		return assumedTemperature, false
	}
	return sum / units.Temperature(n), true
}

// missing counts the readings without a temperature.
func (t Test) missing() int {
	n := 0
	for _, r := range t.Readings {
		if r.Temperature == nil {
			n++
		}
	}
	return n
}

// volumes are the smallest and the largest volume to reckon with. Without any temperature the level of them all is unknown, which
// scales every density alike: it counts as an error of the volume.
func (t Test) volumes() (low, high float64) {
	off := float64(t.VolumeError)
	if _, read := t.meanTemperature(); !read {
		off += float64(t.Volume) * float64(assumedLevel) / float64(assumedTemperature)
	}
	v := float64(t.Volume)
	return max(v-off, v*(1-VolumeErrorShare)), v + off
}

// corner is the density with pressure and temperature off by dp and dt. Just outside the gas data it is twice the change of an
// ideal gas, more than that of any gas here.
func corner(g gas.Gas, mid float64, p units.AbsolutePressure, t units.Temperature, dp units.AbsolutePressure, dt units.TemperatureDifference) float64 {
	offP, offT := max(0, p+dp), t+units.Temperature(dt)
	if d, err := g.Density(offP, offT); err == nil {
		return float64(d)
	}
	ideal := float64(offP/p) * float64(t/offT)
	return max(0, mid*(1+2*(ideal-1)))
}
