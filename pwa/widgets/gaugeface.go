package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// GaugeFace shows one gas: its name, the pressure to set, which opens its sheet, and below it the drawn gauge with the needle there.
// The number comes first so that it stands on the first screen of a phone.
func GaugeFace(g present.Gas, opens Opener) app.UI {
	return app.Div().Class("gauge").DataSet("gas", g.Key).Body(
		app.H2().Class("gauge-name").Body(
			app.Span().Class("hose-dot", g.Hose.Class).Aria("hidden", "true"),
			app.Span().Text(words.Text(g.Name)),
		),
		&NumberTile{Number: g.Regulator, Big: true, Opens: opens},
		drawing("gauge-dial", g.Dial),
		app.P().Class("gauge-hose").Text(words.Text(g.Hose.Words)),
	)
}
