package pages

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/present"
	"torchside/pwa/state"
)

func TestSetup_offers_every_tip_of_the_rig_and_says_why_one_does_not_fit(t *testing.T) {
	a := ask(t, state.SampleAdded{}, eighth)
	page := a.page()
	wants(t, page, `data-act="setup-tips"`, `data-act="setup-tip-best"`, "now tip SAMPLE 14", "Also fits: ")
	fits, unfit := 0, 0
	for _, v := range a.app.Setup.Card.Tips {
		if v.Fits {
			fits++
			wants(t, page, "Tip "+v.Label)
		} else {
			unfit++
		}
	}
	if fits < 2 || unfit+fits != 4 {
		t.Errorf("%d fit, %d do not: %+v", fits, unfit, a.app.Setup.Card.Tips)
	}
	thin := ask(t, state.SampleAdded{}, state.SetupTyped{Field: "thickness", Text: "0.8 mm"}).page()
	wants(t, thin, `data-val="tips.unfit"`, "The hole is too large")
}

func TestSetup_a_tip_chosen_by_hand_keeps_the_form_folded_and_is_named_as_chosen(t *testing.T) {
	ctx, got := listening(t)
	a := ask(t, state.SampleAdded{}, eighth)
	p := &Setup{App: a.app}
	l := present.TipsOf(a.app.Setup.Card, "", p.options())
	other := l.Choices[len(l.Choices)-1]
	p.onTip(l)(ctx, other.Value)
	p.onTip(l)(ctx, "no such value")
	m := got()
	if len(m) != 1 || m[0] != (state.SetupChosen{Field: "tip", Value: other.Label}) || p.editing {
		t.Fatalf("posted %+v, editing %v", m, p.editing)
	}
	a.post(m...)
	p.App = a.app
	page := app.HTMLString(p.Render())
	wants(t, page, `data-act="setup-edit"`, `data-warning="tip_by_hand"`, "By the numbers tip SAMPLE 14 fits best")
	if a.app.Setup.Card.Tip != other.Label {
		t.Errorf("the card is for %s", a.app.Setup.Card.Tip)
	}
	p.onTip(l)(ctx, "best")
	a.post(got()...)
	if a.app.Setup.TipLabel != "" || a.app.Setup.Card.Tip != "SAMPLE 14" {
		t.Errorf("back to the best: %q, %s", a.app.Setup.TipLabel, a.app.Setup.Card.Tip)
	}
}

func TestSetup_a_chosen_tip_that_does_not_fit_or_is_gone_offers_the_others(t *testing.T) {
	for name, thickness := range map[string]string{"SAMPLE 18": "0.8 mm", "gone": "1/8 in"} {
		page := ask(t, state.SampleAdded{}, state.SetupTyped{Field: "thickness", Text: thickness}, state.SetupChosen{Field: "tip", Value: name}).page()
		wants(t, page, "data-refusal", `data-act="setup-tip-best"`)
		if strings.Index(page, "data-refusal") > strings.Index(page, `data-act="setup-tip-best"`) {
			t.Errorf("%s: the way out stands before the reason", name)
		}
	}
}

func TestSetup_a_tip_chosen_by_hand_is_for_its_question_alone(t *testing.T) {
	for name, change := range map[string]state.Msg{
		"work": state.SetupChosen{Field: "work", Value: "braze"}, "metal": state.SetupChosen{Field: "metal", Value: "galvanised_steel"},
		"thickness": state.SetupTyped{Field: "thickness", Text: "3 mm"},
	} {
		a := ask(t, state.SampleAdded{}, eighth, state.SetupChosen{Field: "tip", Value: "SAMPLE 18"})
		wants(t, a.page(), `data-notice="tip-by-hand"`, "You chose tip SAMPLE 18.", `data-act="setup-tip-auto"`)
		a.post(state.SetupChosen{Field: "work", Value: a.app.Setup.Work})
		if a.app.Setup.TipLabel != "SAMPLE 18" {
			t.Errorf("%s: the same question gives the tip up", name)
		}
		a.post(change)
		if a.app.Setup.TipLabel != "" || a.app.Setup.HadTip != "SAMPLE 18" {
			t.Errorf("%s: tip %q, had %q", name, a.app.Setup.TipLabel, a.app.Setup.HadTip)
		}
		if a.app.Setup.Card.Tip != "SAMPLE 18" && a.app.Setup.Refusal == nil {
			wants(t, a.page(), `data-notice="had-tip"`, "You had chosen SAMPLE 18.", `data-act="setup-tip-again"`)
		}
		a.post(state.SetupChosen{Field: "tip", Value: "SAMPLE 18"})
		if a.app.Setup.TipLabel != "SAMPLE 18" || a.app.Setup.HadTip != "" {
			t.Errorf("%s: taken again, %q", name, a.app.Setup.TipLabel)
		}
	}
}
