//go:build js

// Command wasm is the program that runs in the browser; the server sends it as /web/app.wasm.
// It only wires the app to the browser. Everything else is in package pwa.
package main

import (
	"context"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"torchside/pwa"
	"torchside/pwa/effects"
	"torchside/storage"
	"torchside/storage/archive"
	"torchside/storage/idb"
)

// database is the name of the app's database in the browser.
const database = "torchside"

func main() {
	tellThreads()
	pwa.RegisterWith(&effects.Ports{
		Open:    func(ctx context.Context) (storage.Store, error) { return idb.Open(ctx, database, index) },
		Author:  func(s storage.Store) *storage.Author { return storage.NewAuthor(s, time.Now, random{}) },
		Files:   files{},
		Static:  effects.FetchStatic,
		Limit:   archive.MaxFile,
		Browser: &effects.WebBrowser{},
		Vault:   &vault{},
		Queried: queried,
		Version: pwa.Version,
	})
	app.RunWhenOnBrowser()
}
