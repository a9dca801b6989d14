package cost

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// A fill of 40 money for 10 m³ of which a tenth goes back costs 4 to 4.44 a m³; 5 a month for 6 such fills a year is 60 over 54 to 60 m³.
func ExampleGas_PerStdM3() {
	p, known, err := Gas{Fill: 40, FullStdM3: 10, Reserve: 0.1, RentPerMonth: 5, FillsPerYear: 6}.PerStdM3()
	fmt.Printf("%.2f (%.2f to %.2f) and rent %.2f (%.2f to %.2f) %v %v\n", p.Gas.Value, p.Gas.Low, p.Gas.High, p.Rent.Value, p.Rent.Low, p.Rent.High, known, err)
	// Output: 4.44 (4.00 to 4.44) and rent 1.11 (1.00 to 1.11) true <nil>
}

// A whole cylinder burned is the whole price of its fill, and a year of fills is a year of rent: nothing is lost or made up.
func TestPerStdM3_aWholeCylinderIsItsFill(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	for range 1000 {
		g := Gas{Fill: 1 + 100*r.Float64(), FullStdM3: 0.5 + 20*r.Float64(), Reserve: 0.5 * r.Float64(), RentPerMonth: 20 * r.Float64(), FillsPerYear: 1 + 20*r.Float64()}
		p, known, err := g.PerStdM3()
		if err != nil || !known {
			t.Fatal(err)
		}
		usable := g.FullStdM3 * (1 - g.Reserve)
		calctest.Near(t, p.Gas.Value*usable, g.Fill, 1e-12, "what can be used of a fill costs the fill")
		calctest.Near(t, p.Gas.Low*g.FullStdM3, g.Fill, 1e-12, "all of a fill costs the fill")
		calctest.Near(t, p.Rent.Value*usable*g.FillsPerYear, 12*g.RentPerMonth, 1e-12, "a year of fills bears a year of rent")
		if p.Gas.Low > p.Gas.Value || p.Gas.Value > p.Gas.High {
			t.Errorf("%+v", p)
		}
	}
}

// The price typed goes before the price of a fill; what is not known is not taken for nothing.
func TestPerStdM3_whatIsNotKnown(t *testing.T) {
	if p, known, _ := (Gas{PerStdM3Typed: 7, Fill: 40, FullStdM3: 10}).PerStdM3(); !known || p.Gas.Value != 7 || p.Gas.Low != 7 {
		t.Errorf("%+v", p)
	}
	for _, g := range []Gas{{}, {Fill: 40}, {FullStdM3: 10}, {RentPerMonth: 5, FillsPerYear: 2, FullStdM3: 10}} {
		if _, known, err := g.PerStdM3(); known || err != nil {
			t.Errorf("%+v is said to have a price", g)
		}
	}
	for _, g := range []Gas{{Fill: 40, FullStdM3: 10, RentPerMonth: 5}, {PerStdM3Typed: 4, RentPerMonth: 5, FillsPerYear: 6}} {
		if p, known, _ := g.PerStdM3(); !known || !p.RentLeftOut || p.Rent.High != 0 {
			t.Errorf("%+v: %+v", g, p)
		}
	}
	for field, g := range map[string]Gas{"fill_price": {Fill: -1}, "reserve_fraction": {Reserve: 1}, "fills_per_year": {FillsPerYear: 1e6}, "rent_per_month": {RentPerMonth: -2},
		"full_std_m3": {FullStdM3: 1e6}, "price_per_std_m3": {PerStdM3Typed: -3}} {
		_, _, err := g.PerStdM3()
		var outside *gas.RangeError
		if !errors.As(err, &outside) || outside.Field != field {
			t.Errorf("%s: %v", field, err)
		}
	}
}

// The sum is its parts; what was used without a price is named; a job of nothing costs nothing.
func TestPrice_isTheSumOfItsParts(t *testing.T) {
	rod, flux := 200., 60.
	oxygen := &Price{Gas: units.Band{Value: 5, Low: 4, High: 5}, Rent: units.Band{Value: 1, Low: 0.9, High: 1}}
	fuel := &Price{Gas: exact(25), RentLeftOut: true}
	j := Job{OxygenStdM3: units.Band{Value: 0.1, Low: 0.08, High: 0.2}, FuelStdM3: units.Band{Value: 0.09, Low: 0.07, High: 0.18}, Oxygen: oxygen, Fuel: fuel,
		RodKg: units.Band{Value: 0.002, Low: 0.001, High: 0.003}, FluxKg: units.Band{Value: 0.001, Low: 0.0005, High: 0.002}, RodPerKg: &rod, FluxPerKg: &flux}
	total, ok := j.Price()
	if !ok || len(total.Parts) != 5 || len(total.Missing) != 0 || !total.RentLeftOut {
		t.Fatalf("%+v", total)
	}
	calctest.Near(t, total.Cost.Value, 0.5+2.25+0.1+0.4+0.06, 1e-12, "by hand")
	calctest.Near(t, total.Cost.Low, 0.32+1.75+0.072+0.2+0.03, 1e-12, "by hand")
	calctest.Near(t, total.Cost.High, 1+4.5+0.2+0.6+0.12, 1e-12, "by hand")
	j.Fuel, j.RodPerKg = nil, nil
	part, ok := j.Price()
	if !ok || len(part.Missing) != 2 || part.Missing[0] != "fuel" || part.Missing[1] != "rod" || part.Cost.Value >= total.Cost.Value {
		t.Errorf("%+v", part)
	}
	if _, ok := (Job{RodKg: exact(1)}).Price(); ok {
		t.Error("a job without prices has a cost")
	}
	if none, ok := (Job{}).Price(); ok || len(none.Missing) != 0 {
		t.Errorf("%+v", none)
	}
}
