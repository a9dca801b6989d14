//go:build js

// Command floor is the smallest go-app program that answers a tap: one line, a button that counts. Its size and speed are what
// no app built on go-app can be below; measurements are given as ratios against it. pwa/journeys/start_test.go serves it.
package main

import "github.com/maxence-charriere/go-app/v10/pkg/app"

type page struct {
	app.Compo

	taps int
}

// Render shows one line.
func (p *page) Render() app.UI { return app.Button().ID("floor").Text(p.taps).OnClick(p.tap) }

func (p *page) tap(app.Context, app.Event) { p.taps++ }

func main() {
	app.Route("/", func() app.Composer { return &page{} })
	app.RunWhenOnBrowser()
}
