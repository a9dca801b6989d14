package setup

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/units"
)

// thin is sheet of 0.8 mm, for which every tip of the rig is too large.
func thin() Input {
	in := eighth()
	in.ThicknessM = 0.0008
	in.Rig.Tips = []Tip{{Label: "smallest", OrificeDiameterM: p(0.0010)}, {Label: "next", OrificeDiameterM: p(0.0014)}}
	return in
}

// A flow that the tip raises is not the handbook's: the number says where it is from, what the handbook prints (28 L/h for
// 0.8 mm, welding_tips.csv) stays beside it, and a warning names both with a hole that would do.
func TestCompute_aFlowRaisedByTheTipIsNotTheHandbooks(t *testing.T) {
	c := must(t, thin())
	pr := c.Provenance["fuel.flow_std_m3_s"]
	if c.Fuel.FlowStdM3S < 50*litresPerHour || pr.Kind != Computed || !strings.Contains(pr.Source, "hole of this tip") {
		t.Errorf("%v L/h called %s, %s", c.Fuel.FlowStdM3S/litresPerHour, pr.Kind, pr.Source)
	}
	if len(pr.Others) != 2 || pr.Others[0].Kind != Handbook {
		t.Fatalf("what the sources say is lost: %+v", pr.Others)
	}
	calctest.Near(t, pr.Others[0].Value, 28*litresPerHour, 1e-12, "the printed row")
	w, ok := warning(c, "tip_raises_flow")
	if !ok || w.Concerns != "fuel.flow_std_m3_s" {
		t.Fatalf("no warning: %+v", c.Warnings)
	}
	for _, words := range []string{"The handbook asks for 28 L/h", "too large", "drill #", "The card is for"} {
		if !strings.Contains(w.Text, words) {
			t.Errorf("%q lacks %q", w.Text, words)
		}
	}
}

// Handbook (28 L/h) and rule of thumb (80 L/h) differ on 0.8 mm by more than 30 %, whatever the tip makes of it.
func TestCompute_comparesSourcesBeforeTheTipMovesThem(t *testing.T) {
	w, ok := warning(must(t, thin()), "disagreement")
	if !ok || !strings.Contains(w.Text, "handbook 28 L/h") || !strings.Contains(w.Text, "common practice 80 L/h") {
		t.Errorf("%+v", w)
	}
}

// A tip that goes as low as the handbook asks leaves the handbook's number alone.
func TestCompute_aFlowThatTheTipTakesStaysTheHandbooks(t *testing.T) {
	in := thin()
	in.Rig.Tips = []Tip{{Label: "tiny", OrificeDiameterM: p(0.00047)}}
	c := must(t, in)
	if pr := c.Provenance["fuel.flow_std_m3_s"]; pr.Kind != Handbook || math.Abs(c.Fuel.FlowStdM3S/litresPerHour-28) > 1e-9 {
		t.Errorf("%v L/h from %s", c.Fuel.FlowStdM3S/litresPerHour, pr.Kind)
	}
	if w, ok := warning(c, "tip_raises_flow"); ok {
		t.Errorf("%+v", w)
	}
}

// A flow for another work than welding steel is a share of the handbook's, and not called the handbook's own.
func TestFuelNeed_aShareOfTheHandbooksFlowIsComputed(t *testing.T) {
	in := eighth()
	if e := fuelNeed(in); e.prov.Kind != Handbook {
		t.Errorf("a butt weld in steel: %s", e.prov.Kind)
	}
	in.Work = Braze
	if e := fuelNeed(in); e.prov.Kind != Computed || !strings.Contains(e.prov.Source, sourceHandbookFlow) {
		t.Errorf("brazing: %s, %s", e.prov.Kind, e.prov.Source)
	}
}

// randomRig has one to five tips with holes of 0.4 to 2.5 mm and cylinders that allow most flows.
func randomRig(r *rand.Rand) Input {
	in := eighth()
	in.Rig.FuelCylinder.Count = 1 + r.IntN(6)
	in.ThicknessM = 0.0005 + 0.0055*r.Float64()
	in.Work = []Work{Weld, Braze, Heat, Bend}[r.IntN(4)]
	in.ThicknessM = max(in.ThicknessM, thicknessLimit(in.Work).low)
	in.Rig.Tips = nil
	for i := range 1 + r.IntN(5) {
		in.Rig.Tips = append(in.Rig.Tips, Tip{Label: strconv.Itoa(i), OrificeDiameterM: p(0.0004 + 0.0021*r.Float64())})
	}
	return in
}

