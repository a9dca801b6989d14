package present

import (
	"strings"
	"testing"

	"torchside/calc/cost"
	"torchside/calc/setup"
	"torchside/calc/units"
)

func band(v float64) units.Band { return units.Band{Value: v, Low: v / 2, High: v * 2} }

// The sum stands with its band, its parts and what is not in it; a metre of cut is a foot for a US owner.
func TestCost_isSaidWithItsParts(t *testing.T) {
	c := exampleCard()
	c.Job = &setup.JobCost{For: setup.WholeJob, Total: cost.Total{Cost: band(3.4), Parts: []cost.Part{{Name: "oxygen", Cost: band(0.4)}, {Name: "fuel", Cost: band(2)}, {Name: "rent", Cost: band(1)}},
		Missing: []string{"rod"}, RentLeftOut: true}}
	time := units.Band{Value: 400, Low: 300, High: 500}
	c.JobTimeS = &time
	o := metric
	o.Currency = "€"
	n := numberOf(t, NewCard(c, o), setup.KeyJobCost)
	if n.Text() != "€3.40" || n.Band != "€1.70 to €6.80" || !strings.HasPrefix(n.Note, "Oxygen €0.40, acetylene €2.00, rent €1.00.") || !strings.Contains(n.Note, "Without rod") || !strings.Contains(n.Note, "rent is left out") {
		t.Errorf("%+v", n)
	}
	if n := numberOf(t, NewCard(c, o), setup.KeyJobTime); n.Label != "Time of the weld" || n.Band == "" {
		t.Errorf("%+v", n)
	}
	c.Job.For, c.Job.Missing, c.Job.RentLeftOut, c.Job.Cost = setup.PerMetre, nil, false, units.Band{Value: 1, Low: 1, High: 1}
	if n := numberOf(t, NewCard(c, o), setup.KeyJobCost); n.Label != "A metre of cut costs" || n.Text() != "€1.00" || n.Band != "" {
		t.Errorf("%+v", n)
	}
	o.Units = units.US()
	if n := numberOf(t, NewCard(c, o), setup.KeyJobCost); n.Label != "A foot of cut costs" || n.Text() != "€0.30" {
		t.Errorf("%+v", n)
	}
	for _, n := range NewCard(exampleCard(), metric).Supply {
		if n.Key == setup.KeyJobCost || n.Key == setup.KeyJobTime {
			t.Errorf("a card without a job has %+v", n)
		}
	}
}
