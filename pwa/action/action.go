// Package action carries messages from the pages to the root component. It holds the only name such messages have, so that
// sender and receiver cannot disagree: pages call [Post], the root component calls [Handle] once, and both see typed values.
package action

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/state"
)

// name is the one action of the app.
const name = "torchside/message"

// Post sends a message to the root component.
func Post(ctx app.Context, m state.Msg) { ctx.NewActionWithValue(name, m) }

// Handle has h called with every message, on the goroutine of the interface and in order. Call it once, from the component
// that outlives all pages.
func Handle(ctx app.Context, h func(app.Context, state.Msg)) {
	ctx.Handle(name, func(ctx app.Context, a app.Action) {
		if m, ok := a.Value.(state.Msg); ok {
			h(ctx, m)
		}
	})
}
