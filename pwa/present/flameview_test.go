package present

import (
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/setup"
)

// scene is an invented flame: a hole of 1.1 mm.
func scene(t *testing.T, ratio float64) FlameScene {
	t.Helper()
	q := setup.FlameQuestion{Fuel: gas.Acetylene, Ratio: ratio, FuelFlowStd: 5e-5, OrificeDiameterM: 0.0011, Holes: 1, TemperatureK: 293.15, AmbientAbsPa: 101325}
	a, err := setup.FlameAt(q)
	if err != nil {
		t.Fatal(err)
	}
	return FlameScene{Question: q, Answer: a, Longest: 0.016}
}

var pathOf = regexp.MustCompile(`<path class="flame-(cone|feather)" d="M([\d.]+) [\d.]+(.*?)"/>`)

// reach is how far a shape of the drawing reaches from the tip, in picture units; 0 when it is not drawn.
func reach(t *testing.T, svg, shape string) float64 {
	t.Helper()
	for _, m := range pathOf.FindAllStringSubmatch(svg, -1) {
		if m[1] != shape {
			continue
		}
		far := 0.0
		for _, n := range regexp.MustCompile(`([\d.]+) [\d.]+`).FindAllStringSubmatch(m[3], -1) {
			x, err := strconv.ParseFloat(n[1], 64)
			if err != nil {
				t.Fatal(err)
			}
			far = math.Max(far, x)
		}
		return far - flameOrigin
	}
	return 0
}

// The cone in the picture is as long as the computed one on the rule, whose length does not change with the ratio.
func TestFlameView_draws_the_cone_to_scale(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	for range 50 {
		s := scene(t, 0.7+1.3*random.Float64())
		v := NewFlameView(s, metric)
		rule := flameSpanFor(s.Longest, false) // 50 mm
		want := s.Answer.Tip.Cone.Value / rule * flameSpan
		calctest.Near(t, reach(t, v.Drawing.SVG, "cone"), want, 0.011, "coordinates have two decimals")
		if !strings.Contains(v.Drawing.SVG, ">50</text>") {
			t.Errorf("ratio %v: the rule is not 50 mm long", s.Question.Ratio)
		}
	}
}

// The flames of a small and a large welding tip are drawn to one scale: the bigger flow has the longer cone for the eye as well.
func TestFlameView_draws_two_tips_to_one_scale(t *testing.T) {
	for _, o := range []Options{metric, us} {
		for _, ratio := range []float64{0.9, 1.1, 1.5} {
			small, large := coneOf(t, o, ratio, 0.001, 107, 0.009), coneOf(t, o, ratio, 0.0014, 368, 0.022)
			if large < 1.5*small {
				t.Errorf("ratio %v: the cone reaches %v, that of the smaller tip %v", ratio, large, small)
			}
		}
	}
}

// coneOf is how far the drawn cone of a tip reaches; the flow of acetylene is in L/h.
func coneOf(t *testing.T, o Options, ratio, hole, flow, longest float64) float64 {
	t.Helper()
	q := setup.FlameQuestion{Fuel: gas.Acetylene, Ratio: ratio, FuelFlowStd: flow / 3.6e6, OrificeDiameterM: hole, Holes: 1, TemperatureK: 293.15, AmbientAbsPa: 101325}
	a, err := setup.FlameAt(q)
	if err != nil {
		t.Fatal(err)
	}
	return reach(t, NewFlameView(FlameScene{Question: q, Answer: a, Longest: longest}, o).Drawing.SVG, "cone")
}

// The feather shows in a carburizing flame alone, shrinks towards neutral and is there as long as the cone, into which it goes.
func TestFlameView_feather_vanishes_at_neutral(t *testing.T) {
	last := math.Inf(1)
	for _, ratio := range []float64{0.85, 0.9, 0.95, 1, 1.03} {
		svg := NewFlameView(scene(t, ratio), metric).Drawing.SVG
		cone, feather := reach(t, svg, "cone"), reach(t, svg, "feather")
		if !(feather > cone) || feather/cone >= last {
			t.Errorf("ratio %v: feather %v, cone %v", ratio, feather, cone)
		}
		last = feather / cone
	}
	calctest.Near(t, last, 1, 0.1, "at the edge of neutral the feather has gone into the cone")
	for _, ratio := range []float64{1.05, 1.1, 1.5} {
		if f := reach(t, NewFlameView(scene(t, ratio), metric).Drawing.SVG, "feather"); f != 0 {
			t.Errorf("ratio %v has a feather of %v", ratio, f)
		}
	}
}

