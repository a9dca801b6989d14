package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// tips is the choice of tips below the card's own; nil while the card is for an earlier question.
func (s *Setup) tips() app.UI {
	if !s.answered() {
		return nil
	}
	l := present.TipsOf(s.App.Setup.Card, s.App.Setup.TipLabel, s.options())
	if !l.Worth() {
		return nil
	}
	return widgets.TipChooser(l, s.onTip(l))
}

// refusedTips is the way out of a tip that was chosen by hand and does not fit, or is gone.
func (s *Setup) refusedTips() app.UI {
	no := s.App.Setup.Refusal
	return app.If(s.App.Setup.TipLabel != "" && len(no.Tips) > 0, func() app.UI {
		l := present.NewTipList(no.Tips, s.App.Setup.TipLabel, s.App.FuelInUse(), s.options())
		return widgets.TipChoices(l, s.onTip(l))
	})
}

// tipInForce says that a tip was chosen by hand, with the way back; or that one was for an earlier question, with the way to it.
func (s *Setup) tipInForce() app.UI {
	q := s.App.Setup
	line := func(notice, text, act, label, tip string) app.UI {
		return app.Div().Class("summary", "level-check").DataSet("notice", notice).Body(
			widgets.MarkShape(widgets.MarkCheck),
			app.P().Class("summary-text").Text(words.Text(text)),
			&widgets.SmallButton{ID: act, Act: act, Label: label, OnPress: func(ctx app.Context) { action.Post(ctx, state.SetupChosen{Field: "tip", Value: tip}) }})
	}
	return app.If(q.TipLabel != "", func() app.UI {
		return line("tip-by-hand", words.S("You chose tip %s.", q.TipLabel), "setup-tip-auto", "Choose for me", "")
	}).ElseIf(s.answered() && q.HadTip != "" && q.HadTip != q.Card.Tip, func() app.UI {
		return line("had-tip", words.S("You had chosen %s.", q.HadTip), "setup-tip-again", "Take it again", q.HadTip)
	})
}

// onTip chooses a tip without opening the form: the card is what is looked at.
func (s *Setup) onTip(l present.TipList) func(app.Context, string) {
	return func(ctx app.Context, value string) {
		if label, ok := l.Label(value); ok {
			action.Post(ctx, state.SetupChosen{Field: "tip", Value: label})
		}
	}
}
