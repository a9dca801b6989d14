package setup

import (
	"torchside/calc/cylinder"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// defaultReserveGauge stays in an oxygen cylinder when the owner sets nothing: enough for the regulator to hold its pressure
// and for no air to get in. From memory.
const defaultReserveGauge = 50 * units.PSI

// defaultReserveShare of a full cylinder of dissolved or liquefied gas stays in it when the owner sets nothing: below it
// acetylene carries solvent over. From memory.
const defaultReserveShare = 0.10

// stock is what one gas's cylinders hold.
type stock struct {
	drawable *estimate // down to the reserve, m³ standard; nil when not known
	// intermittent and continuous are the withdrawal limits of all cylinders together; nil when there are none or they are
	// not known.
	intermittent, continuous *float64
	perCylinder              float64 // the intermittent limit of one
	// Where each limit comes from; flat tells that the intermittent one is the same for every cylinder, however large.
	intermittentSource, continuousSource string
	flat                                 bool
	spent                                *spent // nil while there is something to draw, or when nothing is known
	drawn                                *drawn // how the limits shrink with the contents; nil when there are none or they are not known
	notes                                []Warning
}

// oxygenStock works out the oxygen cylinder. The limits of its numbers were checked before.
func oxygenStock(in Input) (stock, error) {
	c := in.Rig.OxygenCylinder
	if c == nil {
		return stock{}, nil
	}
	reserve := defaultReserveGauge
	if c.ReserveGaugePa != nil {
		reserve = *c.ReserveGaugePa
	}
	s, err := compressedStock(in, gas.Oxygen, c.WaterVolumeM3, c.GaugePressurePa, reserve, c.ReserveGaugePa == nil, max(1, c.Count))
	return s, err
}

// gaugeShare is how well a cylinder gauge tells the contents: a gauge of accuracy class 2.5 and the temperature of the gas,
// which is not that of the shop. From memory.
const gaugeShare = 0.05

func compressedStock(in Input, g gas.Gas, volume, gauge, reserve float64, memory bool, count int) (stock, error) {
	c := cylinder.Compressed{Gas: g, WaterVolume: units.Volume(volume), Gauge: units.GaugePressure(gauge),
		Temperature: units.Temperature(in.TemperatureK), Ambient: units.AbsolutePressure(in.AmbientAbsPa)}
	all, err := c.Contents()
	if err != nil {
		return stock{}, err
	}
	above := units.StandardVolume(0)
	if gauge > reserve {
		if above, err = c.Above(units.GaugePressure(reserve)); err != nil {
			return stock{}, err
		}
	}
	v, off := float64(above)*float64(count), gaugeShare*float64(all.Contents)*float64(count)
	e := newEstimate(Computed, "real-gas equation of state", memory, v, max(0, v-off), v+off, "the cylinder gauge and the temperature of the gas, ±5 % of the contents (from memory)").
		withFormula("contents at the gauge reading less contents at the reserve", NamedValue{Name: "water volume", Quantity: "volume", SI: volume},
			NamedValue{Name: "gauge", Quantity: "pressure", SI: gauge}, NamedValue{Name: "reserve", Quantity: "pressure", SI: reserve},
			NamedValue{Name: "temperature", Quantity: "temperature", SI: in.TemperatureK})
	return stock{drawable: &e, spent: spentByGauge(gauge, reserve)}, nil
}

// fuelStock works out the fuel cylinder, with the caution when nothing is left to draw.
func fuelStock(in Input) (stock, error) {
	s, err := storedFuel(in)
	if s.spent != nil {
		fuel := in.Rig.FuelCylinder.Fuel
		why := "The regulator may not hold its pressure"
		if fuel == gas.Acetylene {
			why = "Drawn further, solvent comes with the gas"
		}
		s.notes = append(s.notes, s.spent.caution(fuel.Name(), "fuel", why, sourceReserve))
	}
	return s, err
}

// storedFuel works out the fuel cylinder by the way its gas is kept.
func storedFuel(in Input) (stock, error) {
	switch in.Rig.FuelCylinder.Fuel.Storage() {
	case gas.StoredDissolved:
		return acetyleneStock(in)
	case gas.StoredLiquefied:
		return liquefiedStock(in)
	}
	c := in.Rig.FuelCylinder
	if c.WaterVolumeM3 == nil || c.GaugePressurePa == nil {
		return stock{notes: []Warning{unknownFuel("Enter water volume and gauge pressure of the fuel cylinder to see how long it lasts.")}}, nil
	}
	return compressedStock(in, c.Fuel, *c.WaterVolumeM3, *c.GaugePressurePa, defaultReserveGauge, true, max(1, c.Count))
}

func unknownFuel(text string) Warning {
	return Warning{Code: "fuel_contents_unknown", Level: Check, Text: text, Source: "Torchside", Concerns: "endurance_s"}
}

// weighed reports whether gross and tare are known.
func weighed(c *FuelCylinder) bool { return c.GrossMassKg != nil && c.TareMassKg != nil }

func liquefiedStock(in Input) (stock, error) {
	c := in.Rig.FuelCylinder
	if !weighed(c) {
		return stock{notes: []Warning{unknownFuel("Weigh the fuel cylinder and enter gross and tare: a liquefied gas shows the same pressure until the liquid is gone.")}}, nil
	}
	_, volume, err := cylinder.Liquefied{Gas: c.Fuel, Gross: units.Mass(*c.GrossMassKg), Tare: units.Mass(*c.TareMassKg)}.Contents()
	if err != nil {
		return stock{}, err
	}
	mass := *c.GrossMassKg - *c.TareMassKg
	e := byWeight(c, float64(volume), mass)
	return stock{drawable: &e, spent: spentByWeight(c, mass)}, nil
}

// byWeight is what can be drawn of a weighed gas down to the reserve.
func byWeight(c *FuelCylinder, contents, massKg float64) estimate {
	reserve := reserveKg(c, massKg)
	return weighedVolume(c, contents, massKg, reserve, c.ReserveFraction == nil).
		withFormula("(gross − tare − reserve) × volume per mass", NamedValue{Name: "gas in the cylinder", Quantity: "mass", SI: massKg},
			NamedValue{Name: "reserve", Quantity: "mass", SI: reserve})
}

// weighedVolume is the volume of a weighed gas in all cylinders together, less what stays in each.
func weighedVolume(c *FuelCylinder, contents, massKg, staysKg float64, memory bool) estimate {
	perKg := 0.0
	if massKg > 0 {
		perKg = contents / massKg
	}
	n := float64(max(1, c.Count))
	v, off := max(0, massKg-staysKg)*perKg*n, float64(cylinder.ScaleError)*perKg*n
	return newEstimate(Computed, "weight of the gas × specific volume of the real gas", memory, v, max(0, v-off), v+off, "the scale and the stamped tare, ±0.2 kg (±0.4 lb) (from memory)")
}

// reserveKg is what stays in one cylinder; of a cylinder whose full charge is not known, a share of what it holds.
func reserveKg(c *FuelCylinder, massKg float64) float64 {
	if c.FullMassKg != nil {
		return reserveShare(c) * *c.FullMassKg
	}
	return reserveShare(c) * massKg
}

func reserveShare(c *FuelCylinder) float64 {
	if c.ReserveFraction != nil {
		return *c.ReserveFraction
	}
	return defaultReserveShare
}
