//go:build js

// Command panics is a go-app program that ends when its button is pressed. A test looks at what
// is then left on the page.
package main

import "github.com/maxence-charriere/go-app/v10/pkg/app"

type page struct{ app.Compo }

// Render shows the one button.
func (*page) Render() app.UI {
	return app.Main().Body(app.Button().ID("boom").OnClick(func(app.Context, app.Event) {
		panic("asked for")
	}))
}

func main() {
	app.Route("/", func() app.Composer { return &page{} })
	app.RunWhenOnBrowser()
}
