package present

import (
	"strings"
	"testing"

	"torchside/calc/heat"
	"torchside/calc/setup"
	"torchside/calc/units"
)

// heatedCard is the example card with a heating of a 16 mm bar.
func heatedCard() setup.Card {
	c := exampleCard()
	c.Work, c.Metal = setup.Heat, setup.MildSteel
	c.Heating = &setup.Heating{TimeS: units.Band{Value: 61, Low: 44, High: 102}, TargetK: 1223.15, ZoneM: 0.06,
		Oxygen: units.Band{Value: 0.012, Low: 0.009, High: 0.02}, Fuel: units.Band{Value: 0.011, Low: 0.008, High: 0.018},
		Point: &heat.Point{At: 0.15, Temperature: 294.15, Peak: 368.15, PeakAfter: 396}, Glow: heat.GlowAt(1223.15)}
	return c
}

// The heat is shown in the owner's units, the colour with the number of its sources, the place far away with its highest.
func TestHeating_isSaidInTheOwnersUnits(t *testing.T) {
	for _, c := range []struct {
		o    Options
		want map[string]string
	}{
		{us, map[string]string{setup.KeyHeatingTarget: "1742 °F", setup.KeyHeatingPoint: "203 °F"}},
		{metric, map[string]string{setup.KeyHeatingTarget: "950 °C", setup.KeyHeatingPoint: "95 °C"}},
	} {
		v := NewCard(heatedCard(), c.o)
		for key, want := range c.want {
			if n := numberOf(t, v, key); n.Text() != want {
				t.Errorf("%s: %q, want %q", key, n.Text(), want)
			}
		}
		if n := numberOf(t, v, setup.KeyHeatingTarget); !strings.Contains(n.Note, "cherry") || !strings.Contains(n.Note, "4 sources") || !strings.Contains(n.Note, "sunlight") {
			t.Errorf("%q", n.Note)
		}
		if n := numberOf(t, v, setup.KeyHeatingPoint); !strings.Contains(n.Note, "after the flame is out") {
			t.Errorf("%q", n.Note)
		}
		if n := numberOf(t, v, setup.KeyHeatingTime); n.Value == "" || n.Band == "" {
			t.Errorf("%+v", n)
		}
	}
}

// A flame that may never get there has no upper end, and says so.
func TestHeating_neverIsSaid(t *testing.T) {
	c := heatedCard()
	c.Heating.Never, c.Heating.TimeS.High = true, 0
	if n := numberOf(t, NewCard(c, us), setup.KeyHeatingTime); n.Band != "" || !strings.Contains(n.Note, "never gets there") {
		t.Errorf("%+v", n)
	}
}

// A card without a heating shows none; temper colours stand where steel does not glow; copper has no words for either.
func TestHeating_colours(t *testing.T) {
	if v := NewCard(exampleCard(), us); len(v.Heating) != 0 {
		t.Errorf("%+v", v.Heating)
	}
	c := heatedCard()
	c.Heating.TargetK, c.Heating.Glow, c.Heating.Temper = 573.15, nil, heat.TemperAt(573.15)
	if n := numberOf(t, NewCard(c, metric), setup.KeyHeatingTarget); !strings.Contains(n.Note, "Bright steel turns: blue or dark purple or dark blue (3 sources)") {
		t.Errorf("%q", n.Note)
	}
	c.Metal = setup.Copper
	if n := numberOf(t, NewCard(c, metric), setup.KeyHeatingTarget); n.Note != "" {
		t.Errorf("%q", n.Note)
	}
}

// A bend tells its arc and what to cut.
func TestHeating_bend(t *testing.T) {
	bent, err := heat.Bend{InsideRadius: 0.032, Thickness: 0.016, Angle: 90, Legs: [2]float64{0.3, 0}}.Work()
	if err != nil {
		t.Fatal(err)
	}
	c := heatedCard()
	c.Heating.Bent = &bent
	v := NewCard(c, metric)
	if n := numberOf(t, v, setup.KeyBendAllowance); !strings.HasPrefix(n.Text(), "62.8") || !strings.Contains(n.Note, "neutral line") {
		t.Errorf("%+v", n)
	}
	if n := numberOf(t, v, setup.KeyBendCut); !strings.HasPrefix(n.Text(), "363") {
		t.Errorf("%+v", n)
	}
}
