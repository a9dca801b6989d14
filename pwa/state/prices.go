package state

import (
	"torchside/calc/cylinder"
	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/units"
)

// Keys of what a cylinder costs, in its part; the price of the gas itself goes before them.
const (
	keyPrice    = "price"
	keyFillCost = "fill_price"
	keyRent     = "rent"
	keyFills    = "fills"
	keyFilledTo = "filled_to" // of a cylinder known by its water volume: only for what a fill holds
)

const whyMoney = "a price is not negative"

// costSpecs are the fields of a cylinder that say what it costs. All may stay empty.
var costSpecs = []Spec{
	numberSpec(keyPrice, "Price of the gas", "For the cost of a job. May stay empty; it goes before the price of a fill.", units.QuantityMoneyPerVolume, 0, 1e6, whyMoney).brief("Price").of("own"),
	numberSpec(keyFillCost, "Price of one fill", "What you pay for a full one. With what it holds it gives the price of the gas.", units.QuantityMoney, 0, 1e6, whyMoney).brief("Fill"),
	numberSpec(keyFilledTo, "Pressure when full", "Only to turn the price of a fill into a price of gas.", units.QuantityPressure, minFillPa, maxCylinderPa,
		"cylinders are filled to 10 to 300 bar").brief("Filled to").only(isSized("")).steps(stepsCylinder),
	numberSpec(keyRent, "Rent a month", "Of the cylinder. Empty when it is yours.", units.QuantityMoney, 0, 1e6, whyMoney).brief("Rent a month"),
	numberSpec(keyFills, "Fills a year", "Spreads the rent over the gas you use; without it the rent is left out, and that is said.", units.QuantityNumber, 0.1, 1000, "fills are counted").brief("Fills a year"),
}

// Keys of the prices of filler and flux among the preferences.
const (
	PrefSilverPrice = "silver_price"
	PrefBrassPrice  = "brass_price"
	PrefFillerPrice = "filler_price"
	PrefFluxPrice   = "flux_price"
)

// pricePrefSpecs are prices that belong to no part of the rig.
var pricePrefSpecs = []Spec{
	numberSpec(PrefSilverPrice, "Price of silver filler", "For the cost of a brazed joint.", units.QuantityMoneyPerMass, 0, 1e6, whyMoney),
	numberSpec(PrefBrassPrice, "Price of brass rod", "RBCuZn classes.", units.QuantityMoneyPerMass, 0, 1e6, whyMoney),
	numberSpec(PrefFillerPrice, "Price of other filler", "Copper-phosphorus, aluminium-silicon, solder.", units.QuantityMoneyPerMass, 0, 1e6, whyMoney),
	numberSpec(PrefFluxPrice, "Price of flux", "", units.QuantityMoneyPerMass, 0, 1e6, whyMoney),
}

// pricesSI are the owner's prices as calc takes them.
func (a App) pricesSI() *setup.Prices {
	return &setup.Prices{Oxygen: a.gasPrice(LineOxygen, PrefOxygenPrice), Fuel: a.gasPrice(LineFuel, PrefFuelPrice),
		SilverPerKg: a.Prefs.given(PrefSilverPrice), BrassPerKg: a.Prefs.given(PrefBrassPrice), FillerPerKg: a.Prefs.given(PrefFillerPrice), FluxPerKg: a.Prefs.given(PrefFluxPrice)}
}

// gasPrice is what the cylinder in use says of its price. The price set on Bench counts only where the cylinder has none at all.
func (a App) gasPrice(line, pref string) *setup.GasPrice {
	c, ok := a.inUse(KindCylinder, line)
	if !ok {
		return nil
	}
	p := &setup.GasPrice{PerStdM3: c.numberOr(keyPrice, 0), FillPrice: c.numberOr(keyFillCost, 0), RentPerMonth: c.numberOr(keyRent, 0), FillsPerYear: c.numberOr(keyFills, 0)}
	p.FullStdM3, p.ReserveFraction = a.fullOf(c)
	if p.PerStdM3 == 0 && (p.FillPrice == 0 || p.FullStdM3 == 0) {
		p.PerStdM3 = a.Prefs.number(pref)
	}
	return p
}

// fillTemperature is the temperature a fill is stated at, K: 15 °C.
const fillTemperature = 288.15

// fullOf is the gas in a full cylinder and the share of it that goes back unused; both 0 where they are not known.
func (a App) fullOf(c Part) (fullStdM3, reserve float64) {
	g := gas.Gas(c.Choices["gas"])
	f := fill{choices: c.Choices}
	if isWeighed(f) {
		full := c.number("full_mass")
		if full == nil || g.StandardDensity() == 0 {
			return 0, 0
		}
		return *full / float64(g.StandardDensity()), *firstOf(c.number("reserve_fraction"), a.Prefs.given(PrefFuelReserve), new(float64))
	}
	filled := firstOf(c.number("fill_gauge"), c.number(keyFilledTo))
	if filled == nil || *filled == 0 {
		return 0, 0
	}
	reserve = min(0.95, *firstOf(c.number("reserve_gauge"), a.Prefs.given(PrefOxygenReserve), new(float64)) / *filled)
	if full := c.number("full_contents"); full != nil && isSized(sizeAsSold)(f) {
		return *full, reserve
	}
	water := c.number("water_volume")
	if water == nil {
		return 0, 0
	}
	r, err := cylinder.Compressed{Gas: g, WaterVolume: units.Volume(*water), Gauge: units.GaugePressure(*filled), Temperature: fillTemperature, Ambient: units.StandardAtmosphere}.Contents()
	if err != nil {
		return 0, 0
	}
	return float64(r.Contents), reserve
}
