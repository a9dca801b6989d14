package cylinder

import (
	"torchside/calc/gas"
	"torchside/calc/units"
)

// MassMaximum is 3000 kg, above any bundle a workshop scale could hold.
const MassMaximum units.Mass = 3000

const (
	whyTare  = "the tare is the weight of the cylinder without gas, stamped on its collar or shoulder (TW or T)"
	whyGross = "the gross weight is that of cylinder and gas together, never below the tare: weigh without cap, regulator and trolley, and read the tare stamped on the cylinder"
)

// Liquefied is a cylinder of liquefied fuel gas on a scale.
type Liquefied struct {
	Gas         gas.Gas
	Gross, Tare units.Mass
}

// Contents returns the mass of gas and the standard volume it gives. Errors: *WrongStorageError for a gas that is not liquefied,
// gas.ErrUnknown, *gas.RangeError when gross is below tare or either is out of range.
func (l Liquefied) Contents() (units.Mass, units.StandardVolume, error) {
	if err := checkLiquefied(l.Gas); err != nil {
		return 0, 0, err
	}
	if err := checkTare(l.Tare); err != nil {
		return 0, 0, err
	}
	if err := gas.InRange("gross_mass_kg", float64(l.Gross), float64(l.Tare), float64(MassMaximum), "kg", whyGross); err != nil {
		return 0, 0, err
	}
	mass := weighed(l.Gross, l.Tare)
	return mass, standardVolume(l.Gas, mass), nil
}

// checkTare refuses a tare no cylinder has.
func checkTare(tare units.Mass) error {
	return gas.InRange("tare_mass_kg", float64(tare), 0.1, float64(MassMaximum), "kg", whyTare)
}

// weighed is gross less tare, kept from falling below zero by the last bit.
func weighed(gross, tare units.Mass) units.Mass { return max(0, gross-tare) }

// standardVolume is the standard volume of a mass of gas.
func standardVolume(g gas.Gas, m units.Mass) units.StandardVolume {
	return units.StandardVolume(float64(m) / float64(g.StandardDensity()))
}
