package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/present"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Wall is the card for the wall: this rig on one page of A4 or Letter.
type Wall struct {
	app.Compo

	Wall   state.Wall
	QR     []string // the code of the app's address; none when it is too long
	Origin string
}

var _ app.Mounter = (*Wall)(nil)

// OnMount makes the card anew: the rig may have changed.
func (w *Wall) OnMount(ctx app.Context) { action.Post(ctx, state.WallShown{}) }

// Render shows the card as it will be printed, and above it the way to print it.
func (w *Wall) Render() app.UI {
	c := w.Wall
	return widgets.Page("What hangs on the wall?",
		app.Div().Class("wall-ask", "stack").Body(
			app.P().Text(words.Text("One page of A4 or Letter. Print it, sign the date, and print it anew when the rig changes. The maker's chart and your supplier come first.")),
			app.If(c.Problem != "", func() app.UI { return stopLine(c.Problem, "wall-problem") }),
			&widgets.BigButton{Act: "wall-print", Label: "Print it", Kind: widgets.Main, Disabled: c.Problem != "" || len(c.Orders) == 0, OnPress: printPage}),
		app.Article().Class("wall").DataSet("val", "wall").Body(
			app.Div().Class("wall-head").Body(
				app.Div().Body(app.H2().Class("wall-title").Text(words.Text("Oxy-fuel rig")), app.P().Dir("auto").Text(words.Text(c.Rig)), app.P().Text(words.S("As of %s. Torch maker's literature, supplier and local codes come first.", c.Date))),
				w.code()),
			w.getOut(),
			app.Section().Class("wall-limits").Body(app.H3().Text(words.Text("Never")), app.Ul().Body(app.Range(c.Limits).Slice(func(i int) app.UI {
				return app.Li().Body(app.Span().Text(words.Text(c.Limits[i].Text)), app.Span().Class("wall-source").Text(words.S(" %s", c.Limits[i].Source)))
			}))),
			w.table(),
			app.Div().Class("wall-orders").Body(app.Range(c.Orders).Slice(func(i int) app.UI { return wallOrder(c.Orders[i]) }))))
}

func printPage(app.Context) { app.Window().Call("print") }

func (w *Wall) code() app.UI {
	return app.If(len(w.QR) > 0, func() app.UI {
		return app.Div().Class("wall-code").Body(widgets.QR(present.QR(w.QR, words.S("Opens the app at %s", w.Origin))), app.P().Class("wall-source").Text(words.Text(w.Origin)))
	})
}

// getOut stands before everything else.
func (w *Wall) getOut() app.UI {
	g := w.Wall.GetOut
	return app.If(g.Title != "", func() app.UI {
		return app.Section().Class("wall-out").Body(
			app.H3().Text(words.Text(g.Title)),
			app.Ul().Body(app.Range(g.Signs).Slice(func(i int) app.UI { return app.Li().Text(words.Text(g.Signs[i])) })),
			app.Ol().Body(app.Range(g.Steps).Slice(func(i int) app.UI { return app.Li().Text(words.Text(g.Steps[i])) })),
			app.P().Body(app.Strong().Text(words.Text(g.Never))))
	})
}

// table is what to set for each work; the limits stand above it.
func (w *Wall) table() app.UI {
	c := w.Wall
	if c.Missing != "" {
		return app.P().DataSet("val", "wall-missing").Text(words.S("No settings: %s", c.Missing))
	}
	head := []string{"Work", "Thickness", "Tip", "Oxygen", "Fuel", "Shade", "From"}
	return app.Table().Class("wall-table").DataSet("val", "wall-table").Body(
		app.Caption().Text(words.Text("At the regulators, with the torch valves open; cutting oxygen with the lever pressed")),
		app.THead().Body(app.Tr().Body(app.Range(head).Slice(func(i int) app.UI { return app.Th().Scope("col").Text(words.Text(head[i])) }))),
		app.TBody().Body(app.Range(c.Rows).Slice(func(i int) app.UI {
			r := c.Rows[i]
			cells := []string{r.Thickness, r.Tip, r.Oxygen, r.Fuel, r.Shade, r.From}
			return app.Tr().Body(app.Th().Scope("row").Text(words.Text(r.Work)), app.Range(cells).Slice(func(j int) app.UI { return app.Td().Dir("auto").Text(words.Text(cells[j])) }))
		})))
}

// wallOrder is one order of work, each step in short.
func wallOrder(o state.WallOrder) app.UI {
	class := "wall-order"
	if o.Emergency {
		class = "wall-order wall-emergency"
	}
	return app.Section().Class(class).Body(app.H3().Text(words.Text(o.Title)),
		app.Ol().Body(app.Range(o.Steps).Slice(func(i int) app.UI { return app.Li().Text(words.Text(o.Steps[i])) })))
}
