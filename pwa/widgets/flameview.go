package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// FlameHead names the flame and its temperature, cautions first, with the drawing below.
func FlameHead(v present.FlameView) app.UI {
	return app.Div().Class("stack").Body(
		app.Div().Class("flame-cautions").Body(app.Range(v.Cautions).Slice(func(i int) app.UI { return caution(v.Cautions[i]) })),
		app.Div().Class("flame-head").Body(
			app.P().Class("flame-class").Role("status").DataSet("val", "flame.class").Text(words.Text(v.Class)),
			app.P().Class("flame-hot").DataSet("val", "flame.temperature").Text(words.Text(v.Temperature)),
			app.P().Class("flame-ratio").DataSet("val", "flame.ratio").Text(words.Text(v.Ratio))),
		FlameDrawing(v.Drawing),
	)
}

func caution(text string) app.UI {
	return app.P().Class("notice", "level-caution").Body(app.Span().Class("notice-text").Body(
		MarkShape(MarkCaution), app.Text(" "), app.Strong().Class("word").Text(words.Text("Caution. ")), app.Span().Text(words.Text(text))))
}

// FlameContents shows what is in the flame and what that does.
func FlameContents(v present.FlameView) app.UI {
	return app.Div().Class("stack").Body(
		app.P().Class("quiet").Text(words.Text(v.Bound)),
		app.If(v.Printed != "", func() app.UI { return app.P().DataSet("val", "flame.printed").Text(words.Text(v.Printed)) }),
		app.Figure().Class("flame-figure").Body(
			app.Raw(v.Strip.SVG),
			app.FigCaption().DataSet("val", "flame.shares").Text(words.Text(v.Shares))),
		app.P().DataSet("val", "flame.why").Text(words.Text(v.Why)),
		app.Dl().Class("facts").Body(
			Fact("Use it for", v.Words.Use, "flame.use"), Fact("If misused", v.Words.Misuse, "flame.misuse"),
			Fact("Looks", v.Words.Look, "flame.look"), Fact("Sounds", v.Words.Sound, "flame.sound")),
		app.P().Class("quiet").Text(words.Text(v.Words.Source)),
	)
}

// FlameFacts shows the numbers of tip and heat.
func FlameFacts(list []present.Number) app.UI {
	return app.Div().Class("pairs").Body(app.Range(list).Slice(func(i int) app.UI { return flameFact(list[i]) }))
}

func flameFact(n present.Number) app.UI {
	slot := "tile-slot"
	if len(n.Note) > wideNote {
		slot = "tile-slot tile-wide"
	}
	return app.Div().Class(slot).Body(app.Div().Class("tile flame-tile").Body(
		app.Span().Class("tile-label").Text(words.Text(n.Label)),
		app.Span().Class("tile-number").DataSet("val", n.Key).Body(
			app.Span().Class("tile-value").Text(words.Text(n.Value)),
			app.If(n.Unit != "", func() app.UI { return app.Span().Class("tile-unit").Text(words.Text(" " + n.Unit)) })),
		app.If(n.Band != "", func() app.UI { return app.Span().Class("tile-band").Text(words.Text(n.Band)) }),
		app.If(n.Note != "", func() app.UI { return app.Span().Class("tile-note").Text(words.Text(n.Note)) }),
		KindLabel(n.Kind, n.Memory)))
}

// Drawer is a part that opens with a tap, by the browser itself.
func Drawer(act, title string, body ...app.UI) app.UI {
	return app.Details().Class("card", "drawer").Body(
		app.Summary().Class("drawer-head").DataSet("act", act).Body(app.H2().Class("drawer-title", "more").Text(words.Text(title))),
		app.Div().Class("drawer-body").Body(body...))
}

// FlameBalance shows the balanced equation step by step.
func FlameBalance(b present.Balanced) app.UI {
	return Drawer("flame-steps", words.S("Why so much oxygen: %s", b.Equation),
		app.P().Class("formula").DataSet("val", "flame.equation").Text(words.Text(b.Equation)),
		app.Ol().Class("steps").Body(app.Range(b.Steps).Slice(func(i int) app.UI { return app.Li().Text(words.Text(b.Steps[i])) })),
		lines("Atoms on both sides", b.Atoms),
		app.P().Text(words.Text(b.Torch)))
}

// FuelTable compares the fuels, one below the other: side by side they fit no phone.
func FuelTable(rows []present.FuelRow) app.UI {
	return Drawer("flame-table", "Fuel gases compared",
		app.Range(rows).Slice(func(i int) app.UI {
			r := rows[i]
			return app.Div().DataSet("val", "fuel."+r.Key).Body(
				app.H3().Class("part-title").Text(words.Text(r.Name)),
				app.Dl().Class("facts").Body(app.Range(r.Lines).Slice(func(j int) app.UI { return Fact(r.Lines[j].Name, r.Lines[j].Text, "") })),
				app.P().Class("quiet").Text(words.Text(r.Source)))
		}))
}
