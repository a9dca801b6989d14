package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// TipTag shows the tip to fit as the tag tied to it, with its hole and where the choice comes from.
type TipTag struct {
	app.Compo

	Tip   present.Tip
	Opens Opener
}

// Render shows warnings, tag and words.
func (t *TipTag) Render() app.UI {
	return app.Div().Class("tile-slot").Body(
		WarningList(t.Tip.Warnings),
		app.Button().Type("button").Class("tile", "tip").DataSet("act", "from-"+t.Tip.Key).OnClick(t.onClick).Body(
			drawing("tip-tag", t.Tip.Drawing),
			app.Span().Class("tip-words").Body(
				app.Span().Class("tile-label").Body(
					app.Text(words.Text("Fit tip ")), app.Strong().DataSet("val", t.Tip.Key).Text(t.Tip.Label)),
				app.Span().Class("tile-note").Text(words.Text(t.Tip.Hole)),
				KindLabel(t.Tip.Kind, t.Tip.Memory),
			),
		),
	)
}

func (t *TipTag) onClick(ctx app.Context, _ app.Event) {
	if t.Opens != nil {
		t.Opens.Open(ctx, t.Tip.Key)
	}
}
