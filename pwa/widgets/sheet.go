package widgets

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/calc/words"
)

// Sheet is a panel over the page. It takes the focus, holds it, gives it back, and closes by its button or Escape.
type Sheet struct {
	app.Compo

	ID      string
	Title   string
	Body    func() []app.UI // builds the content anew for each Render: a mounted element cannot be used again
	OnClose func(app.Context)

	before app.Value // what had the focus
}

var (
	_ app.Mounter    = (*Sheet)(nil)
	_ app.Dismounter = (*Sheet)(nil)
)

// CompoID makes another sheet a new one, so that it takes the focus again.
func (s *Sheet) CompoID() string { return "sheet-" + s.ID }

// OnMount shows the panel modally, from its heading on: the browser then keeps the focus inside and the page behind out of reach.
func (s *Sheet) OnMount(ctx app.Context) {
	s.before = app.Window().Get("document").Get("activeElement")
	d := app.Window().GetElementByID(s.ID)
	if !d.Truthy() {
		return
	}
	d.Call("showModal")
	// Left alone, a browser gives the focus to the first button, which is the last thing here, and scrolls to it.
	if h := app.Window().GetElementByID(s.titleID()); h.Truthy() {
		h.Call("focus", map[string]any{"preventScroll": true})
	}
	d.Set("scrollTop", 0)
}

func (s *Sheet) titleID() string { return s.ID + "-title" }

// OnDismount gives the focus back to the control that opened the panel.
func (s *Sheet) OnDismount() {
	if s.before != nil && s.before.Truthy() {
		s.before.Call("focus")
	}
}

// Render shows title, body and close button.
func (s *Sheet) Render() app.UI {
	return app.Dialog().ID(s.ID).Class("sheet").Aria("labelledby", s.titleID()).
		On("cancel", s.onCancel).Body(
		app.Div().Class("sheet-in").Body(
			emergencyLink(s.ID+"-emergency").Class("sheet-emergency"),
			app.H2().Class("sheet-title").ID(s.titleID()).TabIndex(-1).Text(words.Text(s.Title)),
			app.Div().Class("sheet-body").Body(s.content()...),
			&BigButton{Act: s.ID + "-close", Label: "Close", Kind: Main, OnPress: s.onPress},
		),
	)
}

func (s *Sheet) content() []app.UI {
	if s.Body == nil {
		return nil
	}
	return s.Body()
}

// onCancel hears Escape. The panel goes when the state says so, not before.
func (s *Sheet) onCancel(ctx app.Context, e app.Event) {
	e.PreventDefault()
	s.onPress(ctx)
}

func (s *Sheet) onPress(ctx app.Context) {
	if s.OnClose != nil {
		s.OnClose(ctx)
	}
}
