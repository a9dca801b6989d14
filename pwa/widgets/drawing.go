package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// drawing shows an SVG built by present in a frame of a class; without one it shows the words alone.
func drawing(class string, d present.Drawing) app.UI {
	if d.SVG == "" {
		return app.P().Class(class, "quiet").Text(words.Text(d.Text))
	}
	if d.Over != "" {
		return app.Div().Class(class, "layers").Body(app.Raw(d.SVG), app.Raw(d.Over))
	}
	return app.Div().Class(class).Body(app.Raw(d.SVG))
}
