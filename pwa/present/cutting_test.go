package present

import (
	"strings"
	"testing"

	"torchside/calc/cut"
	"torchside/calc/setup"
)

// cutCard is the card of the law's rig for cutting 10 mm.
func cutCard(t *testing.T) setup.Card {
	t.Helper()
	in := lawQuestion()
	lawChanges["cut"](&in)
	c, err := setup.Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// What cutting adds is said in the owner's units, every number with where it comes from; the flame's ratio is that of the preheat.
func TestCutting_isSaidInTheOwnersUnits(t *testing.T) {
	c := cutCard(t)
	for _, u := range []struct {
		o    Options
		want map[string]string
	}{
		{metric, map[string]string{setup.KeyKerf: "1.6 mm", setup.KeyOxygenPerM: "L", setup.KeyCutHand: "249 to 382 mm/min", setup.KeyIronShare: "%"}},
		{us, map[string]string{setup.KeyKerf: "0.063 in", setup.KeyOxygenPerM: "ft³", setup.KeyCutHand: "9.8 to 15.1 in/min", setup.KeyIronShare: "%"}},
	} {
		v := NewCard(c, u.o)
		for key, want := range u.want {
			if n := numberOf(t, v, key); !strings.HasSuffix(n.Text(), want) {
				t.Errorf("%s: %q, want %q", key, n.Text(), want)
			}
		}
		for _, n := range v.Cutting {
			if n.Kind == "" || n.Value == "" || NewSheet(c, n.Key, u.o).Source == "" {
				t.Errorf("%s tells not where it comes from: %+v", n.Key, n)
			}
		}
		if n := numberOf(t, v, keyRatio); !strings.HasPrefix(n.Value, "1.1") || strings.Contains(n.Note, "here") && !strings.Contains(n.Note, "here: 1.") {
			t.Errorf("ratio of the preheat: %q", n.Note)
		}
	}
}

// A foot of cut takes 0.3048 of the gas of a metre; numbers in one unit tell.
func TestCutting_gasForAFootAndAMetre(t *testing.T) {
	c := cutCard(t)
	b := newBuilder(c, us)
	foot := b.perLength(setup.KeyOxygenPerM, "Oxygen", c.Cutting.OxygenPerLength)
	if want := b.scaler.of(setup.KeyOxygenPerM).text(c.Cutting.OxygenPerLength * 0.3048); foot.Text() != want || !strings.Contains(foot.Label, "foot") {
		t.Errorf("%q of %q, want %q", foot.Text(), foot.Label, want)
	}
}

// The verdict of the heat balance is in words, for each of the three.
func TestCutting_heatRatioInWords(t *testing.T) {
	c := cutCard(t)
	for verdict, want := range map[cut.Verdict]string{cut.Sustains: "go on without the flame", cut.Fails: "goes out", cut.Undecided: "cannot be told"} {
		k := *c.Cutting
		k.Sustains = verdict
		c.Cutting = &k
		if n := numberOf(t, NewCard(c, metric), setup.KeyHeatRatio); !strings.Contains(n.Note, want) {
			t.Errorf("%s: %q", verdict, n.Note)
		}
	}
}
