package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Guide shows the first steps, one screen at a time. That of the first card stands on Setup itself.
type Guide struct {
	app.Compo

	Prefs  state.Prefs
	Rig    state.Rig
	Sample bool // the rig is the sample
}

// Render shows the screen that the preferences name.
func (g *Guide) Render() app.UI {
	switch g.Prefs.Guide {
	case state.GuideUnits:
		return g.units()
	case state.GuideRig:
		return g.rig()
	}
	return g.leak()
}

// guideStep tells how far one is.
func guideStep(screen int) app.UI {
	return app.P().Class("order-count").DataSet("val", "guide-step").Text(words.S("First steps, %s of %s", itoa(screen), itoa(state.GuideScreens)))
}

// guideSkip ends the first steps.
func guideSkip() app.UI {
	return &widgets.BigButton{Act: "guide-skip", Label: "Skip the first steps", Kind: widgets.Plain, OnPress: post(state.GuideWent{})}
}

func (g *Guide) units() app.UI {
	return widgets.Page("Which units and hoses do you have?", guideStep(state.GuideUnits),
		&widgets.ChoiceGroup{ID: "guide-units", Act: "guide-units", Label: "Units", Selected: preset(g.Prefs.Units.IsUS()), Choices: unitChoices(), OnChoose: choosePreset},
		&widgets.ChoiceGroup{ID: "guide-region", Act: "guide-region", Label: "Hose colours", Selected: g.Prefs.Region, Choices: regionChoices(), OnChoose: onRegion},
		app.P().Class("quiet").Text(words.Text("Both can be changed under Bench at any time; what you type may always name its own unit.")),
		&widgets.BigButton{Act: "guide-next", Label: "Next: your rig", Kind: widgets.Main, OnPress: post(state.GuideWent{Screen: state.GuideRig})}, guideSkip())
}

// rig offers the sample beside the own parts; with a rig that is enough for a card it leads on.
func (g *Guide) rig() app.UI {
	if len(g.Rig.Missing) > 0 {
		return widgets.Page("What do you have?", guideStep(state.GuideRig),
			app.P().Text(words.Text("A settings card needs your torch, one tip and the fuel. Look around with invented parts first, or enter your own.")),
			&widgets.BigButton{Act: "guide-sample", Label: "Look around with a sample rig", Note: "invented parts, gone again with one tap", Kind: widgets.Main, OnPress: post(state.SampleAdded{})},
			widgets.Card("Or enter your own", needList("guide", g.Rig.Needs)), guideSkip())
	}
	text := "Your rig is enough for a card."
	if g.Sample {
		text = "The sample rig is in use. Its numbers are not for your torch."
	}
	return widgets.Page("What do you have?", guideStep(state.GuideRig),
		app.P().DataSet("val", "guide-rig").Text(words.Text(text)),
		&widgets.BigButton{Act: "guide-card", Label: "Show me a card", Note: "a butt weld in mild steel, 3 mm or 1/8 in", Kind: widgets.Main, OnPress: func(ctx app.Context) { action.Post(ctx, state.GuideAsked{}) }}, guideSkip())
}

func (g *Guide) leak() app.UI {
	return widgets.Page("Is it tight?", guideStep(state.GuideLeak),
		app.P().Text(words.Text("Before the first flame: close the torch valves, set the pressure, close the cylinder valve and watch the gauge. The leak test tells how long, and what a falling needle means.")),
		widgets.BigLink("guide-leak", "To the leak test", "/leak", widgets.Plain),
		installHelp(),
		&widgets.BigButton{Act: "guide-done", Label: "Done", Kind: widgets.Main, OnPress: post(state.GuideWent{})})
}

// installHelp tells how the app comes to the home screen; browsers hide it well, and only some keep the data of a page that is not there.
func installHelp() app.UI {
	return app.Details().Class("fold").DataSet("val", "install-help").Body(
		app.Summary().Class("fold-head").DataSet("act", "install-help").Body(
			app.Span().Class("fold-title").Text(words.Text("Put it on the home screen")), app.Span().Class("fold-note").Text(words.Text("it then works without a network")), app.Span().Class("more").Aria("hidden", "true")),
		app.Div().Class("fold-body", "stack").Body(
			app.P().Body(app.Strong().Class("word").Text(words.Text("Android. ")), app.Span().Text(words.Text("Open the browser's menu, then Install app or Add to home screen."))),
			app.P().Body(app.Strong().Class("word").Text(words.Text("iPhone, iPad. ")), app.Span().Text(words.Text("Tap Share, then Add to Home Screen. Open it from there: what you enter in the browser's own window is kept apart from it."))),
			app.P().Class("quiet").Text(words.Text("It needs a safe address (https). If the menu has no such line, see Devices and sync."))))
}
