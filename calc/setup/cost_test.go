package setup

import (
	"math"
	"strings"
	"testing"

	"torchside/calc/calctest"
)

// paid gives both cylinders the price of a fill, a rent and the fills of a year, and filler and flux a price.
func paid(in Input) Input {
	in.Rig.Prices = &Prices{Oxygen: &GasPrice{FillPrice: 40, FullStdM3: 10, RentPerMonth: 5, FillsPerYear: 6},
		Fuel: &GasPrice{FillPrice: 100, FullStdM3: 5, ReserveFraction: 0.1, RentPerMonth: 6}, SilverPerKg: p(800), FluxPerKg: p(60)}
	return in
}

// An hour costs flow × price: oxygen 4 and its rent 60 ÷ 60 = 1 a m³, fuel 100 ÷ 4.5 a m³, whose rent cannot be shared out and is said so.
func TestCompute_costCountsFillAndRent(t *testing.T) {
	c := must(t, paid(eighth()))
	calctest.Near(t, *c.CostPerH, 3600*(c.Oxygen.FlowStdM3S*5+c.Fuel.FlowStdM3S*100/4.5), 1e-12, "by hand")
	pr := c.Provenance["cost_per_h"]
	if !(pr.Low <= *c.CostPerH && *c.CostPerH <= pr.High) || !strings.Contains(pr.Source, "rent of a year") || !strings.Contains(pr.Source, "fuel, the price of a fill ÷ the gas in it, without its rent") {
		t.Errorf("%+v", pr)
	}
	in := paid(eighth())
	in.Rig.Prices.Fuel = nil
	if c := must(t, in); c.CostPerH != nil {
		t.Errorf("half a cost: %v", *c.CostPerH)
	}
	in.Rig.FuelCylinder.PricePerStdM3 = 25
	calctest.Near(t, *must(t, in).CostPerH, 3600*(c.Oxygen.FlowStdM3S*5+c.Fuel.FlowStdM3S*25), 1e-12, "the price with the cylinder counts where there is no other")
	in.Rig.Prices.Oxygen.RentPerMonth = -1
	if no := refused(t, in); no.Field != "rig.prices.oxygen.rent_per_month" {
		t.Errorf("%+v", no)
	}
	in = paid(eighth())
	in.Rig.Prices.FluxPerKg = p(-1)
	if no := refused(t, in); no.Field != "rig.prices.flux_per_kg" {
		t.Errorf("%+v", no)
	}
}

// A weld takes its length over the printed speeds, and that time's gas.
func TestWithWeld_isLengthOverSpeed(t *testing.T) {
	in := paid(eighth())
	before := must(t, in)
	c, err := before.WithWeld(in, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, c.JobTimeS.Low, 0.5/c.SpeedMS.High, 1e-12, "length over the fastest")
	calctest.Near(t, c.JobTimeS.High, 0.5/c.SpeedMS.Low, 1e-12, "length over the slowest")
	calctest.Near(t, c.Job.Cost.Value, *c.CostPerH/3600*c.JobTimeS.Value, 1e-9, "the hour's cost for the time")
	hour := c.Provenance["cost_per_h"]
	calctest.Near(t, c.Job.Cost.High, hour.High/3600*c.JobTimeS.High, 1e-9, "the hour's highest cost for the longest time")
	calctest.Near(t, c.Job.Cost.Low, hour.Low/3600*c.JobTimeS.Low, 1e-9, "the hour's lowest cost for the shortest time")
	if len(c.Job.Parts) != 3 || !c.Job.RentLeftOut || before.Job != nil || c.Provenance[KeyJobCost].Source == "" {
		t.Errorf("%+v", c.Job)
	}
	if _, err := before.WithWeld(in, -1); err == nil {
		t.Error("a weld of -1 m is taken")
	}
}

// Heating costs its gas; brazing its gas, rod and flux; a metre of cut its gas. Nothing without a price has a cost.
func TestJobs_arePriced(t *testing.T) {
	heating := heated(t, paid(sixteen()), sixteenAsked())
	if heating.Heating.Never {
		t.Fatal("the bar is never hot")
	}
	calctest.Near(t, heating.Job.Cost.Value, *heating.CostPerH/3600*heating.Heating.TimeS.Value, 1e-9, "the hour's cost for the time")

	in := paid(bracket())
	in.TipLabel = "large"
	c, err := must(t, in).WithJoint(in, JointQuestion{SeamM: 0.04})
	if err != nil {
		t.Fatal(err)
	}
	u := c.Joining.Used
	if c.Job == nil || c.JobTimeS == nil {
		t.Fatalf("%+v, %+v", c.Job, c.Warnings)
	}
	calctest.Near(t, c.Job.Cost.Value, *c.CostPerH/3600*c.JobTimeS.Value+800*u.Mass.Value+60*u.Flux.Value, 1e-9, "gas and rent, rod, flux")
	in.Process, in.OtherMetal = "braze_weld", ""
	built, err := must(t, in).WithJoint(in, JointQuestion{SeamM: 0.04})
	if err != nil || built.Job == nil || len(built.Job.Missing) != 1 || built.Job.Missing[0] != "rod" {
		t.Errorf("%+v, %v", built.Job, err)
	}
	free := bracket()
	if c, err := must(t, free).WithJoint(free, JointQuestion{SeamM: 0.04}); err != nil || c.Job != nil {
		t.Errorf("%+v, %v", c.Job, err)
	}
}

// A seam twice as long, or two joints, take twice the time; the reckoning is of the order of the heat content of the parts: a lap of
// 40 × 9 mm of 3 mm steel on steel to 940 °C holds about 8 kJ between the edges of the lap, and some tens with what runs off.
func TestHeated_growsWithTheJoint(t *testing.T) {
	in := bracket()
	in.OtherMetal, in.TipLabel = "", "large"
	card := must(t, in)
	time := func(q JointQuestion) float64 {
		c, err := card.WithJoint(in, q)
		if err != nil || c.JobTimeS == nil {
			t.Fatalf("%v, %+v", err, c.Warnings)
		}
		return c.JobTimeS.Value
	}
	calctest.Near(t, time(JointQuestion{SeamM: 0.2}), 2*time(JointQuestion{SeamM: 0.1}), 1e-9, "pieces of 50 mm")
	calctest.Near(t, time(JointQuestion{SeamM: 0.04, Count: 3}), 3*time(JointQuestion{SeamM: 0.04}), 1e-9, "joints alike")
	mass := 7850 * 0.04 * 0.0095 * 0.00635
	least := mass * 650 * 900 / (card.PowerW * math.Sqrt(card.NetHeatW.Low*card.NetHeatW.High) / card.PowerW)
	if got := time(JointQuestion{SeamM: 0.04}); got < least || got > 20*least {
		t.Errorf("%v s, the lap alone takes %v s", got, least)
	}
}
