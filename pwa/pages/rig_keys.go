package pages

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/action"
	"torchside/pwa/state"
)

// formID is the element id of the open form.
const formID = "rig-form"

// formInputs are the fields of the open form in the order of the page; of a choice made by buttons the chosen one.
const formInputs = "#" + formID + " .form input:not([type=radio]), #" + formID + " .form select, #" + formID + " .form input[type=radio]:checked"

// onKey puts the form away with Escape, and goes on to the next field with Enter.
func (f *rigForm) onKey(ctx app.Context, e app.Event) {
	ctx.PreventUpdate() // a key alone changes nothing that is drawn
	switch key := e.Get("key").String(); {
	case e.Get("isComposing").Truthy(): // the key chooses a letter
	case key == "Escape":
		e.PreventDefault()
		action.Post(ctx, state.FormCancelled{})
	case key == "Enter":
		f.onEnter(ctx, e)
	}
}

// onEnter goes to the next field; from the last one it saves. On a button Enter presses it.
func (f *rigForm) onEnter(ctx app.Context, e app.Event) {
	list := app.Window().Get("document").Call("querySelectorAll", formInputs)
	n := list.Length()
	for i := range n {
		if !list.Index(i).Equal(e.Get("target")) {
			continue
		}
		e.PreventDefault()
		if i+1 == n {
			action.Post(ctx, state.FormSaved{})
			return
		}
		list.Index(i + 1).Call("focus")
	}
}
