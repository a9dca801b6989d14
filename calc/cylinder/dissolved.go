package cylinder

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// Limits of FractionByPressure.
const (
	// AcetyleneGaugeMaximum is above a full cylinder at 50 °C (30 bar).
	AcetyleneGaugeMaximum units.GaugePressure = 35e5
	// FractionByPressureUncertainty is how far the true fraction may lie from the one the gauge suggests. The models differ by 0.1;
	// 5 K change it by an eighth; the charge of solvent is lost in use and the solution cools while gas is drawn.
	FractionByPressureUncertainty = 0.2
	// fractionMaximum ends the search: nothing is known about cylinders filled beyond it.
	fractionMaximum = 1.2
)

const (
	whyAcetyleneGauge       = "a full acetylene cylinder shows 250 psi (17 bar) at 21 °C (70 °F) and about 30 bar (435 psi) at 50 °C (122 °F); more is no acetylene cylinder in order"
	whyDissolvedTemperature = "the pressure of dissolved acetylene is estimated from -20 to 50 °C (-4 to 122 °F)"
	whyFractionBand         = "the gauge of an acetylene cylinder is a poor guide: ±0.2 of full; weigh it to know"
)

// dissolvedPressure is the absolute pressure in Pa over acetylene dissolved in acetone in a typical full cylinder's charge, at the
// fraction f of full and t in K: acetone's own vapour, and acetylene in proportion to f with a correction for the swelling solution.
//
// The coefficients are a fit (worst error 0.6 %) to the mean of two models of the solution, PCP-SAFT and PSRK, scaled so that
// full shows 250 psi gauge at 70 °F (49 CFR 178.59): rows cylinder_pressure of testdata/reference/acetylene_dissolved.csv.
// They are estimates, not measurements; the two models lie up to 8 % of the absolute pressure from the mean.
func dissolvedPressure(f, t float64) float64 {
	y := 288.15/t - 1
	solvent := math.Exp(-1.6317 - 13.023*y)
	slope := math.Exp(3.0306 - 5.9669*y - 2.1616*y*y)
	swelling := 1 + (-0.25203-0.10316*y)*f + (0.017091-0.061026*y)*f*f
	return 1e5 * (solvent + f*slope*swelling)
}

// FractionByPressure returns the rough fraction of full that an acetylene cylinder's gauge suggests once the cylinder has stood
// unused at t, with its wide band; ambient is the barometer. Errors: *gas.RangeError.
func FractionByPressure(gauge units.GaugePressure, ambient units.AbsolutePressure, t units.Temperature) (units.Band, error) {
	if err := gas.InRange("gauge_pressure_pa", float64(gauge), 0, float64(AcetyleneGaugeMaximum), "Pa", whyAcetyleneGauge); err != nil {
		return units.Band{}, err
	}
	if err := gas.InRange("ambient_abs_pa", float64(ambient), float64(AmbientMinimum), float64(AmbientMaximum), "Pa", whyAmbient); err != nil {
		return units.Band{}, err
	}
	if err := gas.InRange("temperature_k", float64(t), float64(gas.TemperatureMinimum), float64(gas.TemperatureMaximum), "K", whyDissolvedTemperature); err != nil {
		return units.Band{}, err
	}
	f := fractionAt(float64(gauge.Absolute(ambient)), float64(t))
	return units.Band{
		Value: f, Low: max(0, f-FractionByPressureUncertainty), High: f + FractionByPressureUncertainty, Reason: whyFractionBand,
	}, nil
}

// fractionAt halves the interval until the fraction is found; the pressure rises with it all the way.
func fractionAt(p, t float64) float64 {
	low, high := 0.0, fractionMaximum
	for range 50 {
		middle := (low + high) / 2
		if dissolvedPressure(middle, t) < p {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}