// What is in the flame is all there: the bar is full, and the words name every part of a percent and more.
func TestFlameView_shares_fill_the_bar(t *testing.T) {
	widths := regexp.MustCompile(`<rect class="share[^"]*" x="([\d.]+)" y="0" width="([\d.]+)"`)
	for _, ratio := range []float64{0.7, 0.9, 1.1, 1.5, 2.5} {
		v := NewFlameView(scene(t, ratio), us)
		sum := 0.0
		for _, m := range widths.FindAllStringSubmatch(v.Strip.SVG, -1) {
			w, err := strconv.ParseFloat(m[2], 64)
			if err != nil {
				t.Fatal(err)
			}
			sum += w
		}
		calctest.Near(t, sum, stripWidth, 1, "parts thinner than their edge are left out")
		for _, name := range []string{"CO ", "H₂ ", "H₂O "} {
			if (name != "H₂O " || ratio > 1) && !strings.Contains(v.Shares, name) {
				t.Errorf("ratio %v: %q lacks %q", ratio, v.Shares, name)
			}
		}
	}
	if v := NewFlameView(scene(t, 0.7), us); !strings.Contains(v.Shares, "soot") || !strings.Contains(v.Why, "soot") {
		t.Errorf("soot is not named at 0.7: %q, %q", v.Shares, v.Why)
	}
}

// A lowest flow from the estimate says what it is worth; the maker's is called the maker's, and neither is called safe.
func TestFlameView_lowest_flow_is_an_estimate_unless_the_makers(t *testing.T) {
	find := func(s FlameScene) Number {
		for _, n := range NewFlameView(s, metric).Facts {
			if n.Key == "flame.lowest_flow" {
				return n
			}
		}
		t.Fatal("no lowest flow")
		return Number{}
	}
	s := scene(t, 1.1)
	if n := find(s); !n.Memory || !strings.Contains(n.Note, "order of magnitude") || n.Kind != "computed" {
		t.Errorf("%+v", n)
	}
	s.Question.MakersMinimumStd = 1e-3
	a, err := setup.FlameAt(s.Question)
	if err != nil {
		t.Fatal(err)
	}
	s.Answer = a
	if n := find(s); n.Memory || n.Kind != "maker's chart" || n.Text() != "3600 L/h" {
		t.Errorf("the maker's 1 L/s shows as %q: %+v", n.Text(), n)
	}
}

// Nothing of the tip is made up, and a flow that may pop back is warned of before the drawing.
func TestFlameView_knows_what_it_does_not_know(t *testing.T) {
	s := scene(t, 1.1)
	s.Answer.Tip = nil
	if v := NewFlameView(s, metric); v.Drawing.SVG != "" || v.Drawing.Text == "" {
		t.Errorf("%+v", v.Drawing)
	}
	s = scene(t, 1.1)
	s.Question.FuelFlowStd /= 20
	a, err := setup.FlameAt(s.Question)
	if err != nil {
		t.Fatal(err)
	}
	s.Answer = a
	if v := NewFlameView(s, metric); len(v.Cautions) != 1 || !strings.Contains(v.Cautions[0], "pop back") {
		t.Errorf("a twentieth of the flow: %q", v.Cautions)
	}
}

// Every balanced equation counts the same atoms on both sides; acetylene takes five to two.
func TestNewBalanced_counts_alike(t *testing.T) {
	for _, g := range gas.Fuels() {
		b, ok := NewBalanced(g)
		if !ok || len(b.Steps) < 3 {
			t.Fatalf("%s: %+v", g, b)
		}
		for _, a := range b.Atoms {
			left, right, _ := strings.Cut(strings.TrimSuffix(a.Text, " right"), " left, ")
			if left != right {
				t.Errorf("%s: %s %s", g, a.Name, a.Text)
			}
		}
	}
	b, _ := NewBalanced(gas.Acetylene)
	if last := b.Steps[len(b.Steps)-1]; !strings.Contains(last, "2 C₂H₂ take 5 O₂: 2.5 volumes") {
		t.Errorf("%q", last)
	}
	if _, ok := NewBalanced(gas.Argon); ok {
		t.Error("argon burns")
	}
}

// The comparison holds the printed heat of acetylene: 1447 Btu/ft³ net at 60 °F (Piping Calculations Manual, fuel_gases.csv); at
// 70 °F a cubic foot holds 2 % less.
func TestNewFuelTable_against_the_printed_heat(t *testing.T) {
	for _, r := range NewFuelTable(us) {
		if r.Key != "acetylene" {
			continue
		}
		v, err := strconv.ParseFloat(strings.TrimSuffix(r.Lines[0].Text, " Btu/ft³"), 64)
		if err != nil {
			t.Fatal(err)
		}
		calctest.Near(t, v, 1447*(288.706/294.261), 0.02*1447, "the printed figure is rounded and of an ideal gas; sources differ by 1.5 %")
	}
	marks := 0
	for _, r := range NewFuelTable(metric) {
		if flame.NeutralRatio(gas.Gas(r.Key)).FromMemory != strings.Contains(r.Source, "from memory") {
			t.Errorf("%s: %q", r.Name, r.Source)
		}
		for _, l := range r.Lines {
			if strings.Contains(l.Text, "from memory") {
				marks++
			}
		}
	}
	if marks == 0 {
		t.Error("nothing of the table is marked as from memory")
	}
}
