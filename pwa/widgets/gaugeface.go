package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/present"
)

// GaugeFace shows one gas: its name and hose, the drawn gauge with the needle at the set pressure, and the number beneath,
// which opens its sheet.
func GaugeFace(g present.Gas, onOpen func(ctx app.Context, key string)) app.UI {
	return app.Div().Class("gauge").DataSet("gas", g.Key).Body(
		app.H2().Class("gauge-name").Body(
			app.Span().Class("hose-dot", g.Hose.Class).Aria("hidden", "true"),
			app.Span().Text(g.Name),
		),
		drawing("gauge-dial", g.Dial),
		&NumberTile{Number: g.Regulator, Big: true, OnOpen: onOpen},
		app.P().Class("gauge-hose").Text(g.Hose.Words),
	)
}
