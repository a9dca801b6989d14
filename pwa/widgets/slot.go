package widgets

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// slot keeps the place of a part that is not always there. Children are compared by position: without it a part that
// comes or goes makes the browser build everything behind it anew, which on a slow phone is most of what a key press costs.
// For the layout it does not exist (torchside.css).
func slot(there bool, part func() app.UI) app.UI {
	s := app.Div().Class("slot")
	if !there {
		return s
	}
	return s.Body(part())
}
