package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// RefusalCard shows why there is no answer, and the ways out.
func RefusalCard(r present.Refusal) app.UI {
	return app.Section().Class("refusal", "level-stop").Role("alert").DataSet("refusal", r.Code).Body(
		app.H2().Class("refusal-head").Body(MarkShape(MarkStop), app.Strong().Class("word").Text(words.Text("Stop. ")), app.Span().Text(words.Text(r.Head))),
		app.Dl().Body(
			refusalLine("About", r.Field),
			refusalLine("Read", r.Read),
			refusalLine("Allowed", r.Allowed),
			refusalLine("Why", r.Why),
			refusalLine("Source", r.Source),
		),
		app.If(len(r.WaysOut) > 0, func() app.UI {
			return app.Div().Class("ways").Body(
				app.P().Class("word").Text(words.Text("Ways out")),
				app.Ul().Body(app.Range(r.WaysOut).Slice(func(i int) app.UI { return app.Li().Text(words.Text(r.WaysOut[i])) })),
			)
		}),
	)
}

func refusalLine(name, text string) app.UI {
	return app.If(text != "", func() app.UI {
		return app.Div().Class("refusal-line").Body(app.Dt().Text(words.Text(name)), app.Dd().Text(words.Text(text)))
	})
}
