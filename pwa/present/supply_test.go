package present

import (
	"strings"
	"testing"

	"torchside/calc/setup"
)

// lastingCard is the example card with the times of both gases.
func lastingCard(oxygen, fuel *float64) setup.Card {
	c := exampleCard()
	c.Oxygen.EnduranceS, c.Fuel.EnduranceS, c.EnduranceS, c.LimitedBy = oxygen, fuel, nil, ""
	return c
}

// TestEndurance_says_whose_contents_are_missing: with one side unknown nobody knows which gas ends first, and the card must not
// say so.
func TestEndurance_says_whose_contents_are_missing(t *testing.T) {
	for _, k := range []struct {
		oxygen, fuel *float64
		note         string
	}{
		{nil, ptr(9600), "What the oxygen cylinder holds is not known. Acetylene alone lasts 2 h 40 min."},
		{ptr(18000), nil, "What the acetylene cylinder holds is not known. Oxygen alone lasts 5 h."},
		{nil, nil, "Enter what the cylinders hold to see it."},
	} {
		n := numberOf(t, NewCard(lastingCard(k.oxygen, k.fuel), us), "endurance_s")
		if n.Value != "not known" || n.Note != k.note {
			t.Errorf("%q, %q; want %q", n.Value, n.Note, k.note)
		}
	}
}

// TestEndurance_says_what_ends_it: by its reserve, or by the rule for drawing acetylene.
func TestEndurance_says_what_ends_it(t *testing.T) {
	c := lastingCard(ptr(18000), ptr(9600))
	c.EnduranceS, c.LimitedBy = ptr(9600), "fuel"
	c.Fuel.EndedBy, c.Fuel.End = setup.AtWithdrawal, "after this the flow is more than 1/10 of what is left an hour"
	v := NewCard(c, us)
	if n := numberOf(t, v, "endurance_s"); n.Note != "Acetylene ends first: after this the flow is more than 1/10 of what is left an hour." {
		t.Errorf("the card: %q", n.Note)
	}
	if n := numberOf(t, v, "fuel.endurance_s"); n.Note != "Until it is too fast for what is left." {
		t.Errorf("acetylene: %q", n.Note)
	}
	if n := numberOf(t, v, "oxygen.endurance_s"); !strings.HasSuffix(n.Note, "before the reserve.") {
		t.Errorf("oxygen: %q", n.Note)
	}
	for seconds, want := range map[float64]string{0: "With pauses only. Acetylene ends", 3600: "Without a pause 1 h. Acetylene ends", 9600: "Acetylene ends"} {
		c.WithoutPauseS = &seconds
		if n := numberOf(t, NewCard(c, us), "endurance_s"); !strings.HasPrefix(n.Note, want) {
			t.Errorf("%v s without a pause: %q", seconds, n.Note)
		}
	}
}
