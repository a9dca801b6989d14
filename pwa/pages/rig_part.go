package pages

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// partRow is one part in the list. A tap anywhere on its head opens it.
type partRow struct {
	app.Compo

	Part state.PartView
	Hose present.Hose // of its line; not shown for parts of no line
}

// CompoID is the part's: rows that move keep their handlers.
func (r *partRow) CompoID() string { return "part-" + r.Part.ID }

// Render shows name, state, gas, facts and, of a tip, the maker's chart.
func (r *partRow) Render() app.UI {
	p := r.Part
	return app.Div().Class("rig-part").Body(
		app.Button().Type("button").Class("rig-head").DataSet("act", "rig-part-"+p.ID).OnClick(r.onOpen).Body(
			app.Span().Class("rig-name").Dir("auto").Text(words.Own(p.Name, p.Sample)),
			r.tags(),
			r.line(),
			app.Span().Class("rig-facts").Text(words.Join(p.Facts, " · ")),
		),
		app.If(p.CanUse, func() app.UI {
			return &widgets.BigButton{Act: "rig-use-" + p.ID, Label: "Use this one", OnPress: post(state.PartUsed{ID: p.ID})}
		}),
		app.If(p.Kind == state.KindTip, func() app.UI { return chart(p) }),
	)
}

func (r *partRow) onOpen(ctx app.Context, _ app.Event) {
	action.Post(ctx, state.PartOpened{ID: r.Part.ID})
}

// tags are words, each with a shape.
func (r *partRow) tags() app.UI {
	p := r.Part
	tag := func(on bool, m widgets.Mark, word string) app.UI {
		return app.If(on, func() app.UI {
			return app.Span().Class("rig-tag", "level-"+string(m)).Body(widgets.MarkShape(m), app.Span().Text(words.Text(word)))
		})
	}
	return app.Span().Class("rig-tags").Body(
		tag(p.InUse, widgets.MarkDone, "In use"),
		tag(p.CanUse, widgets.MarkNote, "Spare"),
		tag(p.Retired, widgets.MarkNote, "Retired"),
		tag(p.Sample, widgets.MarkCheck, "SAMPLE"),
		tag(p.Split, widgets.MarkCaution, "Two versions: choose one"),
	)
}

// line is the gas with the colour of its hose; the colour never stands alone.
func (r *partRow) line() app.UI {
	return app.If(r.Part.Line != "", func() app.UI {
		return app.Span().Class("rig-line", r.Hose.Class).Body(
			app.Span().Class("hose-dot").Aria("hidden", "true"),
			app.Span().Class("rig-gas").Text(words.S("%s, %s", r.Part.Gas, r.Hose.Words)))
	})
}

// chart is the maker's chart of a tip. A tap on a row opens it.
func chart(p state.PartView) app.UI {
	return app.Div().Class("chart").Body(
		app.Range(p.Rows).Slice(func(i int) app.UI { return &chartRow{Row: p.Rows[i]} }),
		&widgets.SmallButton{Act: "rig-add-chart_row-" + p.ID, Label: "Add a row of the maker's chart", OnPress: post(state.PartAdded{Kind: state.KindChartRow, TipID: p.ID})},
	)
}

// chartRow is one row of a maker's chart.
type chartRow struct {
	app.Compo

	Row state.RowView
}

// CompoID is the row's.
func (r *chartRow) CompoID() string { return "row-" + r.Row.ID }

// Render shows the row's ranges, each under its name.
func (r *chartRow) Render() app.UI {
	row := r.Row
	cell := func(name, text string) app.UI {
		return app.If(text != "", func() app.UI {
			return app.Span().Class("chart-cell").Body(app.Span().Class("chart-name").Text(words.Text(name)), app.Span().Class("chart-value").Text(words.Text(text)))
		})
	}
	return app.Button().Type("button").Class("chart-row").DataSet("act", "rig-part-"+row.ID).OnClick(r.onOpen).Body(
		cell("Work", row.Work), cell("Thickness", row.Thickness), cell("Oxygen", row.Oxygen), cell("Fuel", row.Fuel),
		cell("Oxygen flow", row.OxygenFlow), cell("Fuel flow", row.FuelFlow), cell("Pressures", row.Condition))
}

func (r *chartRow) onOpen(ctx app.Context, _ app.Event) {
	action.Post(ctx, state.PartOpened{ID: r.Row.ID})
}

func itoa(n int) string { return strconv.Itoa(n) }
