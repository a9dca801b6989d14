//go:build js

// Command wasm is the program that runs in the browser; the server sends it as /web/app.wasm.
// It only wires the app to the browser. Everything else is in package pwa.
package main

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa"
)

func main() {
	pwa.Register()
	app.RunWhenOnBrowser()
}
