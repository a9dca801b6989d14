package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Render asks first and answers below.
func (s *Setup) Render() app.UI {
	return widgets.Page("What are you doing?",
		s.guide(),
		s.needs(),
		askRegion(s.App.Prefs.AskRegion),
		s.question(),
		s.sample(),
		s.tipInForce(),
		s.refusal(),
		s.card(),
		s.worked(),
		s.torch(),
		s.log(),
		s.sheet(),
	)
}

// guide explains the first card.
func (s *Setup) guide() app.UI {
	return app.If(s.App.Prefs.Guide == state.GuideCard, func() app.UI {
		return widgets.Card("", guideStep(state.GuideCard),
			app.P().Text(words.Text("This is a settings card. Cautions come first, then the tip, the pressures and the flame. A tap on a number tells where it comes from.")),
			&widgets.BigButton{Act: "guide-next", Label: "Next: is it tight?", Kind: widgets.Main, OnPress: post(state.GuideWent{Screen: state.GuideLeak})}, guideSkip())
	})
}

// question is the form, or the line it folds into.
func (s *Setup) question() app.UI {
	if s.folded() {
		work, metal := s.App.Setup.Subject()
		return app.Div().Class("summary").Body(
			app.P().Class("summary-text").DataSet("val", "setup-question").
				Text(words.Text(present.Question(work, metal, s.thickness(), s.joint()))),
			&widgets.SmallButton{ID: "setup-edit", Act: "setup-edit", Label: "Change", OnPress: s.onEdit},
		)
	}
	return app.Div().Class("stack").Body(s.form()...)
}

// thickness is what was read, or what was typed where nothing needed reading.
func (s *Setup) thickness() string {
	if read := s.App.Setup.Read["thickness"]; read != "" {
		return read
	}
	return s.App.Setup.Typed["thickness"]
}

// joint is the chosen joint where the work has one.
func (s *Setup) joint() string {
	if !present.HasJoint(s.App.Setup.Work) {
		return ""
	}
	return s.App.Setup.Joint
}

func (s *Setup) form() []app.UI {
	q := s.App.Setup
	return []app.UI{
		&widgets.ChoiceGroup{ID: "setup-work", Act: "setup-work", Label: "Work", Choices: choices(present.Works()), Selected: q.Work, OnChoose: s.onWork},
		&widgets.ChoiceGroup{ID: "setup-metal", Act: "setup-metal", Label: "Metal", Choices: choices(present.Metals()), Selected: q.Metal, OnChoose: s.onMetal},
		s.number("thickness", true, s.onThickness),
		app.If(present.HasJoint(q.Work), func() app.UI {
			return &widgets.ChoiceGroup{ID: "setup-joint", Act: "setup-joint", Label: "Joint", Choices: choices(present.Joints()), Selected: q.Joint, OnChoose: s.onJoint}
		}),
		s.piece(),
		s.more(),
		s.dock(),
	}
}

// dock stays in sight above the bottom bar while the form is open: it tells whether there is an answer, and leads to it. It
// shows no number, because cautions come first.
func (s *Setup) dock() app.UI {
	return app.Div().Class("dock").Body(
		app.If(s.answered(), func() app.UI {
			return &widgets.BigButton{Act: "setup-done", Label: "Show the card", Kind: widgets.Main, OnPress: s.onDone}
		}).ElseIf(s.refused(), func() app.UI {
			return &widgets.BigButton{Act: "setup-why", Label: "Why there are no settings", OnPress: s.onWhy}
		}))
}

// more holds the questions that have an answer already. They open by themselves when one of them is wrong.
func (s *Setup) more() app.UI {
	open := s.moreAsk || s.App.Setup.Errors["temperature"]+s.App.Setup.Errors["altitude"]+s.App.Setup.Errors["ratio"] != ""
	return app.Div().Class("stack").Body(
		&widgets.BigButton{Act: "setup-more", Label: "Shop temperature, altitude, flame", Expanded: boolWord(open), OnPress: s.onMore},
		app.If(open, func() app.UI {
			return app.Div().Class("stack").Body(
				s.number("temperature", true, s.onTemperature),
				s.number("altitude", true, s.onAltitude),
				s.number("ratio", false, s.onRatio),
			)
		}),
	)
}

