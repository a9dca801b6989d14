package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/site"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// log leads from the card to a sheet of the journal that holds it. It stands below the whole card: what is noted has been read.
func (s *Setup) log() app.UI {
	return app.If(s.folded(), func() app.UI {
		return widgets.Actions(
			app.If(s.App.Setup.Work == "cut", func() app.UI {
				return widgets.BigLink("setup-to-cuts", "Cut list: will the gas last?", "/bench/cuts", widgets.Plain)
			}),
			&widgets.BigButton{Act: "setup-log", Label: "Log this", Note: "begins a sheet with these settings", Kind: widgets.Main, OnPress: onLog})
	})
}

// torch starts the reminder of a lit torch, for who has switched it on and has not lit it yet.
func (s *Setup) torch() app.UI {
	_, burning := s.App.Timers.LitTimer()
	return app.If(s.folded() && s.App.Prefs.TorchMinutes > 0 && !burning, torchLitButton)
}

// cardLine is what the settings card is for; "" when no card answers what is typed.
func cardLine(s state.Setup) string {
	if s.Card == nil || s.Stale || s.Refusal != nil || len(s.Errors) > 0 {
		return ""
	}
	joint := s.Joint
	if !present.HasJoint(s.Work) {
		joint = ""
	}
	work, metal := s.Subject()
	return present.Question(work, metal, s.Typed["thickness"], joint)
}

func onLog(ctx app.Context) {
	action.Post(ctx, state.SheetCaught{})
	ctx.Navigate(site.At("/journal"))
}

// worked is what worked before for the same work, out of the owner's own sheets. It stands below the card, whose warnings come first.
func (s *Setup) worked() app.UI {
	return app.If(s.folded() && s.App.Journal.Worked != nil, func() app.UI {
		w := present.NewWorked(*s.App.Journal.Worked, s.options())
		return app.Details().Class("fold", "worked").DataSet("val", "worked").Body(
			foldHead("setup-worked", "What worked before", w.Head),
			app.Div().Class("fold-body", "stack").Body(
				app.P().DataSet("val", "worked-words").Text(words.Text(w.Words)),
				widgets.FactList(w.Facts)))
	})
}
