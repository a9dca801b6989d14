package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// regionChoices are the colours hoses have; each stands beside the name of its gas.
func regionChoices() []widgets.Choice {
	return []widgets.Choice{
		{Value: state.RegionUS, Label: "Oxygen green, fuel gas red", Note: "US practice"},
		{Value: state.RegionISO, Label: "Oxygen blue, acetylene red", Note: "ISO 3821"}}
}

// askRegion asks for the colours of the hoses once, as long as the units say another country than the colours do. Nothing
// changes until the person answers.
func askRegion(ask bool) app.UI {
	return app.If(ask, func() app.UI {
		return app.Div().DataSet("val", "ask-region").Body(widgets.Card("",
			&widgets.ChoiceGroup{ID: "ask-region", Act: "ask-region", Label: "What colours are your hoses?", Choices: regionChoices(), OnChoose: onRegion},
			app.P().Class("quiet").Text(words.Text("You can change it under Bench, Look."))))
	})
}

func onRegion(ctx app.Context, v string) { action.Post(ctx, state.RegionChosen{Region: v}) }
