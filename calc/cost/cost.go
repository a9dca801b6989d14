// Package cost answers what a job costs: the gas it burns, the rod and flux it takes, and its share of the rent of the cylinders.
//
// Call [Gas.PerStdM3] for the price of a cylinder's gas and [Job.Price] for a job. Money is in the owner's currency and is never
// converted. What is not known is left out and named, never taken for nothing.
//
// # What it does not do
//
// It knows no deposit, delivery, hazard fee or tax unless they are in the price typed, no wages, no wear, and no waste but that in the
// bands it is given.
package cost

import (
	"torchside/calc/gas"
	"torchside/calc/units"
)

// Gas is what the owner pays for the gas of one line. What is 0 is not known.
type Gas struct {
	PerStdM3Typed float64 // price of the gas as typed, per m³ at 15 °C and 101.325 kPa; it goes before the price of a fill
	Fill          float64 // price of one fill
	FullStdM3     float64 // gas in a full cylinder
	// Reserve is the share of a full cylinder that goes back unused.
	Reserve      float64
	RentPerMonth float64 // of the cylinder
	FillsPerYear float64 // how often it is filled: spreads the rent over the gas
}

// Price is the price of a gas per standard m³: Fill for the gas, Rent for the cylinder.
type Price struct {
	Gas, Rent units.Band
	// RentLeftOut tells that there is a rent that could not be shared out: fills a year or the contents are not known.
	RentLeftOut bool
	Source      string
}

const (
	whyMoney   = "a price is not negative"
	mostMoney  = 1e7
	mostFills  = 1000
	mostVolume = 1000 // m³ standard, of one cylinder
)

func (g Gas) check() error {
	for _, err := range []error{
		gas.InRange("price_per_std_m3", g.PerStdM3Typed, 0, mostMoney, "", whyMoney),
		gas.InRange("fill_price", g.Fill, 0, mostMoney, "", whyMoney),
		gas.InRange("full_std_m3", g.FullStdM3, 0, mostVolume, "cubic metres", "no cylinder holds more"),
		gas.InRange("reserve_fraction", g.Reserve, 0, 0.95, "", "what goes back unused is a share of a full cylinder"),
		gas.InRange("rent_per_month", g.RentPerMonth, 0, mostMoney, "", whyMoney),
		gas.InRange("fills_per_year", g.FillsPerYear, 0, mostFills, "", "fills are counted"),
	} {
		if err != nil {
			return err
		}
	}
	return nil
}

// PerStdM3 returns the price of the gas; known is false where neither a price of the gas nor one of a fill with its contents is there.
// A fill is paid for whole but not used up: the value counts what the reserve sends back as lost, the low end nothing. The error is a
// *gas.RangeError.
func (g Gas) PerStdM3() (p Price, known bool, err error) {
	if err := g.check(); err != nil {
		return p, false, err
	}
	switch usable := g.FullStdM3 * (1 - g.Reserve); {
	case g.PerStdM3Typed > 0:
		p.Gas = exact(g.PerStdM3Typed)
		p.Source = "the price of the gas as typed"
	case g.Fill > 0 && g.FullStdM3 > 0:
		p.Gas = units.Band{Value: g.Fill / usable, Low: g.Fill / g.FullStdM3, High: g.Fill / usable,
			Reason: "between a cylinder that is used up and one that goes back with its reserve"}
		p.Source = "the price of a fill ÷ the gas in it"
	default:
		return p, false, nil
	}
	p.rent(g)
	return p, true, nil
}

// monthsPerYear turns a monthly rent into a yearly one.
const monthsPerYear = 12

// rent shares the rent of a year over the gas of a year.
func (p *Price) rent(g Gas) {
	if g.RentPerMonth == 0 {
		return
	}
	if g.FillsPerYear == 0 || g.FullStdM3 == 0 {
		p.RentLeftOut = true
		return
	}
	yearly, gasOfYear := g.RentPerMonth*monthsPerYear, g.FillsPerYear*g.FullStdM3
	worst := yearly / (gasOfYear * (1 - g.Reserve))
	p.Rent = units.Band{Value: worst, Low: yearly / gasOfYear, High: worst, Reason: "the rent of a year over the gas of a year"}
}

func exact(v float64) units.Band { return units.Band{Value: v, Low: v, High: v} }

// Part is one part of what a job costs.
type Part struct {
	Name string // "oxygen", "fuel", "rent", "rod", "flux"
	Cost units.Band
}

// Job is what a job takes. A price that is nil is not known.
type Job struct {
	OxygenStdM3, FuelStdM3 units.Band
	Oxygen, Fuel           *Price
	RodKg, FluxKg          units.Band
	RodPerKg, FluxPerKg    *float64
}

// Total is what a job costs. Missing names what was used but has no price: the sum is then without it.
type Total struct {
	Cost    units.Band
	Parts   []Part
	Missing []string
	// RentLeftOut tells that the rent of a cylinder is not in the sum.
	RentLeftOut bool
}

// Price adds the parts up. The ends of the bands are added: nothing tells that they offset each other. ok is false where nothing has a
// price.
func (j Job) Price() (t Total, ok bool) {
	rent := units.Band{}
	line := func(name string, used units.Band, p *Price) {
		switch {
		case used.High == 0:
			return
		case p == nil:
			t.Missing = append(t.Missing, name)
			return
		}
		t.add(name, product(used, p.Gas))
		rent = sum(rent, product(used, p.Rent))
		t.RentLeftOut = t.RentLeftOut || p.RentLeftOut
	}
	line("oxygen", j.OxygenStdM3, j.Oxygen)
	line("fuel", j.FuelStdM3, j.Fuel)
	if rent.High > 0 {
		t.add("rent", rent)
	}
	weighed := func(name string, used units.Band, perKg *float64) {
		switch {
		case used.High == 0:
		case perKg == nil:
			t.Missing = append(t.Missing, name)
		default:
			t.add(name, product(used, exact(*perKg)))
		}
	}
	weighed("rod", j.RodKg, j.RodPerKg)
	weighed("flux", j.FluxKg, j.FluxPerKg)
	return t, len(t.Parts) > 0
}

func (t *Total) add(name string, b units.Band) {
	t.Parts = append(t.Parts, Part{name, b})
	t.Cost = sum(t.Cost, b)
}

func product(a, b units.Band) units.Band {
	return units.Band{Value: a.Value * b.Value, Low: a.Low * b.Low, High: a.High * b.High}
}

func sum(a, b units.Band) units.Band {
	return units.Band{Value: a.Value + b.Value, Low: a.Low + b.Low, High: a.High + b.High}
}
