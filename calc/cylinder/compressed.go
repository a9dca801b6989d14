package cylinder

import (
	"torchside/calc/gas"
	"torchside/calc/units"
)

// Limits of Compressed.
const (
	// GaugeMaximum is 300 bar: the highest fill of a welding gas cylinder and the end of the gas data.
	GaugeMaximum units.GaugePressure = 30e6
	// WaterVolumeMinimum and WaterVolumeMaximum run from a bottle for the hand to a bundle of cylinders.
	WaterVolumeMinimum units.Volume = 1e-4
	WaterVolumeMaximum units.Volume = 10
	// AmbientMinimum and AmbientMaximum run from the air at 5500 m to the highest barometer with room to spare.
	AmbientMinimum units.AbsolutePressure = 50e3
	AmbientMaximum units.AbsolutePressure = 120e3
)

const (
	whyGauge = "cylinders of welding gases are filled to 150 or 200 bar (2200 or 2900 psi), the highest to 300 bar (4350 psi); " +
		"if the gauge shows more, check the unit and keep clear"
	whyTemperature = "gas data were checked from -20 to 50 °C (-4 to 122 °F); a cylinder warmer than that is not to be used: keep away until it is known why"
	whyWaterVolume = "the water volume is stamped on the shoulder: about 3 to 50 L (180 to 3050 in³) for one cylinder, more for a bundle"
	whyAmbient     = "the air pressure around the gauge: 101 kPa (14.7 psi) at sea level, 50 kPa (7.3 psi) at 5500 m (18\u00a0000 ft)"
	whyReserve     = "a reserve is a gauge reading, from empty to a full cylinder"
)

// Compressed is a cylinder of compressed gas as its gauge and a thermometer show it.
type Compressed struct {
	Gas         gas.Gas
	WaterVolume units.Volume           // inside volume, as stamped on the shoulder
	Gauge       units.GaugePressure    // reading of the cylinder gauge
	Temperature units.Temperature      // of the gas: let the cylinder come to the temperature of the room
	Ambient     units.AbsolutePressure // barometer; units.StandardAtmosphere when it is not known
}

// Contents is what a compressed gas cylinder holds.
type Contents struct {
	Mass            units.Mass
	Contents        units.StandardVolume // all of the gas
	Deliverable     units.StandardVolume // less what stays at 0 gauge
	Density         units.Density        // at the state in the cylinder
	Compressibility float64              // Z = p M/(ρ R T)
	IdealGasError   float64              // ideal over real density, less 1: what the simple rule is off by
}

// Contents returns what the cylinder holds. Accuracy is that of gas.Density: 0.1 % for oxygen, 0.5 % for the others, to which the
// gauge (often 2 % of its full scale), the temperature and the stamped volume add. Errors: *NotCompressedError for a gas
// that must be weighed, gas.ErrUnknown, *gas.RangeError.
func (c Compressed) Contents() (Contents, error) {
	if err := c.check(); err != nil {
		return Contents{}, err
	}
	density, err := c.density(c.Gauge)
	if err != nil {
		return Contents{}, err
	}
	left, err := c.density(0)
	if err != nil {
		return Contents{}, err
	}
	p, t := float64(c.Gauge.Absolute(c.Ambient)), float64(c.Temperature)
	z := p * c.Gas.MolarMass() / (float64(density) * gas.R * t)
	return Contents{
		Mass:            units.Mass(float64(density) * float64(c.WaterVolume)),
		Contents:        c.standard(density),
		Deliverable:     c.standard(density - left),
		Density:         density,
		Compressibility: z,
		IdealGasError:   z - 1, // ideal density over real density is Z
	}, nil
}

// Above returns what can be drawn at this temperature before the gauge reads reserve; nothing when it already reads less.
// Errors as Contents, and *gas.RangeError for a reserve below 0 or above GaugeMaximum.
func (c Compressed) Above(reserve units.GaugePressure) (units.StandardVolume, error) {
	if err := c.check(); err != nil {
		return 0, err
	}
	if err := gas.InRange("reserve_gauge_pressure_pa", float64(reserve), 0, float64(GaugeMaximum), "Pa", whyReserve); err != nil {
		return 0, err
	}
	full, err := c.density(c.Gauge)
	if err != nil {
		return 0, err
	}
	left, err := c.density(reserve)
	if err != nil {
		return 0, err
	}
	return c.standard(max(0, full-left)), nil
}

// check refuses what is no compressed gas or out of range.
func (c Compressed) check() error {
	if err := checkCompressed(c.Gas); err != nil {
		return err
	}
	if err := gas.InRange("water_volume_m3", float64(c.WaterVolume), float64(WaterVolumeMinimum), float64(WaterVolumeMaximum), "m³", whyWaterVolume); err != nil {
		return err
	}
	if err := gas.InRange("gauge_pressure_pa", float64(c.Gauge), 0, float64(GaugeMaximum), "Pa", whyGauge); err != nil {
		return err
	}
	if err := gas.InRange("temperature_k", float64(c.Temperature), float64(gas.TemperatureMinimum), float64(gas.TemperatureMaximum), "K", whyTemperature); err != nil {
		return err
	}
	return gas.InRange("ambient_abs_pa", float64(c.Ambient), float64(AmbientMinimum), float64(AmbientMaximum), "Pa", whyAmbient)
}

// density is the density at another reading of the gauge.
func (c Compressed) density(g units.GaugePressure) (units.Density, error) {
	return c.Gas.Density(g.Absolute(c.Ambient), c.Temperature)
}

// standard is the standard volume of the cylinder filled at a density.
func (c Compressed) standard(d units.Density) units.StandardVolume {
	return units.StandardVolume(float64(d) * float64(c.WaterVolume) / float64(c.Gas.StandardDensity()))
}
