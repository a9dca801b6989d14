package pages

import (
	"strconv"
	"strings"
	"testing"

	"torchside/pwa/state"
)

func TestSetup_says_what_the_earlier_card_is_for(t *testing.T) {
	a := ask(t, state.SampleAdded{}, eighth, state.SetupTyped{Field: "thickness", Text: "1/"})
	wants(t, a.page(), "Earlier card", "Weld, mild steel, 1/8 in = 3.175 mm, butt")
	a = ask(t, state.SampleAdded{}, state.SetupChosen{Field: "work", Value: "heat"}, eighth, state.SetupTyped{Field: "thickness", Text: "x"})
	wants(t, a.page(), "Heat, mild steel, 1/8 in = 3.175 mm. It")
}

func TestSetup_offers_no_work_that_has_no_card(t *testing.T) {
	for _, w := range []string{"weld", "braze", "heat", "bend", "cut"} {
		a := ask(t, state.SampleAdded{}, state.SetupChosen{Field: "metal", Value: "mild_steel"})
		offered := strings.Contains(a.page(), `data-act="setup-work-`+w+`"`)
		a.post(state.SetupChosen{Field: "work", Value: w}, eighth)
		if answers := a.app.Setup.Card != nil && !a.app.Setup.Stale; offered != answers {
			t.Errorf("%s: offered %v, has a card %v", w, offered, answers)
		}
	}
}

func TestSetup_asks_what_a_fraction_is_of(t *testing.T) {
	a := ask(t, state.SampleAdded{}, state.SetupTyped{Field: "thickness", Text: "3/4"})
	for i, want := range []string{"0.75 mm"} { // 3/4 in is more than is welded
		wants(t, a.page(), "a fraction needs its unit", `data-act="setup-thickness-choice-`+strconv.Itoa(i+1)+`"`, ">"+want+"<")
	}
	a.post(state.SetupChosen{Field: "work", Value: "heat"})
	wants(t, a.page(), ">3/4 in<")
	lacks(t, a.page(), ">0.75 mm<", `data-act="setup-done"`)
	if a.app.Setup.Card != nil {
		t.Error("a card was made of a fraction of a millimetre")
	}
}
