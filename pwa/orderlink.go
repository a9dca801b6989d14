package pwa

import (
	"net/url"
	"strconv"

	"torchside/pwa/state"
)

// ordersPath is the page of the orders of work.
const ordersPath = "/orders"

// orderAsks are its queries: "/orders?order=light" opens an order, "&step=3" at a step, "&whole=1" all steps on one page.
var orderAsks = []string{"order", "step", "whole"}

// orderOpen puts what is open on the page into a query. The first step needs no number.
func orderOpen(q url.Values, o state.Orders) {
	if o.ID == "" {
		return
	}
	q.Set("order", o.ID)
	if o.Step > 1 {
		q.Set("step", strconv.Itoa(o.Step))
	}
	if o.Whole {
		q.Set("whole", "1")
	}
}

// orderLinked reads what an address asks of the page; nil when it asks for nothing. A step that is no number is the first.
func orderLinked(q url.Values) state.Msg {
	if !q.Has("order") {
		return nil
	}
	step, _ := strconv.Atoi(q.Get("step"))
	return state.OrderOpened{ID: q.Get("order"), Step: step, Whole: q.Get("whole") == "1"}
}
