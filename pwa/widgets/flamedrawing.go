package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// FlameDrawing shows the flame to scale beside a rule, with the same in words below.
func FlameDrawing(d present.Drawing) app.UI {
	return app.Figure().Class("flame-figure").Body(
		app.If(d.SVG != "", func() app.UI { return app.Raw(d.SVG) }),
		app.FigCaption().Class("quiet").Text(words.Text(d.Text)),
	)
}