// tipsOf gives the verdicts, with or without a card, and whether the flame is smaller than the work asks for.
func tipsOf(in Input) (tips []TipVerdict, lesser bool) {
	c, err := Compute(in)
	if no, ok := err.(*Refusal); ok {
		return no.Tips, false
	}
	_, lesser = warning(c, "smaller_flame")
	return c.Tips, lesser
}

// The tip that is taken hangs on the work, not on the weather: over −10 to 40 °C it is the same, unless a tip goes over a limit of
// pressure or draw on the way.
func TestCompute_warmthOfTheShopDoesNotChooseTheTip(t *testing.T) {
	hard := map[string]bool{"withdrawal": true, "acetylene_pressure": true, "over_scale": true, "hose_takes_all": true}
	random := rand.New(rand.NewPCG(11, 12))
	cards := 0
	for i := range 400 {
		in := randomRig(random)
		in.TemperatureK = 263.15
		first, limited := tipsOf(in)
		for _, celsius := range []float64{-5, 0, 5, 10, 14, 17, 20, 23, 26, 30, 35, 40} {
			in.TemperatureK = 273.15 + celsius
			now, lesser := tipsOf(in)
			for j, v := range now {
				limited = limited || lesser || hard[v.Code] || hard[first[j].Code]
				if !limited && (v.Best != first[j].Best || v.Fits != first[j].Fits) {
					t.Fatalf("rig %d, %s %v mm, tip %s: %+v at -10 °C, %+v at %v °C", i, in.Work, in.ThicknessM*1000, v.Label, first[j], v, celsius)
				}
			}
		}
		if !limited && len(first) > 0 {
			cards++
		}
	}
	if cards < 200 {
		t.Errorf("only %d of 400 rigs were free of limits: little is tested", cards)
	}
}

// Where two tips fit, both are on the card, one of them the best; a tip that does not fit says why.
func TestCompute_tellsOfEveryTip(t *testing.T) {
	in := eighth()
	in.Rig.Tips = append(in.Rig.Tips, Tip{Label: "drain", OrificeDiameterM: p(0.004)}, Tip{Label: "propane tip", OrificeDiameterM: p(0.0012), Fuels: []gas.Gas{gas.Propane}})
	c := must(t, in)
	fits, best := 0, ""
	for _, v := range c.Tips {
		if v.Fits {
			fits++
		} else if v.Why == "" || v.Code == "" {
			t.Errorf("%+v does not say why", v)
		}
		if v.Best {
			best = v.Label
		}
		if v.Chosen != (v.Label == c.Tip) {
			t.Errorf("%+v, the card is for %s", v, c.Tip)
		}
	}
	if len(c.Tips) != 5 || fits < 2 || best != c.Tip {
		t.Errorf("%d tips, %d fit, best %q, card for %q: %+v", len(c.Tips), fits, best, c.Tip, c.Tips)
	}
}

// A card for a tip chosen by hand says so, and what would be best.
func TestCompute_aTipChosenByHandIsSaidToBe(t *testing.T) {
	in := eighth()
	best := must(t, in).Tip
	for _, v := range must(t, in).Tips {
		if !v.Fits || v.Best {
			continue
		}
		in.TipLabel = v.Label
		c := must(t, in)
		w, ok := warning(c, "tip_by_hand")
		if c.Tip != v.Label || !ok || !strings.Contains(w.Text, best) || !strings.Contains(c.Provenance["tip"].Reason, "chosen by hand") {
			t.Errorf("tip %s, warning %+v, %q", c.Tip, w, c.Provenance["tip"].Reason)
		}
	}
	if in.TipLabel == "" {
		t.Fatal("no second tip fits: nothing is tested")
	}
	in.TipLabel = best
	if _, ok := warning(must(t, in), "tip_by_hand"); ok {
		t.Error("the best tip is said not to be")
	}
}

