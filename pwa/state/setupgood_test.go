package state

import (
	"encoding/json"
	"testing"

	"torchside/calc/units"
)

// reloaded is a reload with the drafts as the browser keeps them: as JSON.
func (w *world) reloaded() {
	w.t.Helper()
	for key, d := range w.drafts {
		text, err := json.Marshal(d)
		if err != nil {
			w.t.Fatal(err)
		}
		var back Draft
		if err := json.Unmarshal(text, &back); err != nil {
			w.t.Fatal(err)
		}
		w.drafts[key] = back
	}
	w.restart()
}

func TestSetup_after_a_reload_shows_the_last_good_card_beside_what_is_unfinished(t *testing.T) {
	w := newWorld(t)
	w.post(SampleAdded{})
	w.post(UnitsChosen{System: units.US()})
	w.post(SetupChosen{Field: "metal", Value: "copper"})
	w.post(SetupChosen{Field: "work", Value: "braze"})
	w.post(SetupTyped{Field: "thickness", Text: "1/8"})
	if w.app.Setup.Card == nil || w.app.Setup.Stale {
		t.Fatalf("no card for 1/8 in: %v %v", w.app.Setup.Refusal, w.app.Setup.Errors)
	}
	before := *w.app.Setup.Card
	for _, unfinished := range []Msg{
		SetupTyped{Field: "thickness", Text: "1/"},
		SetupChosen{Field: "work", Value: "weld"},
		UnitsChosen{System: units.Metric()},
	} {
		w.post(unfinished)
		shown := w.app.Setup.For.Thickness
		typed := w.app.Setup.Typed["thickness"]
		w.reloaded()
		s := w.app.Setup
		switch {
		case s.Card == nil || !s.Stale:
			t.Fatalf("%+v: after the reload the card is %v, stale %v", unfinished, s.Card, s.Stale)
		case s.Card.Tip != before.Tip || s.Card.Fuel.FlowStdM3S != before.Fuel.FlowStdM3S:
			t.Errorf("%+v: the card is another one: %+v", unfinished, s.Card)
		case s.For.Work != "braze" || s.For.Metal != "copper" || s.For.Thickness != shown || shown != "1/8 in = 3.175 mm":
			t.Errorf("%+v: the card is said to be for %+v", unfinished, s.For)
		case s.Typed["thickness"] != typed:
			t.Errorf("%+v: typed was %q, now %q", unfinished, typed, s.Typed["thickness"])
		}
	}
	w.post(SetupChosen{Field: "metal", Value: "mild_steel"})
	w.post(SetupTyped{Field: "thickness", Text: "3"})
	w.reloaded()
	if s := w.app.Setup; s.Card == nil || s.Stale || s.For.Thickness != "3 mm" {
		t.Errorf("the card is for %+v, stale %v, want 3 mm", s.For, s.Stale)
	}
}

func TestSetup_with_an_earlier_question_of_unknown_units_starts_without_a_card(t *testing.T) {
	w := newWorld(t)
	w.post(SampleAdded{})
	w.drafts[draftSetup] = Draft{Texts: map[string]string{"thickness": "1/"}, Choices: map[string]string{"work": "weld"}, Units: "metric",
		Earlier: &Draft{Texts: map[string]string{"thickness": "3"}, Units: "cubits"}}
	w.reloaded()
	if s := w.app.Setup; s.Card != nil || s.Typed["thickness"] != "1/" {
		t.Errorf("card %v, typed %q", s.Card, s.Typed["thickness"])
	}
}
