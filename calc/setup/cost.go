package setup

import (
	"strings"

	"torchside/calc/braze"
	"torchside/calc/cost"
	"torchside/calc/units"
	"torchside/calc/words"
)

// GasPrice is what the owner pays for the gas of one line; all fields may be missing. See calc/cost.
type GasPrice struct {
	PerStdM3        float64 `json:"per_std_m3,omitempty"` // goes before fill_price
	FillPrice       float64 `json:"fill_price,omitempty"`
	FullStdM3       float64 `json:"full_std_m3,omitempty"` // gas in a full cylinder
	ReserveFraction float64 `json:"reserve_fraction,omitempty"`
	RentPerMonth    float64 `json:"rent_per_month,omitempty"`
	FillsPerYear    float64 `json:"fills_per_year,omitempty"`
}

// Prices are the owner's prices in one currency; what is missing is not known.
type Prices struct {
	Oxygen      *GasPrice `json:"oxygen,omitempty"`
	Fuel        *GasPrice `json:"fuel,omitempty"`
	SilverPerKg *float64  `json:"silver_per_kg,omitempty"` // silver filler
	BrassPerKg  *float64  `json:"brass_per_kg,omitempty"`  // copper-zinc rod
	FillerPerKg *float64  `json:"filler_per_kg,omitempty"` // any other filler
	FluxPerKg   *float64  `json:"flux_per_kg,omitempty"`
}

// JobCost is what a job costs in gas, rent, rod and flux.
type JobCost struct {
	cost.Total
	// For is what the sum is for: the whole job, or a metre of it.
	For JobSpan
}

// JobSpan is what a sum is for.
type JobSpan string

// The spans of a sum.
const (
	WholeJob JobSpan = "job"
	PerMetre JobSpan = "metre"
)

// Keys of what a job adds to [Card.Provenance].
const (
	KeyJobCost = "job_cost"
	KeyJobTime = "job_time_s"
)

// gasPrice is the price of one line's gas; nil where it is not known. A price given with the cylinder counts where there is no other.
func gasPrice(p *GasPrice, withCylinder float64) (*cost.Price, error) {
	g := cost.Gas{PerStdM3Typed: withCylinder}
	if p != nil {
		g = cost.Gas{PerStdM3Typed: p.PerStdM3, Fill: p.FillPrice, FullStdM3: p.FullStdM3, Reserve: p.ReserveFraction, RentPerMonth: p.RentPerMonth, FillsPerYear: p.FillsPerYear}
		if g.PerStdM3Typed == 0 && g.Fill == 0 {
			g.PerStdM3Typed = withCylinder
		}
	}
	price, known, err := g.PerStdM3()
	if err != nil || !known {
		return nil, err
	}
	return &price, nil
}

// prices are those of both gases; nil for one that is not known.
func (in Input) prices() (oxygen, fuel *cost.Price, no *Refusal) {
	var p Prices
	if in.Rig.Prices != nil {
		p = *in.Rig.Prices
	}
	var withOxygen, withFuel float64
	if c := in.Rig.OxygenCylinder; c != nil {
		withOxygen = c.PricePerStdM3
	}
	if c := in.Rig.FuelCylinder; c != nil {
		withFuel = c.PricePerStdM3
	}
	oxygen, err := gasPrice(p.Oxygen, withOxygen)
	if err != nil {
		return nil, nil, refusalOf("rig.prices.oxygen", err)
	}
	if fuel, err = gasPrice(p.Fuel, withFuel); err != nil {
		return nil, nil, refusalOf("rig.prices.fuel", err)
	}
	return oxygen, fuel, nil
}

func checkPrices(in Input) *Refusal {
	_, _, no := in.prices()
	if p := in.Rig.Prices; p != nil && no == nil {
		for field, v := range map[string]*float64{"silver_per_kg": p.SilverPerKg, "brass_per_kg": p.BrassPerKg, "filler_per_kg": p.FillerPerKg, "flux_per_kg": p.FluxPerKg} {
			if v != nil && no == nil {
				no = checkPrice("rig.prices."+field, *v)
			}
		}
	}
	return no
}

