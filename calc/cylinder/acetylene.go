package cylinder

import (
	"torchside/calc/gas"
	"torchside/calc/units"
)

// Limits of Acetylene.
const (
	AcetyleneTemperatureMinimum units.Temperature = 233.15 // -40 °C
	AcetyleneTemperatureMaximum units.Temperature = 343.15 // 70 °C
	AcetyleneFullMinimum        units.Mass        = 0.1
	AcetyleneFullMaximum        units.Mass        = 500
	// OverfullShare is the share of the full charge above which the weights cannot be right.
	OverfullShare = 1.1
	// ScaleError is how well a shop scale and a stamped tare tell the gas in a cylinder. From memory.
	ScaleError units.Mass = 0.2
)

const (
	whyAcetyleneTemperature = "an acetylene cylinder outside -40 to 70 °C (-40 to 158 °F) is not to be used: let it come to the temperature of the shop; " +
		"one that is hot for no reason is an emergency, keep away and call the fire service"
	whyFull         = "the full charge of gas in one cylinder: about 0.3 kg (0.7 lb) in the smallest, 5 to 12 kg (11 to 26 lb) in the large ones, more in a bundle"
	whyAboveFull    = "a cylinder holds no more than its full charge: read gross, the tare stamped on the cylinder and the full charge again"
	whyFractionMass = "the scale and the stamped tare, ±0.2 kg (±0.4 lb) (from memory); solvent lost in use makes the gas look less than it is"
)

// Acetylene is a cylinder of dissolved acetylene on a scale.
type Acetylene struct {
	Gross, Tare units.Mass           // tare as stamped: shell, porous mass, solvent
	Full        units.Mass           // gas in a full cylinder
	Gauge       *units.GaugePressure // cylinder gauge after a rest; nil when not read
	Temperature units.Temperature    // of the cylinder
	Rule        WithdrawalRule       // empty: the strictest
}

// AcetyleneContents is what a cylinder of dissolved acetylene holds and may give.
type AcetyleneContents struct {
	Mass         units.Mass
	Contents     units.StandardVolume
	FractionFull units.Band         // by weight
	ByPressure   *units.Band        // what the gauge suggests, a rough band; nil without a reading
	Intermittent units.StandardFlow // most one cylinder may give in intermittent use
	Continuous   units.StandardFlow // most one cylinder may give in continuous use
	Withdrawal   Withdrawal         // the rule the limits follow
	ColdFactor   float64            // share of the limits left at this temperature, 1 when not cold
	Notes        []Note             // cautions first; show them before the numbers
}

// Contents returns contents by weight, the rough check by pressure and the withdrawal limits of the present contents. The volume is
// as good as the weights: 0.3 % of it is uncertain density. Errors: *gas.RangeError for a weight or temperature that cannot be
// (gross below tare, full not above zero, contents above OverfullShare of full), *UnknownRuleError.
func (a Acetylene) Contents() (AcetyleneContents, error) {
	if err := a.check(); err != nil {
		return AcetyleneContents{}, err
	}
	rule, err := a.Rule.Withdrawal()
	if err != nil {
		return AcetyleneContents{}, err
	}
	mass := weighed(a.Gross, a.Tare)
	c := AcetyleneContents{
		Mass:         mass,
		Contents:     standardVolume(gas.Acetylene, mass),
		FractionFull: a.fraction(mass),
		Withdrawal:   rule,
		ColdFactor:   ColdFactor(a.Temperature),
	}
	c.Intermittent = limit(rule.Intermittent, c.Contents, a.Temperature)
	c.Continuous = limit(rule.Continuous, c.Contents, a.Temperature)
	if c.ByPressure, err = a.byPressure(); err != nil {
		return AcetyleneContents{}, err
	}
	c.Notes = a.notes(c)
	return c, nil
}

// check refuses weights and temperatures that cannot be.
func (a Acetylene) check() error {
	if err := gas.InRange("temperature_k", float64(a.Temperature), float64(AcetyleneTemperatureMinimum), float64(AcetyleneTemperatureMaximum), "K", whyAcetyleneTemperature); err != nil {
		return err
	}
	if err := gas.InRange("full_mass_kg", float64(a.Full), float64(AcetyleneFullMinimum), float64(AcetyleneFullMaximum), "kg", whyFull); err != nil {
		return err
	}
	if err := checkTare(a.Tare); err != nil {
		return err
	}
	high, why := a.Tare+OverfullShare*a.Full, whyAboveFull
	if a.Gross < a.Tare {
		why = whyGross
	}
	return gas.InRange("gross_mass_kg", float64(a.Gross), float64(a.Tare), float64(high), "kg", why)
}

// fraction is the fraction of full by weight, with the band of the scale.
func (a Acetylene) fraction(mass units.Mass) units.Band {
	return units.Band{
		Value: float64(mass / a.Full), Low: float64(max(0, mass-ScaleError) / a.Full), High: float64((mass + ScaleError) / a.Full),
		Reason: whyFractionMass,
	}
}

// byPressure is what the gauge suggests; nil without a reading or where the estimate does not reach.
func (a Acetylene) byPressure() (*units.Band, error) {
	if a.Gauge == nil {
		return nil, nil
	}
	if err := gas.InRange("gauge_pressure_pa", float64(*a.Gauge), 0, float64(AcetyleneGaugeMaximum), "Pa", whyAcetyleneGauge); err != nil {
		return nil, err
	}
	if a.Temperature < gas.TemperatureMinimum || a.Temperature > gas.TemperatureMaximum {
		return nil, nil
	}
	// The barometer is taken as that of sea level: at 3000 m that is off by 0.02 of full, a tenth of the band.
	band, err := FractionByPressure(*a.Gauge, units.StandardAtmosphere, a.Temperature)
	return &band, err
}
