//go:build js

// Command floor is the smallest go-app program. Its size and speed are what no app built on
// go-app can be below; measurements are given as ratios against it.
package main

import "github.com/maxence-charriere/go-app/v10/pkg/app"

type page struct{ app.Compo }

// Render shows one line.
func (*page) Render() app.UI { return app.Text("floor") }

func main() {
	app.Route("/", func() app.Composer { return &page{} })
	app.RunWhenOnBrowser()
}