// A tip chosen by hand that does not fit is refused, with the one that does as the first way out.
func TestCompute_anUnfitTipChosenByHandNamesTheOneThatFits(t *testing.T) {
	in := eighth()
	best := must(t, in).Tip
	in.Rig.Tips = append(in.Rig.Tips, Tip{Label: "drain", OrificeDiameterM: p(0.004)})
	in.TipLabel = "drain"
	r := refused(t, in)
	if r.Code != "tip_hole" || len(r.WaysOut) < 2 || !strings.Contains(r.WaysOut[0], "take tip "+best) || len(r.Tips) != 4 {
		t.Errorf("%+v", r)
	}
}

// When no tip fits, a hole that would is named; a tip with this hole does fit.
func TestCompute_theHoleThatIsNamedFits(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 14))
	tried := 0
	for range 200 {
		in := randomRig(random)
		in.Rig.FuelCylinder.Count = 20
		in.Rig.Tips = []Tip{{Label: "a", OrificeDiameterM: p(0.00021)}, {Label: "b", OrificeDiameterM: p(0.0058)}}
		if in.Work == Heat || in.Work == Bend {
			in.Rig.Tips[0].OrificeDiameterM = p(0.0057) // a small hole heats too, if slowly
		}
		r := refused(t, in)
		text := strings.Join(r.WaysOut, "; ")
		if r.Code != "no_tip_fits" || !strings.Contains(text, "under Rig") {
			t.Fatalf("%+v", r)
		}
		var drill int
		_, rest, ok := strings.Cut(text, "drill #")
		if _, err := fmt.Sscanf(rest, "%d", &drill); !ok || err != nil {
			continue // below drill #80 only the size is named
		}
		size, _ := units.NumberDrill(drill)
		in.Rig.Tips = []Tip{{Label: "new", OrificeDiameterM: p(float64(size))}}
		c := must(t, in)
		if c.ExitClass != string(flame.NormalFlow) {
			t.Errorf("%s %v mm: drill #%d burns %s", in.Work, in.ThicknessM*1000, drill, c.ExitClass)
		}
		tried++
	}
	if tried < 150 {
		t.Errorf("only %d holes were tried", tried)
	}
}

// A rig whose tips are all for another work or fuel is told of both ways: another tip, or another work or cylinder.
func TestCompute_tipsForOtherWorkOrFuelNameBothWays(t *testing.T) {
	for _, c := range []struct {
		tip  Tip
		want []string
	}{
		{Tip{Label: "rosebud", OrificeDiameterM: p(0.0011), Works: []Work{Heat}}, []string{"add a tip for weld under Rig", "choose heat"}},
		{Tip{Label: "gas", OrificeDiameterM: p(0.0011), Fuels: []gas.Gas{gas.Propane}}, []string{"add a tip made for acetylene under Rig", "put a cylinder of propane in use"}},
	} {
		in := eighth()
		in.Rig.Tips = []Tip{c.tip, c.tip}
		in.Rig.Tips[1].Label = "other"
		text := strings.Join(refused(t, in).WaysOut, "; ")
		for _, want := range c.want {
			if !strings.Contains(text, want) {
				t.Errorf("%q lacks %q", text, want)
			}
		}
	}
}

// Warmth carries a tip over the edge of what is usable: it is still taken, and the card says so.
func TestCompute_saysWhenWarmthCarriesTheGasOverTheEdge(t *testing.T) {
	in := eighth()
	c := candidate{tip: &in.Rig.Tips[0], ratio: usualRatio(in), need: fuelNeed(in)}
	in.Rig.Tips = []Tip{{Label: "edge", OrificeDiameterM: p(c.holeFor(in, fastest) * math.Sqrt(fuelNeed(in).prov.Low/fuelNeed(in).value) * 1.001)}}
	in.TemperatureK = 313.15
	card := must(t, in)
	if w, ok := warning(card, "exit_velocity"); !ok || !strings.Contains(w.Text, "leave the tip") {
		t.Errorf("%v m/s at 40 °C: %+v", *card.ExitVelocityMS, w)
	}
	in.TemperatureK = 288.15
	if w, ok := warning(must(t, in), "exit_velocity"); ok {
		t.Errorf("at 15 °C: %+v", w)
	}
}
