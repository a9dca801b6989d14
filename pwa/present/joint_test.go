package present

import (
	"strings"
	"testing"

	"torchside/calc/setup"
)

// bracketCard is a card for a 3 mm steel bracket lapped 40 mm on copper, from the rig of the laws.
func bracketCard(t *testing.T, q setup.JointQuestion, change func(*setup.Input)) setup.Card {
	t.Helper()
	in := lawQuestion()
	in.Work, in.Joint, in.OtherMetal, in.ThicknessM = setup.Braze, setup.Lap, setup.Copper, 0.003
	change(&in)
	c, err := setup.Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	if c, err = c.WithJoint(in, q); err != nil {
		t.Fatal(err)
	}
	return c
}

func asIs(*setup.Input) {}

// The joint is shown in the owner's units: a gap in decimals, a rod as it is sold, small masses in grams or ounces.
func TestJoint_isSaidInTheOwnersUnits(t *testing.T) {
	c := bracketCard(t, setup.JointQuestion{SeamM: 0.04, OverlapM: 0.006, ClearanceM: 0.0003}, asIs)
	for _, w := range []struct {
		o    Options
		want map[string][]string
	}{
		{metric, map[string][]string{"filler": {"BAg-7"}, "flux": {"White fluoride brazing paste", "566"}, setup.KeyJointHeat: {"652 to 760 °C"}, setup.KeyJointGap: {"0.05 to 0.13 mm", "0.3 mm", "0.13 mm"},
			setup.KeyJointOverlap: {"9 mm", "yours: 6 mm", "6 mm is less"}, setup.KeyJointFlame: {"Neutral", "6 to 10 mm"}, setup.KeyJointRod: {"mm", "1.6 mm thick", " g"}, setup.KeyJointFlux: {" g to "}}},
		{us, map[string][]string{"filler": {"BAg-7"}, "flux": {"1050"}, setup.KeyJointHeat: {"1205 to 1400 °F"}, setup.KeyJointGap: {"0.002 to 0.005 in", "0.012 in"},
			setup.KeyJointFlame: {"1/4 to 3/8 in"}, setup.KeyJointRod: {"in", "1/16 in thick", " oz"}, setup.KeyJointFlux: {" oz to "}}},
	} {
		v := NewCard(c, w.o)
		for key, words := range w.want {
			n := numberOf(t, v, key)
			said := n.Text() + "|" + n.Band + "|" + n.Note
			for _, x := range n.Warnings {
				said += "|" + x.Text
			}
			for _, word := range words {
				if !strings.Contains(said, word) {
					t.Errorf("%s: %q lacks %q", key, said, word)
				}
			}
		}
		if len(v.Steps) != 6 || v.Steps[0].Name != "Clean" {
			t.Errorf("%+v", v.Steps)
		}
		for _, s := range v.Steps {
			other := "°F"
			if w.o.Units.IsUS() {
				other = "°C"
			}
			if s.Text == "" || s.Source == "" || strings.Contains(s.Text+s.Source, other) || strings.Contains(s.Text, "mm") && w.o.Units.IsUS() {
				t.Errorf("%+v", s)
			}
		}
	}
}

// What makes ill stands before the filler and the flux, not below them; the lens stands alone in the last part.
func TestJoint_cautionsStandBeforeTheirNumber(t *testing.T) {
	v := NewCard(bracketCard(t, setup.JointQuestion{}, asIs), metric)
	codes := func(key string) string {
		text := ""
		for _, w := range numberOf(t, v, key).Warnings {
			text += w.Code + " "
		}
		return text
	}
	if c := codes("filler"); !strings.Contains(c, "cadmium") || !strings.Contains(c, "zinc_in_rod") {
		t.Errorf("before the filler stand %q", c)
	}
	if c := codes("flux"); !strings.Contains(c, "fluoride_flux") {
		t.Errorf("before the flux stand %q", c)
	}
	if len(v.Work) != 1 || v.Work[0].Key != keyShade {
		t.Errorf("%+v", v.Work)
	}
	for _, n := range v.Joint {
		if n.Key == setup.KeyJointRod {
			t.Error("rod without a length")
		}
	}
}

// A braze weld has a leg and no gap; copper to copper needs no flux; a card for welding has no joint.
func TestJoint_ofOtherProcesses(t *testing.T) {
	built := NewCard(bracketCard(t, setup.JointQuestion{SeamM: 0.1, LegM: 0.005}, func(in *setup.Input) { in.Process, in.Joint, in.OtherMetal = "braze_weld", setup.Tee, "" }), metric)
	if n := numberOf(t, built, setup.KeyJointLeg); n.Text() != "5 mm" {
		t.Errorf("%+v", n)
	}
	for _, n := range built.Joint {
		if n.Key == setup.KeyJointGap || n.Key == setup.KeyJointOverlap {
			t.Errorf("a braze weld has %s", n.Key)
		}
	}
	copper := NewCard(bracketCard(t, setup.JointQuestion{DiameterM: 0.015}, func(in *setup.Input) { in.Metal, in.OtherMetal, in.ThicknessM = setup.Copper, "", 0.001 }), metric)
	if f, x := numberOf(t, copper, "flux"), numberOf(t, copper, setup.KeyJointFlux); f.Value != "None on copper to copper" || x.Value != "none" || f.Note != "" {
		t.Errorf("%+v %+v", f, x)
	}
	if v := NewCard(exampleCard(), us); len(v.Joint) != 0 || len(v.Steps) != 0 {
		t.Errorf("%+v", v.Joint)
	}
}
