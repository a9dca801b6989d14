package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// ProvenanceSheet tells where one number comes from: source, formula, inputs, how sure, what others say.
func ProvenanceSheet(s present.Sheet, onClose func(app.Context)) app.UI {
	return &Sheet{ID: "from", Title: s.Title, OnClose: onClose, Body: func() []app.UI { return provenance(s) }}
}

func provenance(s present.Sheet) []app.UI {
	return []app.UI{
		app.P().Class("sheet-value").Text(words.Text(s.Value)),
		KindLabel(s.Kind, false),
		sentence("Source", s.Source),
		app.If(s.Memory != "", func() app.UI {
			return app.P().Class("notice", "level-caution").Body(
				app.Span().Class("notice-text").Body(MarkShape(MarkCaution), app.Text(" "), app.Strong().Class("word").Text(words.Text("From memory. ")),
					app.Span().Text(words.Text(s.Memory))))
		}),
		sentence("How sure", joinSentences(s.Band, s.Reason)),
		app.If(s.Formula != "", func() app.UI {
			return app.Div().Body(app.H3().Class("sheet-part").Text(words.Text("Formula")), app.P().Class("formula").Text(words.Text(s.Formula)))
		}),
		lines("From these", s.Inputs),
		lines("What other sources say", s.Others),
	}
}

func sentence(title, text string) app.UI {
	return app.If(text != "", func() app.UI {
		return app.Div().Body(app.H3().Class("sheet-part").Text(words.Text(title)), app.P().Text(words.Text(text)))
	})
}

func lines(title string, list []present.Line) app.UI {
	return app.If(len(list) > 0, func() app.UI {
		return app.Div().Body(
			app.H3().Class("sheet-part").Text(words.Text(title)),
			app.Dl().Class("facts").Body(app.Range(list).Slice(func(i int) app.UI {
				return Fact(list[i].Name, list[i].Text, "")
			})))
	})
}

func joinSentences(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + " " + b
}