// number is a field of the state. The small keypad of some phones has no minus and no slash: letters asks for the whole keyboard.
func (s *Setup) number(key string, letters bool, onInput func(app.Context, string)) app.UI {
	f := s.App.Setup.Fields[key]
	return &widgets.NumberField{ID: "setup-" + key, Act: "setup-" + key, Label: f.Label, Hint: f.Hint, Help: f.Help, Value: s.App.Setup.Typed[key],
		Read: f.Read, Err: f.Error, Down: f.Down, Up: f.Up, Choices: f.Choices, Letters: letters, OnInput: onInput}
}

// sample says that the numbers are for a rig that nobody has.
func (s *Setup) sample() app.UI {
	return app.If(s.App.Setup.Sample, func() app.UI {
		return app.Div().Class("summary", "level-check").DataSet("notice", "sample").Body(
			widgets.MarkShape(widgets.MarkCheck),
			app.P().Class("summary-text").Text(words.Text("Sample rig, not yours.")),
			&widgets.SmallButton{ID: "setup-sample-remove", Act: "setup-sample-remove", Label: "Remove", OnPress: s.onSampleRemoved},
		)
	})
}

// needs says what the rig lacks, with both ways to get it.
func (s *Setup) needs() app.UI {
	return app.If(len(s.App.Rig.Missing) > 0, func() app.UI {
		return widgets.Card("First, what do you have?",
			app.Div().DataSet("val", "setup-missing").Body(app.P().Text(words.Text("For a settings card this is still missing:")), needList("setup", s.App.Rig.Needs)),
			app.P().Class("quiet").Text(words.Text("Oxygen cylinder, regulators and hoses are not needed for a card, but it says more with them.")),
			widgets.Actions(
				widgets.BigLink("setup-to-rig", "See the whole rig", "/rig", widgets.Plain),
				&widgets.BigButton{Act: "setup-sample", Label: "Try it with a sample rig", Note: "invented parts, gone again with one tap", OnPress: s.onSample},
			))
	})
}

// refusal stands before the last good card.
func (s *Setup) refusal() app.UI {
	return app.If(s.refused(), func() app.UI {
		return app.Div().ID("setup-refusal").Body(widgets.RefusalCard(present.NewRefusal(*s.App.Setup.Refusal, s.options())), s.refusedTips())
	})
}

func (s *Setup) card() app.UI {
	return app.If(s.App.Setup.Card != nil, func() app.UI {
		return &widgets.SettingsCard{Card: s.cache.Card(s.App.Setup.Card, s.options()), Stale: s.staleWords(), OnOpen: s.onOpen, Tips: s.tips, Flame: s.flame}
	})
}

// flame is the flame of the card's tip under a slider; nil while another fuel is looked at, which the card is not about, and while
// the form is open: every key draws the card again, and the plain drawing is quicker.
func (s *Setup) flame(outer func() *app.Context) app.UI {
	if s.App.Flame.Tip == "" || !s.folded() {
		return nil
	}
	return &flameLive{Flame: s.App.Flame, Opt: s.options(), Short: true, Outer: outer}
}

func (s *Setup) sheet() app.UI {
	return app.If(s.App.Setup.Card != nil && s.App.Setup.OpenProvenance != "", func() app.UI {
		return widgets.ProvenanceSheet(s.cache.Sheet(s.App.Setup.Card, s.App.Setup.OpenProvenance, s.options()), s.onClose)
	})
}

// choices makes buttons of words.
func choices(words []present.Word) []widgets.Choice {
	list := make([]widgets.Choice, 0, len(words))
	for _, w := range words {
		list = append(list, widgets.Choice{Value: w.Value, Label: w.Label})
	}
	return list
}

func boolWord(b bool) string {
	if b {
		return "true"
	}
	return "false"
}