// cost is money an hour; it stays nil unless both prices are known, for half a cost is misleading.
func (b *builder) cost() {
	oxygen, fuel, no := b.in.prices()
	if no != nil || oxygen == nil || fuel == nil {
		return
	}
	hour := func(e estimate) units.Band {
		return units.Band{Value: e.value * 3600, Low: e.prov.Low * 3600, High: e.prov.High * 3600}
	}
	t, _ := cost.Job{OxygenStdM3: hour(b.c.oxyFlow), FuelStdM3: hour(b.c.fuelFlow), Oxygen: oxygen, Fuel: fuel}.Price()
	v := b.put("cost_per_h", newEstimate(Computed, words.S("the owner's prices × flows: %s", priceSource(oxygen, fuel)), b.c.oxyFlow.prov.FromMemory || b.c.fuelFlow.prov.FromMemory,
		t.Cost.Value, t.Cost.Low, t.Cost.High, "the bands of the flows and prices"))
	b.card.CostPerH = &v
}

// priceSource says where the prices of the gases are from and whether rent is among them.
func priceSource(oxygen, fuel *cost.Price) string {
	var parts []string
	for _, l := range []struct {
		name string
		p    *cost.Price
	}{{"oxygen", oxygen}, {"fuel", fuel}} {
		if l.p == nil {
			continue
		}
		text := words.S("%s, %s", l.name, l.p.Source)
		switch {
		case l.p.Rent.High > 0:
			text += words.S(" and %s", l.p.Rent.Reason)
		case l.p.RentLeftOut:
			text += words.T(", without its rent")
		}
		parts = append(parts, text)
	}
	return words.Join(parts, "; ")
}

// jobUse is what a job takes.
type jobUse struct {
	oxygen, fuel, rodKg, fluxKg units.Band
	family                      braze.Family
	why                         string // of the gas
}

// priced adds the cost of a job to a card; nothing where no price is known.
func priced(c *Card, in Input, u jobUse, span JobSpan) {
	oxygen, fuel, no := in.prices()
	if no != nil {
		return
	}
	j := cost.Job{OxygenStdM3: u.oxygen, FuelStdM3: u.fuel, Oxygen: oxygen, Fuel: fuel, RodKg: u.rodKg, FluxKg: u.fluxKg}
	if p := in.Rig.Prices; p != nil {
		j.FluxPerKg = p.FluxPerKg
		switch u.family {
		case braze.Silver:
			j.RodPerKg = p.SilverPerKg
		case braze.CopperZinc:
			j.RodPerKg = p.BrassPerKg
		default:
			j.RodPerKg = p.FillerPerKg
		}
	}
	t, ok := j.Price()
	if !ok {
		return
	}
	c.Job = &JobCost{Total: t, For: span}
	c.Provenance[KeyJobCost] = Provenance{Kind: Computed, Source: words.S("the owner's prices × what is used: %s", strings.TrimPrefix(priceSource(oxygen, fuel)+"; "+u.why, "; ")), FromMemory: true,
		Low: t.Cost.Low, High: t.Cost.High, Reason: "the ends of all bands added: gas, rent, rod and flux"}
}

// jobOfCut prices a metre of cut.
func (b *builder) jobOfCut() {
	if b.card.Cutting == nil {
		return
	}
	band := func(key string, value float64) units.Band {
		p := b.card.Provenance[key]
		return units.Band{Value: value, Low: p.Low, High: p.High}
	}
	priced(&b.card, b.in, jobUse{oxygen: band(KeyOxygenPerM, b.card.Cutting.OxygenPerLength), fuel: band(KeyFuelPerM, b.card.Cutting.FuelPerLength),
		why: "gas for a metre of cut by hand, without the start"}, PerMetre)
}
