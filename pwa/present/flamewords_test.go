package present

import (
	"strings"
	"testing"

	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/setup"
)

// viewOf is the invented flame of scene with another fuel and work.
func viewOf(t *testing.T, fuel gas.Gas, work setup.Work, ratio float64) FlameView {
	t.Helper()
	q := setup.ExampleFlame(fuel)
	q.Ratio = ratio
	a, err := setup.FlameAt(q)
	if err != nil {
		t.Fatal(err)
	}
	return NewFlameView(FlameScene{Question: q, Answer: a, Work: work, Longest: 0.016}, metric)
}

// allText is everything a view says.
func allText(v FlameView) string {
	text := strings.Join([]string{v.Class, v.Spoken, v.Bound, v.Why, v.Words.Use, v.Words.Misuse, v.Words.Look, v.Words.Sound, v.Words.Source, v.Drawing.Text}, " ")
	for _, n := range v.Facts {
		text += " " + n.Label + " " + n.Note
	}
	return text
}

// ratios are one of each class.
func ratios(fuel gas.Gas) []float64 {
	n := flame.NeutralRatio(fuel).Neutral
	return []float64{0.85 * n.Low, n.Value, 1.3 * n.High}
}

// Only a weld has a puddle, and only acetylene welds: brazing, heating, cutting and other fuels are told of their own troubles.
func TestFlameView_speaks_of_a_puddle_only_where_steel_is_welded(t *testing.T) {
	for _, fuel := range gas.Fuels() {
		for _, work := range []setup.Work{"", setup.Weld, setup.Braze, setup.Heat, setup.Bend, setup.Cut} {
			if work == setup.Weld && fuel != gas.Acetylene {
				continue // refused
			}
			for _, ratio := range ratios(fuel) {
				text := allText(viewOf(t, fuel, work, ratio))
				welds := fuel == gas.Acetylene && (work == setup.Weld || work == "")
				if has := strings.Contains(text, "the puddle") || strings.Contains(text, "steel weld"); has != welds {
					t.Errorf("%s, work %q, ratio %v: %q", fuel, work, ratio, text)
				}
			}
		}
	}
}

// Hydrogen holds no carbon: no feather, no soot, no CO, and nothing is carburized by it.
func TestFlameView_hydrogen_has_no_carbon_to_give(t *testing.T) {
	for _, ratio := range ratios(gas.Hydrogen) {
		v := viewOf(t, gas.Hydrogen, setup.Heat, ratio)
		if text := allText(v); strings.Contains(strings.ToLower(text), "carburizing") || strings.Contains(text, "CO ") || strings.Contains(text, "Soot;") || strings.Contains(v.Drawing.SVG, "flame-feather") {
			t.Errorf("ratio %v: %q", ratio, text)
		}
	}
	if v := viewOf(t, gas.Hydrogen, setup.Heat, 0.4); v.Class != "Reducing flame" {
		t.Errorf("%q", v.Class)
	}
}

// What OD0017 says of the looks of a flame is of acetylene alone.
func TestFlameView_names_the_source_of_its_looks_for_acetylene_alone(t *testing.T) {
	for _, fuel := range gas.Fuels() {
		for _, ratio := range ratios(fuel) {
			if src := viewOf(t, fuel, "", ratio).Words.Source; strings.Contains(src, "OD0017") != (fuel == gas.Acetylene) {
				t.Errorf("%s: %q", fuel, src)
			}
		}
	}
}

// Every flame has all its words, for every work.
func TestBurner_has_words_for_every_flame(t *testing.T) {
	for _, fuel := range gas.Fuels() {
		for _, work := range []setup.Work{"", setup.Weld, setup.Braze, setup.Heat, setup.Bend, setup.Cut} {
			for _, class := range []flame.Class{flame.Carburizing, flame.Neutral, flame.Oxidizing} {
				b := burner{fuel, work}
				w := b.words(class)
				for _, text := range []string{w.Use, w.Look, w.Sound, w.Misuse, w.Source, b.effect(class)} {
					if !strings.HasSuffix(text, ".") {
						t.Errorf("%s, %q, %s: %+v, %q", fuel, work, class, w, b.effect(class))
					}
				}
			}
		}
	}
}

// What the torch oxygen can release is called that, with the handbooks' inner cone beside it: 82 % against 10 % for propane.
func TestFlameView_does_not_call_the_heat_of_the_torch_oxygen_the_inner_cone(t *testing.T) {
	for _, n := range viewOf(t, gas.Propane, setup.Heat, 4.3).Facts {
		if strings.Contains(n.Label, "eat in the inner cone") {
			t.Errorf("%q", n.Label)
		}
		if n.Key == "flame.primary_power_w" && (!strings.Contains(n.Label, "torch oxygen") || !strings.Contains(n.Note, "Handbooks print 10 % in the inner cone")) {
			t.Errorf("%+v", n)
		}
	}
	for _, r := range NewFuelTable(metric) {
		text := ""
		for _, l := range r.Lines {
			text += l.Name + ": " + l.Text + "\n"
		}
		_, printed := flame.PrintedHeatSplit(gas.Gas(r.Key))
		if !strings.Contains(text, "Released by the torch oxygen, neutral: ") || strings.Contains(text, "Handbooks print in the inner cone") != printed {
			t.Errorf("%s:\n%s", r.Name, text)
		}
		if r.Key == "propane" && (!strings.Contains(text, "neutral: 82 %") || !strings.Contains(text, "inner cone: 10 %")) {
			t.Error(text)
		}
		if strings.Contains(r.Source, "memory, from memory") {
			t.Errorf("marked twice: %q", r.Source)
		}
	}
}
