package present

import (
	"math"
	"math/rand"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"torchside/calc/flame"
)

// TestDrawings_are_plain_and_told_in_words: no style, no script, a role, a title and a description in every drawing, whatever
// the owner has typed as a label.
func TestDrawings_are_plain_and_told_in_words(t *testing.T) {
	c := exampleCard()
	c.Tip = `<script>"&'</script>`
	v := NewCard(c, us)
	for name, d := range map[string]Drawing{"oxygen": v.Gases[0].Dial, "fuel": v.Gases[1].Dial, "flame": v.Flame.Drawing, "tag": v.Tip.Drawing} {
		for _, want := range []string{`role="img"`, "<title>", "<desc>"} {
			if !strings.Contains(d.SVG, want) {
				t.Errorf("%s lacks %s", name, want)
			}
		}
		for _, lacks := range []string{"style=", "<style", "<script", "onload", "href", "NaN", "Inf"} {
			if strings.Contains(d.SVG, lacks) {
				t.Errorf("%s holds %s: %s", name, lacks, d.SVG)
			}
		}
		if d.Text == "" || strings.Count(d.SVG, "<svg") != 1 {
			t.Errorf("%s: text %q", name, d.Text)
		}
	}
	if !strings.Contains(v.Gases[1].Dial.Over, "LIMIT 15 psi") || strings.Contains(v.Gases[0].Dial.Over, "LIMIT") {
		t.Error("the limit stands on the wrong dial")
	}
}

// TestDial_needle_points_where_the_ticks_say recomputes the angle of the needle's point on random dials.
func TestDial_needle_points_where_the_ticks_say(t *testing.T) {
	needle := regexp.MustCompile(`dial-needle" d="M(-?[\d.]+) (-?[\d.]+)L`)
	rnd := rand.New(rand.NewSource(2))
	for range 200 {
		d := dialInput{name: "oxygen", unit: "bar", max: 0.5 + 20*rnd.Float64()}
		d.set = d.max * rnd.Float64()
		m := needle.FindStringSubmatch(drawDial(d).SVG)
		x, _ := strconv.ParseFloat(m[1], 64)
		y, _ := strconv.ParseFloat(m[2], 64)
		angle := math.Atan2(y-dialCenter, x-dialCenter) * 180 / math.Pi
		turned := math.Mod(angle-dialStart+720, 360)
		if math.Abs(turned/dialSweep*d.max-d.set) > 0.01*d.max { // coordinates have two decimals: 0.01 of 80
			t.Fatalf("set %v of %v, needle at %v", d.set, d.max, turned/dialSweep*d.max)
		}
	}
}

func TestDial_beyond_its_end_says_so_and_stays_on_the_face(t *testing.T) {
	d := drawDial(dialInput{name: "acetylene", unit: "psi", value: "40 psi", max: 30, set: 40, limit: 15, limitText: "15 psi", assumed: true})
	for _, want := range []string{"beyond its end", "Limit: 15 psi", "not entered"} {
		if !strings.Contains(d.Text, want) {
			t.Errorf("%q lacks %q", d.Text, want)
		}
	}
}

// TestTicks_are_one_two_five_and_at_most_six on random ends, over the range of gauges.
func TestTicks_are_one_two_five_and_at_most_six(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	for range 500 {
		end := math.Pow(10, -2+6*rnd.Float64())
		k := newTicks(end, 6)
		lead := k.step / math.Pow(10, math.Floor(math.Log10(k.step)+1e-9))
		if math.Abs(lead-1) > 1e-6 && math.Abs(lead-2) > 1e-6 && math.Abs(lead-5) > 1e-6 {
			t.Fatalf("end %v has step %v", end, k.step)
		}
		if n := k.count(end, k.step); n < 2 || n > 6 {
			t.Fatalf("end %v has %d marks of %v", end, n, k.step)
		}
		if v, _ := strconv.ParseFloat(k.label(k.step), 64); math.Abs(v-k.step) > 1e-9*k.step {
			t.Fatalf("the mark %v is labelled %s", k.step, k.label(k.step))
		}
	}
}

// TestFlame_cone_and_rule_have_one_scale measures the drawn cone against the drawn rule.
func TestFlame_cone_and_rule_have_one_scale(t *testing.T) {
	edge := regexp.MustCompile(`rule-edge" d="M60 150H([\d.]+)"`)
	tip := regexp.MustCompile(`flame-cone" d="M60 [\d.]+L[\d.]+ [\d.]+Q([\d.]+) 78 `)
	for _, isUS := range []bool{true, false} {
		for _, cone := range []float64{0.002, 0.005, 0.009, 0.02, 0.05} {
			in := flameInput{class: flame.Neutral, hole: 0.001, cone: cone, us: isUS}
			svg := drawFlame(in).SVG
			e, _ := strconv.ParseFloat(edge.FindStringSubmatch(svg)[1], 64)
			x, _ := strconv.ParseFloat(tip.FindStringSubmatch(svg)[1], 64)
			length := newRule(cone/conePart, isUS).length
			got := (x - flameOrigin) / (e - flameOrigin) * length
			if math.Abs(got/cone-1) > 0.01 { // coordinates have two decimals; the shortest cone is over 20 units
				t.Errorf("a cone of %v m is drawn as %v m", cone, got)
			}
		}
	}
}

func TestFlame_feather_is_drawn_only_when_carburizing(t *testing.T) {
	for class, want := range map[flame.Class]bool{flame.Carburizing: true, flame.Neutral: false, flame.Oxidizing: false} {
		svg := drawFlame(flameInput{class: class, hole: 0.001, cone: 0.009}).SVG
		if strings.Contains(svg, "flame-feather") != want {
			t.Errorf("%s: feather drawn is %v", class, !want)
		}
	}
}
