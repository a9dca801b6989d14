package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
	"torchside/pwa/action"
	"torchside/pwa/state"
	"torchside/pwa/widgets"
)

// Orders shows the orders of work: the list, or one of them a step at a time or as a whole.
type Orders struct {
	app.Compo

	Orders state.Orders
	Prefs  state.Prefs
}

var _ app.Mounter = (*Orders)(nil)

// OnMount asks for the text, which is no part of the program.
func (o *Orders) OnMount(ctx app.Context) { action.Post(ctx, state.OrdersAsked{}) }

// Render shows what is open.
func (o *Orders) Render() app.UI {
	s := o.Orders
	switch {
	case s.View != nil:
		return &orderPage{Orders: s, Prefs: o.Prefs}
	case !s.Ready:
		return widgets.Page("In what order?", o.waiting())
	}
	return widgets.Page("In what order?",
		o.problem(),
		caution(s.Book.First),
		o.list("When something goes wrong", "trouble"),
		o.list("Work", "work"),
	)
}

// waiting is shown until the text is here; the emergency page needs none of it.
func (o *Orders) waiting() app.UI {
	if o.Orders.Problem == "" {
		return app.P().Role("status").Text(words.Text("Reading …"))
	}
	return app.Div().Class("stack").Body(o.problem(),
		&widgets.BigButton{Act: "orders-again", Label: "Try again", OnPress: post(state.OrdersAsked{})})
}

func (o *Orders) problem() app.UI {
	return app.If(o.Orders.Problem != "", func() app.UI { return stopLine(o.Orders.Problem, "orders-problem") })
}

// list is one group of orders.
func (o *Orders) list(title, group string) app.UI {
	rows := []app.UI{}
	for _, one := range o.Orders.Book.Orders {
		if one.Group == group {
			rows = append(rows, &widgets.BigButton{Act: "order-open-" + one.ID, Label: one.Title, OnPress: post(state.OrderOpened{ID: one.ID})})
		}
	}
	return app.Section().Class("stack").Body(app.H2().Class("part-title").Text(words.Text(title)), app.Div().Class("actions").Body(rows...))
}
