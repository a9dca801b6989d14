package pages

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/units"
	"torchside/pwa/present"
	"torchside/pwa/pwatest"
	"torchside/pwa/state"
)

// flamePage is the flame view after messages.
func flamePage(t *testing.T, msgs ...state.Msg) string {
	t.Helper()
	a := ask(t, msgs...)
	return pwatest.HTML(t, &Flame{Flame: a.app.Flame, Prefs: a.app.Prefs})
}

// The view answers at each stop with name, temperature, contents and what the flame is for.
func TestFlame_shows_class_heat_contents_and_use(t *testing.T) {
	for _, c := range []struct {
		ratio float64
		want  []string
	}{
		{0.9, []string{"Carburizing flame", "0.9 to 1", "Hard-facing", "hard and brittle", `class="flame-feather"`}},
		{1.1, []string{"Neutral flame", "3109 °C", "1.1 to 1", "Welding steel", "3250 °C", "more than chemical equilibrium allows"}},
		{1.5, []string{"Oxidizing flame", "1.5 to 1", "braze-welding cast iron", "throws sparks"}},
	} {
		html := flamePage(t, state.FlameMoved{Ratio: c.ratio})
		pwatest.Wants(t, html, append(c.want, "An example: a hole of", `data-val="flame.shares"`, `data-val="flame.lowest_flow"`, "To shield the puddle: CO and H₂", "Released by the torch oxygen", "from memory")...)
		if c.ratio > 1 {
			pwatest.Lacks(t, html, `class="flame-feather"`)
		}
		if strings.Contains(strings.ToLower(html), "safe") {
			t.Errorf("ratio %v: something is called safe", c.ratio)
		}
	}
}

// The equation is worked out step by step, and all fuels are compared.
func TestFlame_explains_the_equation_and_compares_fuels(t *testing.T) {
	html := flamePage(t)
	pwatest.Wants(t, html, "2 C₂H₂ + 5 O₂ → 4 CO₂ + 2 H₂O", "10 left, 10 right", "2.5 volumes of oxygen to one of fuel", `data-act="flame-table"`)
	for _, f := range present.Fuels() {
		pwatest.Wants(t, html, `data-val="fuel.`+f.Value+`"`)
	}
	html = flamePage(t, state.FlameFuelChosen{Fuel: "hydrogen"})
	pwatest.Wants(t, html, "2 H₂ + O₂ → 2 H₂O", "no second stage")
}

func TestFlame_speaks_both_systems_of_units(t *testing.T) {
	pwatest.Wants(t, flamePage(t, state.UnitsChosen{System: units.US()}), "5629 °F", "ft³/h", "Btu/ft³", "70 °F and 1 atm", " in</")
	pwatest.Wants(t, flamePage(t, state.UnitsChosen{System: units.Metric()}), "3109 °C", "L/h", "MJ/m³", "15 °C and 1 atm", " mm</")
}

// On the settings card the flame of the card's tip stands under a slider and leads to its own page; another fuel looked at there
// does not show on a card of acetylene.
func TestSetup_has_the_flame_under_a_slider(t *testing.T) {
	a := ask(t, state.SampleAdded{}, state.SetupTyped{Field: "thickness", Text: "1/8 in"})
	html := pwatest.HTML(t, &Setup{App: a.app})
	pwatest.Wants(t, html, `data-act="flame-ratio"`, `data-act="flame-carburizing"`, `data-act="flame-use"`, `href="/flame"`, `data-val="flame_temperature_k"`, `data-val="net_heat_w"`)
	a.post(state.FlameFuelChosen{Fuel: "propane"})
	pwatest.Lacks(t, pwatest.HTML(t, &Setup{App: a.app}), `data-act="flame-ratio"`)
}

// A stop moves the flame at once and tells the state; a drag tells it when the thumb rests; the card takes over what was found.
func TestFlameLive_tells_the_state(t *testing.T) {
	a := ask(t, state.SampleAdded{}, state.SetupTyped{Field: "thickness", Text: "1/8 in"})
	f := &flameLive{Flame: a.app.Flame}
	f.OnInit()
	got := pwatest.Messages(t, func(ctx app.Context) { f.onPick(ctx, a.app.Flame.Stops.Oxidizing) })
	if len(got) != 1 || got[0] != (state.FlameMoved{Ratio: a.app.Flame.Stops.Oxidizing}) {
		t.Errorf("a stop posts %v", got)
	}
	got = pwatest.Messages(t, func(ctx app.Context) {
		f.onSlide(ctx, 0.8)
		f.onSlide(ctx, 0.9)
		if f.live.Question.Ratio != 0.9 || f.live.Answer.Class != "carburizing" {
			t.Errorf("dragged to 0.9, shown is %v", f.live.Question)
		}
		f.onRest(ctx)
		f.onUse(ctx)
	})
	want := []state.Msg{state.FlameMoved{Ratio: 0.9}, state.SetupTyped{Field: "ratio", Text: "0.9"}}
	if len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("a drag posts %v, want %v", got, want)
	}
}

// What comes down again does not undo a drag; what is new does.
func TestFlameLive_keeps_a_drag_until_something_new_comes(t *testing.T) {
	a := ask(t)
	f := &flameLive{Flame: a.app.Flame}
	f.OnInit()
	pwatest.Do(t, func(ctx app.Context) {
		f.onSlide(ctx, 1.3)
		f.OnUpdate(ctx)
		if f.live.Question.Ratio != 1.3 {
			t.Errorf("the drag to 1.3 was undone: %v", f.live.Question.Ratio)
		}
		f.Flame = a.app.Flame.At(0.8)
		f.OnUpdate(ctx)
		if f.live.Question.Ratio != 0.8 {
			t.Errorf("the new 0.8 is not shown: %v", f.live.Question.Ratio)
		}
	})
}
