package widgets

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/present"
)

// trendSigns are drawn on a 24 × 24 grid: an arrow up, one down, a bar, three dots.
var trendSigns = map[string]string{
	"rising":  `<path d="M4 20 19 5M9 5h10v10"/>`,
	"falling": `<path d="M4 4 19 19M19 9v10H9"/>`,
	"level":   `<path d="M3 12h18M16 7l5 5-5 5"/>`,
	"few":     `<path d="M5 12h.1M12 12h.1M19 12h.1"/>`,
}

// SeriesCard shows a trend: its word and shape, the numbers, the plot with what its lines are, and the table.
func SeriesCard(v present.SeriesView) app.UI {
	return Card(v.Title,
		app.P().Class("trend-verdict", "trend-"+v.Sign).Body(
			app.Span().Class("trend-sign").Aria("hidden", "true").Body(app.Raw(`<svg viewBox="0 0 24 24" class="mark-svg" focusable="false">`+trendSigns[v.Sign]+`</svg>`)),
			app.Span().Class("trend-word").DataSet("val", "trend-word").Text(words.Text(v.Word))),
		app.P().DataSet("val", "trend-words").Text(words.Text(v.Words)),
		Facts(facts(v.Facts)...),
		drawing("plot-figure", v.Drawing),
		app.P().Class("quiet").Text(words.Text("Dots: sheets. Shaded: where half of them lie, dotted its middle. Full line: the trend; dashed: how steep or flat it may be.")),
		trendTable(v),
	)
}

func facts(list []present.Fact) []app.UI {
	var lines []app.UI
	for _, f := range list {
		lines = append(lines, Fact(f.Name, f.Value, f.Val))
	}
	return lines
}

func trendTable(v present.SeriesView) app.UI {
	return app.Div().Class("trend-table").Body(
		app.Table().Class("plain-table").Body(
			app.Caption().Text(words.Text("The newest points")),
			app.THead().Body(app.Tr().Body(app.Th().Scope("col").Text(words.Text("Day")), app.Th().Scope("col").Text(words.Text(v.Head)))),
			app.TBody().Body(app.Range(v.Rows).Slice(func(i int) app.UI {
				return app.Tr().Body(app.Td().Text(words.Text(v.Rows[i].Day)), app.Td().Text(words.Text(v.Rows[i].Value)))
			}))),
		app.If(v.Older > 0, func() app.UI {
			return app.P().Class("quiet").Text(words.S("%s older points are not listed.", strconv.Itoa(v.Older)))
		}))
}
