// Package pwatest helps to test components without a browser: it borrows a context from go-app, calls a handler with it, and
// looks at the HTML a component renders.
//
// go-app hands contexts out only to components it has loaded; [Do] loads a probe that catches one. [Messages] records what a
// handler posts. [HTML], [Wants] and [Lacks] look at rendered text; attributes come in random order there, so look for one
// at a time.
package pwatest

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa/action"
	"torchside/pwa/state"
)

// probe catches the context it is loaded with.
type probe struct {
	app.Compo

	use func(app.Context)
}

// OnPreRender is what go-app calls outside a browser.
func (p *probe) OnPreRender(ctx app.Context) { p.use(ctx) }

// Render shows nothing: a component has to show something.
func (p *probe) Render() app.UI { return app.Div() }

// Do calls f with a context and lets everything it has set off happen.
func Do(t testing.TB, f func(app.Context)) {
	t.Helper()
	engine := app.NewTestEngine()
	called := false
	if err := engine.Load(&probe{use: func(ctx app.Context) { called = true; f(ctx) }}); err != nil {
		t.Fatal(err)
	}
	engine.ConsumeAll()
	if !called {
		t.Fatal("go-app gave no context")
	}
}

// Messages returns what f posts, in order.
func Messages(t testing.TB, f func(app.Context)) []state.Msg {
	t.Helper()
	var got []state.Msg
	Do(t, func(ctx app.Context) {
		action.Handle(ctx, func(_ app.Context, m state.Msg) { got = append(got, m) })
		f(ctx)
	})
	return got
}

// HTML renders a component, or any element, with everything inside it.
func HTML(t testing.TB, ui app.UI) string {
	t.Helper()
	holder := &holder{content: ui}
	engine := app.NewTestEngine()
	if err := engine.Load(holder); err != nil {
		t.Fatal(err)
	}
	engine.ConsumeAll()
	return app.HTMLString(holder)
}

type holder struct {
	app.Compo

	content app.UI
}

// Render shows the content.
func (h *holder) Render() app.UI { return app.Div().Body(h.content) }

// Wants checks that the text holds each of the parts.
func Wants(t testing.TB, text string, parts ...string) {
	t.Helper()
	for _, p := range parts {
		if !strings.Contains(text, p) {
			t.Errorf("%q is missing in:\n%s", p, text)
		}
	}
}

// Lacks checks that the text holds none of the parts.
func Lacks(t testing.TB, text string, parts ...string) {
	t.Helper()
	for _, p := range parts {
		if strings.Contains(text, p) {
			t.Errorf("%q is not expected in:\n%s", p, text)
		}
	}
}
