package setup

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"torchside/calc/braze"
	"torchside/calc/calctest"
)

// bracket asks for a steel bracket brazed to a copper fitting.
func bracket() Input {
	in := eighth()
	in.Work, in.Joint, in.OtherMetal = Braze, Lap, Copper
	in.Rig.FuelCylinder.Count = 20
	in.Rig.Tips = append(in.Rig.Tips, Tip{Label: "large", OrificeDiameterM: p(0.003)})
	return in
}

// A card for brazing says what calc/braze says of the same joint, and what makes ill stands before the filler and the flux.
func TestCompute_brazingIsThatOfTheJoint(t *testing.T) {
	in := bracket()
	c := must(t, in)
	want, err := braze.Compute(braze.Input{Metal: braze.Metal(MildSteel), Other: braze.Metal(Copper), Joint: braze.Lap, Thinner: 0.003175, Shop: 293.15})
	if err != nil {
		t.Fatal(err)
	}
	if c.Filler.Classes[0] != want.Filler.Class || c.Flux != want.Flux.Name || c.Shade.Minimum != 3 || c.Joining.Used != nil || *c.Filler.MeltsK != Range(want.Filler.Melts()) {
		t.Errorf("%+v, flux %q, shade %+v", c.Filler, c.Flux, c.Shade)
	}
	for code, field := range map[string]string{"cadmium": "filler", "zinc_in_rod": "filler", "fluoride_flux": "flux", "copper_acetylene": "", "closed_vessel": ""} {
		if w, ok := warning(c, code); !ok || w.Level != Caution || w.Concerns != field {
			t.Errorf("%s: %+v", code, w)
		}
	}
	for _, key := range []string{KeyJointHeat, KeyJointGap, KeyJointOverlap, KeyJointFlame, "filler", "flux", "shade"} {
		if c.Provenance[key].Source == "" {
			t.Errorf("%s has no provenance", key)
		}
	}
	if slices.ContainsFunc(c.Filler.Classes, func(s string) bool { return strings.HasPrefix(s, "BCuP") || strings.HasPrefix(s, "RB") }) {
		t.Errorf("%v are of more than one family", c.Filler.Classes)
	}
}

// With its sizes the joint takes the rod and flux of calc/braze; the card it came from stays.
func TestWithJoint_isTheRodOfTheJoint(t *testing.T) {
	in := bracket()
	before := must(t, in)
	warnings, provenance := len(before.Warnings), len(before.Provenance)
	c, err := before.WithJoint(in, JointQuestion{SeamM: 0.04, OverlapM: 0.005, ClearanceM: 0.0003, Count: 2})
	if err != nil {
		t.Fatal(err)
	}
	want, err := braze.Compute(braze.Input{Metal: braze.Metal(MildSteel), Other: braze.Metal(Copper), Joint: braze.Lap, Thinner: 0.003175, Shop: 293.15,
		Length: 0.04, Overlap: 0.005, Gap: 0.0003, Count: 2})
	if err != nil {
		t.Fatal(err)
	}
	calctest.Near(t, c.Joining.Used.Rod.Value, want.Used.Rod.Value, 1e-12, "the same question")
	calctest.Near(t, c.Provenance[KeyJointRod].High, want.Used.Rod.High, 1e-12, "the same question")
	for _, code := range []string{"gap_wide", "overlap_short"} {
		if w, ok := warning(c, code); !ok || w.Level != Check {
			t.Errorf("%s: %+v", code, w)
		}
	}
	if before.Joining.Used != nil || len(before.Warnings) != warnings || len(before.Provenance) != provenance {
		t.Error("the card it came from has changed")
	}
	if s, err := before.WithJoint(in, JointQuestion{DiameterM: 0.022}); err != nil || s.Joining.Used == nil || s.Joining.Closes == 0 {
		t.Errorf("a tube in a cup: %+v, %v", s.Joining, err)
	}
}

// Soldering takes a smaller flame than brazing, braze welding a larger one; shade and flux follow.
func TestCompute_processes(t *testing.T) {
	in := bracket()
	close := must(t, in)
	in.Process = braze.Solder
	solder := must(t, in)
	in.Process = braze.BrazeWeld
	built := must(t, in)
	if !(solder.Fuel.FlowStdM3S < close.Fuel.FlowStdM3S && fuelNeed(in).value > fuelNeed(bracket()).value) {
		t.Errorf("flows %v, %v", solder.Fuel.FlowStdM3S, close.Fuel.FlowStdM3S)
	}
	if solder.Shade.Minimum != 2 || built.Shade.Minimum != 5 || solder.Filler.Classes[0] != "95-5" || built.Filler.Classes[0] != "RBCuZn-A" {
		t.Errorf("%+v %+v, %v %v", solder.Shade, built.Shade, solder.Filler, built.Filler)
	}
	if _, ok := warning(solder, "acid_flux"); !ok {
		t.Error("no word of the acid flux")
	}
}

// What cannot be brazed gives no card, in the words of calc/braze; what another work has no use for is not passed over.
func TestCompute_refusesWhatCannotBeBrazed(t *testing.T) {
	for name, c := range map[string]struct {
		change      func(*Input)
		code, field string
	}{
		"aluminium to steel":  {func(in *Input) { in.OtherMetal = Aluminium }, "aluminium_to_other", "other_metal"},
		"galvanised":          {func(in *Input) { in.Metal = GalvanisedSteel }, "galvanised", "metal"},
		"phosphorus on steel": {func(in *Input) { in.Filler = "BCuP-5" }, "filler_metal", "filler"},
		"gold":                {func(in *Input) { in.OtherMetal = "gold" }, "unknown_other_metal", "other_metal"},
		"glue":                {func(in *Input) { in.Process = "glue" }, "unknown_process", "process"},
		"weld to copper":      {func(in *Input) { in.Work = Weld }, "only_for_brazing", "other_metal"},
		"aluminium with brass": {func(in *Input) {
			in.Metal, in.OtherMetal, in.Filler = Aluminium, "", "RBCuZn-A"
		}, "part_melts", "filler"},
	} {
		in := bracket()
		c.change(&in)
		if no := refused(t, in); no.Code != c.code || no.Field != c.field {
			t.Errorf("%s: %+v", name, no)
		}
	}
	in := bracket()
	_, err := must(t, in).WithJoint(in, JointQuestion{ClearanceM: 0.01})
	var no *Refusal
	if !errors.As(err, &no) || no.Field != "clearance_m" || !strings.Contains(no.Read, "10 mm") {
		t.Errorf("%v", err)
	}
}
