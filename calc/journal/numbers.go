package journal

// Number describes one number of a sheet: for forms, comparing and tables.
type Number struct {
	Field     string // JSON name
	Name      string
	Quantity  string // of calc/units, as a word
	Low, High float64
	Unit      string // SI
	Why       string // of the limits

	value *float64
}

// numbers lists the numbers of a sheet with their limits. The limits only keep slips of the finger out: the journal notes what
// was done, and judges nothing.
func (s Sheet) numbers() []Number {
	return []Number{
		{"thickness_m", "Thickness", "thickness", 0.0001, 0.3, "m", "no torch of a small shop works outside this", s.ThicknessM},
		{"oxygen_gauge_pa", "Oxygen, regulator", "pressure", 0, 2.5e6, "Pa", "no delivery gauge of a shop goes higher", s.OxygenGaugePa},
		{"fuel_gauge_pa", "Fuel, regulator", "pressure", 0, 1e6, "Pa", "no delivery gauge for fuel goes higher; acetylene stays far below", s.FuelGaugePa},
		{"ratio", "Oxygen to fuel", "number", 0.1, 10, "", "outside this no torch flame burns in a useful way", s.Ratio},
		{"filler_diameter_m", "Filler diameter", "length", 0.0002, 0.012, "m", "rods are not made outside this", s.FillerDiameterM},
		{"travel_length_m", "Travel, length", "length", 0.001, 100, "m", "a bead timed by stopwatch is not longer", s.TravelLengthM},
		{"travel_s", "Travel, time", "time", 0.1, 86400, "s", "a stopwatch runs for a day at most", s.TravelS},
		{"duration_s", "Time taken", "time", 0, 864000, "s", "ten days are more than one sheet", s.DurationS},
		{"oxygen_used_std_m3", "Oxygen used", "gas volume", 0, 200, "m³", "this is more than a bundle of cylinders holds", s.OxygenUsedStdM3},
		{"fuel_used_std_m3", "Fuel used", "gas volume", 0, 200, "m³", "this is more than a bundle of cylinders holds", s.FuelUsedStdM3},
	}
}

// Numbers lists the numbers a sheet can hold, in the order of the page.
func Numbers() []Number { return Sheet{}.numbers() }

// Number returns a number of the sheet by its JSON name; nil when it was not noted or there is none of that name.
func (s Sheet) Number(field string) *float64 {
	for _, n := range s.numbers() {
		if n.Field == field {
			return n.value
		}
	}
	return nil
}

// WithNumber returns the sheet with one number set, or taken away by nil. An unknown name changes nothing.
func (s Sheet) WithNumber(field string, v *float64) Sheet {
	for name, at := range map[string]**float64{
		"thickness_m": &s.ThicknessM, "oxygen_gauge_pa": &s.OxygenGaugePa, "fuel_gauge_pa": &s.FuelGaugePa, "ratio": &s.Ratio,
		"filler_diameter_m": &s.FillerDiameterM, "travel_length_m": &s.TravelLengthM, "travel_s": &s.TravelS, "duration_s": &s.DurationS,
		"oxygen_used_std_m3": &s.OxygenUsedStdM3, "fuel_used_std_m3": &s.FuelUsedStdM3,
	} {
		if name == field {
			*at = v
		}
	}
	return s
}

func (c *checker) numbers(s Sheet) {
	for _, n := range s.numbers() {
		c.number(n.Field, n.value, n.Low, n.High, n.Unit, n.Why)
	}
}
