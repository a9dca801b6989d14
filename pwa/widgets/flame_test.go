package widgets

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/present"
)

// loaded renders an element with the components inside it.
func loaded(t *testing.T, ui app.UI) string {
	t.Helper()
	engine := app.NewTestEngine()
	holder := &anything{content: ui}
	if err := engine.Load(holder); err != nil {
		t.Fatal(err)
	}
	engine.ConsumeAll()
	return app.HTMLString(holder)
}

type anything struct {
	app.Compo

	content app.UI
}

// Render shows the content.
func (a *anything) Render() app.UI { return app.Div().Body(a.content) }

// The slider counts in whole steps of a hundredth, so that no browser cuts a ratio to its own default steps; the thumb's place is
// no attribute, or drawing again would move it.
func TestFlameSlider_counts_in_steps_and_leaves_the_thumb_alone(t *testing.T) {
	text := loaded(t, &FlameSlider{ID: "x", Label: "Oxygen to acetylene", Spoken: "1.1 to 1, neutral", Low: 0.68, High: 2.11, Ratio: 1.1,
		Stops: []FlameStop{{Act: "flame-neutral", Label: "Neutral", Ratio: 1.1, Here: true}, {Act: "flame-oxidizing", Label: "Oxidizing", Ratio: 1.45}}})
	for _, part := range []string{`type="range"`, `min="68"`, `max="211"`, `step="1"`, `aria-valuetext="1.1 to 1, neutral"`, `aria-label="Less oxygen"`, `aria-label="More oxygen"`} {
		if !strings.Contains(text, part) {
			t.Errorf("%s is missing in:\n%s", part, text)
		}
	}
	if strings.Contains(text, `value="110"`) {
		t.Error("the thumb's place is an attribute")
	}
	// A true attribute is written without its value there.
	if all, others := strings.Count(text, "aria-pressed"), strings.Count(text, `aria-pressed="false"`); all != 2 || others != 1 {
		t.Errorf("of %d named flames %d are not the present one", all, others)
	}
}

// Buttons and slider hand on the ratio they stand for.
func TestFlameSlider_hands_on_ratios(t *testing.T) {
	var picked []float64
	pick := func(_ app.Context, ratio float64) { picked = append(picked, ratio) }
	b := &ratioButton{Act: "flame-neutral", To: 1.1, OnPick: pick}
	b.onClick(app.Context{}, app.Event{})
	(&ratioButton{Act: "nothing"}).onClick(app.Context{}, app.Event{})
	if len(picked) != 1 || picked[0] != 1.1 {
		t.Errorf("picked %v", picked)
	}
	rested := false
	s := &FlameSlider{OnRest: func(app.Context) { rested = true }}
	s.onChange(app.Context{}, app.Event{})
	if !rested {
		t.Error("nobody hears that the thumb rests")
	}
	if got := position(1.1); got != "110" {
		t.Errorf("1.1 stands at %s", got)
	}
}

// Cautions stand before the temperature they concern; everything has its hook.
func TestFlameHead_shows_cautions_first(t *testing.T) {
	v := present.FlameView{Class: "Neutral flame", Temperature: "3109 °C", Ratio: "1.1 to 1", Cautions: []string{"It can pop back."},
		Drawing: present.Drawing{Text: "nothing to draw"}}
	text := loaded(t, FlameHead(v))
	if c, n := strings.Index(text, "It can pop back."), strings.Index(text, "3109 °C"); c < 0 || n < 0 || c > n {
		t.Errorf("caution at %d, temperature at %d", c, n)
	}
	for _, hook := range []string{"flame.class", "flame.temperature", "flame.ratio"} {
		if !strings.Contains(text, `data-val="`+hook+`"`) {
			t.Errorf("%s has no hook", hook)
		}
	}
}

// A heading opens every drawer, one below the page's own.
func TestDrawers_have_a_heading(t *testing.T) {
	for name, ui := range map[string]app.UI{
		"balance": FlameBalance(present.Balanced{Equation: "2 H₂ + O₂ → 2 H₂O", Steps: []string{"one"}, Torch: "all"}),
		"table":   FuelTable([]present.FuelRow{{Key: "hydrogen", Name: "Hydrogen", Lines: []present.Line{{Name: "Heat", Text: "10 MJ/m³"}}, Source: "a source"}}),
	} {
		text := loaded(t, ui)
		if h2, h3 := strings.Index(text, "<h2"), strings.Index(text, "<h3"); h2 < 0 || h3 >= 0 && h3 < h2 {
			t.Errorf("%s: headings at %d and %d", name, h2, h3)
		}
	}
}
